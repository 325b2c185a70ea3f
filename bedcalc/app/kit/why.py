"""Why, and from where: a button beside a verdict or a headline, and what it opens.

What it opens is made only while it is open, so a move of a slider costs nothing for it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Any

import ipywidgets

from ...model.outcome import Check
from ...questions.basis import Basis, basis_of, because, parts_of
from ...tables import table
from .style import button, html
from .words import phrase, plain, why_html

__all__ = ["HeadlineStrip", "Why", "parts_on", "view_bases", "why_checks"]


def parts_on(desk: Any) -> dict[str, Any]:
    """Where the numbers are read that stand behind what a desk shows."""
    outcome = getattr(desk, "outcome", None)
    if hasattr(outcome, "walls"):
        return parts_of(outcome)
    plan = getattr(desk, "plan", None)
    return {} if plan is None else {"plan": plan, "rain": desk.storm}


def view_bases(name: str, desk: Any) -> Callable[[], list[Basis]] | None:
    """What stands behind a view; None where data/basis.csv has no row for it."""
    key = f"view.{name}"
    if key not in table("basis"):
        return None
    return lambda: [basis_of(key, parts_on(desk), desk.system)]


def why_checks(
    desk: Any, checks: Callable[[], Iterable[Check]], **more: Callable[[], Any]
) -> Callable[[], list[Basis]]:
    """What stands behind the verdicts of a view, each asked for when it is opened.

    Parameters
    ----------
    desk : Desk
    checks : function
        Returns the checks as they now are.
    **more
        Further parts, each a function.
    """

    def make() -> list[Basis]:
        parts = parts_on(desk) | {name: part() for name, part in more.items()}
        return [because(check, parts, desk.system) for check in checks()]

    return make


class Why:
    """A button and the page that it opens and closes, with keyboard or mouse.

    Parameters
    ----------
    of : str
        What it explains, for people who hear the page: ``"the bill"``.
    text : str
        What stands on the button: ``"why"`` or ``"why_tip"``, the longer one.

    Attributes
    ----------
    button, page : Widget
        Put them where they belong.
    """

    def __init__(self, of: str = "", text: str = "why"):
        self._text = text
        self.button = button(phrase(text), self.turn)
        self.button.tooltip = phrase("why_of", of=of) if of else phrase("why_tip")
        self.button.add_class("bc-why")
        self.page = html("").add_class("bc-why-page").add_class("bc-hide")
        self.open = False
        self._make: Callable[[], Sequence[Basis]] | None = None

    def turn(self) -> None:
        """Open it, or close it again."""
        self.open = not self.open
        self.button.description = phrase("why_close" if self.open else self._text)
        (self.page.remove_class if self.open else self.page.add_class)("bc-hide")
        self.write()

    def show(self, make: Callable[[], Sequence[Basis]]) -> None:
        """Explain this from now on; ``make()`` is called only while it is open."""
        self._make = make
        self.write()

    def write(self) -> None:
        """Make the page anew, if it is open."""
        if not self.open or self._make is None:
            return
        found = [why_html(basis) for basis in self._make()]
        words = "".join(found) or f"<p>{plain(phrase('why_none'))}</p>"
        if self.page.value != words:
            self.page.value = words


class HeadlineStrip:
    """Headline numbers in a row, each with what stands behind it.

    Parameters
    ----------
    names : sequence of str
        What each number is, for people who hear the page.
    """

    def __init__(self, names: Sequence[str]):
        self.cells = [ipywidgets.HTML() for _ in names]
        self.whys = [Why(name) for name in names]
        heads = [
            ipywidgets.Box([cell, why.button]).add_class("bc-head-box")
            for cell, why in zip(self.cells, self.whys, strict=True)
        ]
        row = ipywidgets.Box(heads).add_class("bc-strip")
        self.widget = ipywidgets.VBox([row, *(why.page for why in self.whys)])

    def show(self, heads: Sequence[str], bases: Sequence[Callable[[], Basis]]) -> None:
        """Bring numbers and explanations up to date."""
        for cell, why, text, make in zip(
            self.cells, self.whys, heads, bases, strict=True
        ):
            if cell.value != text:
                cell.value = text
            why.show(lambda make=make: [make()])
