"""Lists as text: all readings, and what stands on the plot, one line each."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

import ipywidgets

from ...place import PlaceError
from ...site_plan import KINDS, Thing, Yard
from ..inputs import Says
from ..style import button, button_row, html, paper
from ..words import plain
from .desk import SiteDesk

__all__ = ["readings_text", "yard_text"]


class _LineError(ValueError):
    """A line cannot be read: the message says which and what would do."""


def _block(
    desk: SiteDesk, head: str, more: str, press: str,
    lines: Callable[[], list[str]], take: Callable[[list[tuple[int, str]]], str],
) -> ipywidgets.VBox:  # fmt: skip
    """A text field that follows the desk, and a button that reads it."""
    box = ipywidgets.Textarea(layout={"width": "100%", "height": "190px"})
    box.add_class("bc-readings")
    said = Says()

    def write(_=None) -> None:
        box.value = "\n".join(lines())

    def read() -> None:
        given = [
            (number, line.strip())
            for number, line in enumerate(box.value.splitlines(), start=1)
            if line.strip()
        ]
        try:
            words = take(given)
        except (_LineError, PlaceError) as error:
            said.html, said.tone = f"<p>{plain(error)}</p>", "refused"
            return
        said.html, said.tone = f"<p>{plain(words)}</p>", "kept"

    desk.observe(write)
    words = html(
        f'<details class="bc-more"><summary>{plain(head)}</summary><p>{plain(more)}</p>'
        "</details>"
    )
    return paper(words, box, button_row(button(press, read)), said)


def _numbers(line: str, count: int) -> list[float]:
    words = line.replace(";", " ").split()
    if len(words) < count:
        raise ValueError
    found = [float(word) for word in words[:count]]
    if not all(map(isfinite, found)):  # "nan" and "inf" are numbers to Python
        raise ValueError
    return found


def readings_text(desk: SiteDesk) -> ipywidgets.VBox:
    """All readings as lines of text, to be typed or pasted."""

    def lines() -> list[str]:
        return [f"{x:g} {y:g} {d:.3f}" for x, y, d in desk.place.survey.points]

    def take(given) -> str:
        rows = []
        for number, line in given:
            try:
                if len(line.replace(";", " ").split()) != 3:
                    raise ValueError
                rows.append(_numbers(line, 3))
            except ValueError:
                raise _LineError(
                    f"Line {number}: needs three numbers in metres (x, y, down); you "
                    f"wrote “{line}”; for example 4.8 0 0.281."
                ) from None
        desk.read(rows)
        return f"{len(rows)} readings taken."

    return _block(
        desk, "All readings as text: one line each, x, y and down, in metres",
        "Type or paste your own here, then press the button. Three corners are enough "
        "for a slope, four check it, more find a mistake.",
        "Take these readings", lines, take,
    )  # fmt: skip


def yard_text(desk: SiteDesk) -> ipywidgets.VBox:
    """The plot and what stands on it as lines of text."""

    def lines() -> list[str]:
        yard = desk.yard
        found = [f"plot {yard.length:g} {yard.width:g} {yard.downhill:g}"]
        return found + [
            f"{t.kind} {t.x:g} {t.y:g} {t.length:g} {t.width:g} {t.height:g} {t.name}"
            for t in yard.things
        ]

    def take(given) -> str:
        plot, things = None, []
        for number, line in given:
            kind, _, rest = line.partition(" ")
            try:
                if kind == "plot":
                    plot = _numbers(rest, 3)
                    continue
                x, y, length, width, height = _numbers(rest, 5)
                if min(length, width, height) < 0:
                    raise ValueError
            except ValueError:
                wanted = (
                    "length, width and the bearing of downhill; for example plot 14.4 "
                    "9.6 180"
                    if kind == "plot"
                    else "x, y, length, width, height in metres, no size below 0, "
                    "and a name; for example tree 12 7 2.4 2.4 4.5 plum"
                )
                raise _LineError(f"Line {number}: “{line}” needs {wanted}.") from None
            if kind not in KINDS:
                raise _LineError(
                    f"Line {number}: begins with plot, {', '.join(KINDS)}; you wrote "
                    f"“{kind}”; for example tap 14.2 0.3 0 0 0 tap."
                )
            name = " ".join(rest.replace(";", " ").split()[5:]) or kind
            things.append(
                Thing(name=name, kind=kind, x=x, y=y, length=length, width=width,
                      height=height)
            )  # fmt: skip
        if plot is None:
            raise _LineError(
                "The plot: needs a line with its size and the bearing of downhill; for "
                "example plot 14.4 9.6 180."
            )
        desk.take(
            yard=Yard(length=plot[0], width=plot[1], downhill=plot[2] % 360,
                      things=tuple(things))
        )  # fmt: skip
        return f"The plot and {len(things)} things taken."

    return _block(
        desk, "The plot and what stands on it, one line each, in metres",
        "plot: length along the contour, width down the slope, and towards where it "
        "falls (180 is south, 270 west). Then kind, x, y, length, width, height, name. "
        f"Kinds: {', '.join(KINDS)}. Things outside the plot still throw shade.",
        "Take this plot", lines, take,
    )  # fmt: skip
