"""One saved garden through the workbooks, as its reader would: open, answer, switch."""

from __future__ import annotations

import ast
import contextlib
import io
import json
import os
import traceback
import warnings
from pathlib import Path
from types import SimpleNamespace

import numpy as np

import bedcalc as bc
from bedcalc.app.kit.question import system_of
from bedcalc.garden.words import write_garden
from tests.gardens.reading import broken, every, foreign, own_views, text_of

__all__ = ["BOOKS", "walk"]

WORKBOOKS = Path(__file__).parents[2] / "workbooks"
BOOKS = sorted(path.stem for path in WORKBOOKS.glob("0*.ipynb"))


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
    from bedcalc.app import bench
    from bedcalc.app.kit import predict as guessing
    from bedcalc.app.kit import question as asking
    from bedcalc.app.kit import view

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


def _answers(item):
    """The solution as a reader would type it, and as it is shown; or its option."""
    right = item.item.key.answer(item.outcome)
    unit = item.item.question.unit
    if isinstance(right, str):
        yield right
        return
    number = right.m_as(unit or "") if isinstance(right, bc.Q_) else np.asarray(right)
    yield f"{float(number):.9g} {unit}".strip()
    yield item.item.answer_words(item.outcome, system_of(item._given))


def _run(source: str, names: dict) -> list:
    """Run a cell; what its last line shows."""
    body = ast.parse(source).body
    last = body.pop() if body and isinstance(body[-1], ast.Expr) else None
    exec(compile(ast.Module(body, []), "cell", "exec"), names)
    if last is None:
        return []
    made = eval(compile(ast.Expression(last.value), "cell", "eval"), names)
    return [] if made is None else [getattr(made, "widget", made)]


def _read(garden, found: SimpleNamespace):
    """What is written on the page that should not be."""
    for one in found.shown:
        yield from (f"it says {said!r}" for said in broken(text_of(one), garden))
    for view in own_views(found.shown):
        yield from (f"it says {said!r}" for said in foreign(text_of(view), garden))


def _pressed(file: Path, found: SimpleNamespace):
    """Press every button once, but those that turn to another bed."""
    import ipywidgets

    for button in [w for one in found.shown for w in every(one)]:
        if not isinstance(button, ipywidgets.Button) or button.disabled:
            continue
        if button.description.startswith(("Look at", "Back to")):
            continue
        try:
            with contextlib.redirect_stdout(io.StringIO()):
                button.click()
        except Exception as problem:
            yield f"button {button.description}: {_said(problem)}"
    yield from _read(bc.load(file), found)


def walk(
    name: str, text: str, folder: str, books: tuple[str, ...], press: tuple[str, ...]
) -> list[str]:
    """What goes wrong with one garden in these workbooks, in words; empty if nothing.

    Parameters
    ----------
    name : str
        Of the garden, for the words.
    text : str
        Its file.
    folder : str
        An empty folder to work in.
    books : tuple of str
        The workbooks to go through.
    press : tuple of str
        Workbooks in which every button is pressed once.
    """
    warnings.simplefilter("error")
    wrong: list[str] = []
    for book in books:
        here = Path(folder) / book
        here.mkdir(parents=True)
        file = here / "my_garden.toml"
        file.write_text(text, encoding="utf-8")
        os.chdir(here)
        found = SimpleNamespace(views=[], guesses=[], items=[], shown=[])
        _register(found)
        wrong += [f"{name}, {book}, {said}" for said in _one(book, file, found)]
        if book in press:
            wrong += [f"{name}, {book}, {said}" for said in _pressed(file, found)]
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
                    found.shown += _run("".join(cell["source"]), names)
            except Exception as problem:
                yield f"cell {number}: {_said(problem)}"
    for guess in found.guesses:
        try:
            guess.make_skip()
        except Exception as problem:
            yield f"guess: {_said(problem)}"
    for item in found.items:
        asked = item.item.question.name
        try:
            for answer in _answers(item):
                verdict = item.item.judge(item.outcome, answer)
                if verdict.state != "right":
                    yield f"question {asked}: {answer!r} is {verdict.state}"
            while not item.help.disabled:
                item.ask_help()
        except Exception as problem:
            yield f"question {asked}: {_said(problem)}"
    yield from _read(before, found)
    yield from _switched(file, before, found)


def _switched(file: Path, before, found: SimpleNamespace):
    """Look at every other bed, in other units and back: nothing of it may change."""
    from bedcalc.app.session import open_session

    session = open_session()
    try:
        for bed in before:
            session.choose(bed.name)
        session.show_in("metric" if before.system == "us" else "us")
        for view in found.views:
            view.redraw()
        for one in found.shown:
            for said in broken(text_of(one), before):
                yield f"in other units it says {said!r}"
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
