"""One saved garden through the workbooks, as its reader would: open, answer, switch."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import traceback
import warnings
from pathlib import Path
from types import SimpleNamespace

import numpy as np

import bedcalc as bc
from bedcalc.garden_words import write_garden

__all__ = ["BOOKS", "walk"]

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
BOOKS = sorted(path.stem for path in WORKBOOKS.glob("0*.ipynb"))
#: what no reader of a garden of their own may meet
_WRONG = re.compile(r"\bnan\b|\binf\b|¤|Traceback|StopIteration")


def _still(drawing, name):
    """A picture without its live figure: the drawing is made, Plotly is not asked."""
    import ipywidgets

    return SimpleNamespace(
        shown=drawing, figure=SimpleNamespace(_config={}, layout=SimpleNamespace()),
        widget=ipywidgets.VBox(), alt=ipywidgets.HTML(), numbers=ipywidgets.HTML(),
    )  # fmt: skip


class _Still:
    """Stands in for a picture of a panel: keeps the drawing, draws nothing."""

    def __init__(self, drawing, name):
        self.__dict__.update(vars(_still(drawing, name)))

    def size(self, width, height=None):
        """Nothing to widen."""

    def bring(self, drawing):
        """Keep the new drawing."""
        self.shown = drawing


def _register(found: SimpleNamespace) -> None:
    """Keep every view, guess and question that the cells make."""
    from bedcalc.panels import asking, bench, guessing, view

    view.Picture = bench.Picture = _Still
    for where, name, kept in (
        (view, "View", found.views),
        (guessing, "Predict", found.guesses),
        (asking, "CheckItem", found.items),
    ):
        made = getattr(where, name)
        first = getattr(made, "_first_init", made.__init__)
        made._first_init = first

        def init(self, *args, _first=first, _kept=kept, **more):
            _first(self, *args, **more)
            _kept.append(self)

        made.__init__ = init


def _said(problem: BaseException) -> str:
    last = [
        f
        for f in traceback.extract_tb(problem.__traceback__)
        if "bedcalc" in f.filename
    ]
    at = f" ({Path(last[-1].filename).name}:{last[-1].lineno})" if last else ""
    return f"{type(problem).__name__}: {str(problem)[:300]}{at}"


def _answer(item) -> str:
    """The solution of a question as a reader would type it, or its option."""
    right = item.item.key.answer(item.outcome)
    unit = item.item.question.unit
    if isinstance(right, str):
        return right
    if isinstance(right, bc.Q_):
        return f"{float(right.m_as(unit or '')):.9g} {unit}".strip()
    return f"{float(np.asarray(right)):.9g}"


def _words(block) -> str:
    """Everything a widget and what lies in it says."""
    own = " ".join(
        str(getattr(block, name, "")) for name in ("value", "html", "description")
        if isinstance(getattr(block, name, ""), str)
    )  # fmt: skip
    return own + "".join(_words(child) for child in getattr(block, "children", ()))


def walk(name: str, text: str, folder: str) -> list[str]:
    """What goes wrong with one garden in all workbooks, in words; empty if nothing.

    Parameters
    ----------
    name : str
        Of the garden, for the words.
    text : str
        Its file.
    folder : str
        An empty folder to work in.
    """
    warnings.simplefilter("error")
    wrong: list[str] = []
    for book in BOOKS:
        here = Path(folder) / book
        here.mkdir(parents=True)
        file = here / "my_garden.toml"
        file.write_text(text, encoding="utf-8")
        os.chdir(here)
        found = SimpleNamespace(views=[], guesses=[], items=[])
        _register(found)
        wrong += [f"{name}, {book}, {said}" for said in _one(book, file, found)]
    return wrong


def _one(book: str, file: Path, found: SimpleNamespace):
    """What goes wrong in one workbook."""
    before = bc.load(bc.save(bc.load(file), file.with_name("as_found.toml")))
    cells = json.loads((WORKBOOKS / f"{book}.ipynb").read_text(encoding="utf-8"))
    names: dict = {}
    for number, cell in enumerate(cells["cells"]):
        if cell["cell_type"] == "code":
            try:
                with contextlib.redirect_stdout(io.StringIO()):
                    exec("".join(cell["source"]), names)
            except Exception as problem:
                yield f"cell {number}: {_said(problem)}"
    for guess in found.guesses:
        try:
            guess.make_skip()
            if _WRONG.search(guess.said):
                yield f"guess says {guess.said[:200]!r}"
        except Exception as problem:
            yield f"guess: {_said(problem)}"
    for item in found.items:
        asked = item.item.question.name
        try:
            state = item.item.judge(item.outcome, _answer(item)).state
            if state != "right":
                yield f"question {asked}: its own solution is {state}"
            if _WRONG.search(_words(item)):
                yield f"question {asked} says {_words(item)[:200]!r}"
        except Exception as problem:
            yield f"question {asked}: {_said(problem)}"
    for view in found.views:
        where = next((c for c in view.widget._dom_classes if "view" in c), "view")
        said = re.sub(r"<[^>]*>", " ", view.says.html)
        if _WRONG.search(said):
            yield f"{where} says {said[:200]!r}"
    yield from _switched(file, before, found)


def _switched(file: Path, before, found: SimpleNamespace):
    """Look at every other bed, in other units and back: nothing of it may change."""
    from bedcalc.session import open_session

    session = open_session()
    try:
        for bed in before:
            session.choose(bed.name)
        session.show_in("metric" if before.system == "us" else "us")
        for view in found.views:
            view.redraw()
        session.show_in(before.system)
        session.flush()
    except Exception as problem:
        yield f"another bed, other units: {_said(problem)}"
        return
    now = bc.load(file).change(current=before.current)
    old, new = write_garden(before), write_garden(now)
    if old != new:
        parts = [k for k in {*old, *new} if old.get(k) != new.get(k)]
        yield f"was changed by looking at it: {', '.join(sorted(parts))}"
