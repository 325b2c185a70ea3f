"""Workbooks 02 and 05: shape of the lessons, stored solutions, every control moved."""

from __future__ import annotations

import statistics
from pathlib import Path

import ipywidgets
import nbformat
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import cost, fill
from bedcalc.app.kit import view
from bedcalc.app.kit.stack import stack_view
from bedcalc.app.session import open_session

ROOT = Path(__file__).parents[2]
BOOKS = ("02_fill", "05_cost")
PANELS = {"02": fill, "05": cost}


@pytest.fixture
def book(request):
    return nbformat.read(ROOT / "workbooks" / f"{request.param}.ipynb", 4)


@pytest.fixture
def there(tmp_path, monkeypatch):
    """A folder without a garden of one's own, or with what a test puts there."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("book", BOOKS, indirect=True)
def test_code_is_short_and_folded(book):
    code = [c for c in book.cells if c.cell_type == "code"]
    lengths = [len(c.source.splitlines()) for c in code]

    assert book.metadata["bedcalc_run_on_open"] is True
    assert sum(lengths) <= 80
    assert max(lengths) <= 12
    assert statistics.median(lengths) <= 4


@pytest.mark.parametrize("book", BOOKS, indirect=True)
def test_panels_keep_no_output_and_numbers_do(book):
    for cell in book.cells:
        if cell.cell_type != "code":
            continue
        if "nbval-ignore-output" in cell.metadata.get("tags", []):
            assert not cell.outputs
            assert cell.metadata["jupyter"]["source_hidden"]
        else:
            assert cell.outputs and cell.execution_count


@pytest.mark.parametrize("book", BOOKS, indirect=True)
def test_the_order_of_a_lesson(book):
    text = "\n".join(c.source for c in book.cells)
    steps = (
        "title_card", "aims(", "recall(", "predict(", "formula(", "## Your own bed",
        "check_yourself(", "## What was left out", "caution_box(", "five_lines(",
        "glossary(", "sources(",
    )  # fmt: skip
    places = [text.index(step) for step in steps]

    assert places == sorted(places)


@pytest.mark.parametrize(
    ("book_number", "name"),
    [("02", n) for n in fill.KEYS] + [("05", n) for n in cost.KEYS],
)
@pytest.mark.parametrize("bed", ["A", "B", "C"])
def test_stored_solutions_are_right_and_mistakes_are_named(
    there, book_number, name, bed
):
    outcome = view.desk(bed).outcome
    item = PANELS[book_number].item(name)
    answer = item.key.answer(outcome)
    for text in (item.question.text, *item.question.hints, item.question.solution):
        assert "{" not in item.words(text, outcome)
    if item.question.options:
        for option in item.question.options:
            right = option.name == answer
            state = item.judge(outcome, option.name).state
            assert state == ("right" if right else "mistake")
        return
    unit = item.question.unit
    assert item.judge(outcome, "").state == "untried"
    assert item.judge(outcome, f"{answer.m:.5g} {unit}".strip()).state == "right"
    for mistake, wrong in item.key.mistakes.items():
        value = wrong(outcome)
        if abs(value.m - answer.m) > 0.03 * abs(answer.m):
            verdict = item.judge(outcome, f"{value.m:.5g} {unit}".strip())
            assert verdict.name == mistake


VIEWS = [fill.layers_view, stack_view, fill.logs_view, fill.work_view,
         fill.sinking_view, fill.ways_view, fill.buying_view, cost.bill_view,
         cost.doubt_view, cost.swings_view, cost.life_view, cost.builds_view,
         cost.share_view, cost.parts_view, cost.order_view]  # fmt: skip


def _ends(control):
    if hasattr(control, "slider"):
        low, high, _, unit = control._scales["metric"]
        return [Q_(float(v), unit) if unit else int(v) for v in (low, high)]
    return [value for value, _ in control.options]


@pytest.mark.parametrize("make", VIEWS, ids=lambda make: make.__name__)
def test_every_control_moves_to_both_ends(there, make):
    about = view.desk("B", fill=bc.strategy_layers("logs_chips_mix"))
    made = make(about)
    for control in made.controls:
        for value in _ends(control):
            made.put(**{control.name: value})
            assert "{" not in made.says.html
            assert "nan" not in made.says.html
            made.watch.width = 400 if made.watch.width != 400 else 1300
        made.reset()
    first = made.says.html
    made.reset()

    assert made.says.html == first


def test_other_views_follow_the_bed(there):
    about = view.desk("B", fill=bc.strategy_layers("logs_chips_mix"))
    layers, work = fill.layers_view(about), fill.work_view(about)
    before = work.says.html
    layers.put(height=Q_(40, "cm"))

    assert work.says.html != before


def test_a_stack_that_cannot_be_is_refused_and_the_picture_stays(there):
    about = view.desk("B")
    stack = stack_view(about)
    before = stack.says.html
    stack.put(depth_1=Q_(80, "cm"))

    assert "layers that fit" in stack.told.html
    assert stack.says.html == before
    assert stack.controls["depth_1"].value != Q_(80, "cm")


def test_ones_own_bed_comes_from_the_file(there):
    session = open_session()
    session.start("Our plot", copy=True)
    session.choose("B")
    about = view.desk("B")
    layers = fill.layers_view(about)
    layers.put(strategy="half_logs", height=Q_(60, "cm"))
    assert about.keep().startswith("Saved")
    again = bc.load("my_garden.toml")["B"]

    assert view.desk("B").own
    assert again.height == Q_(60, "cm")
    assert again.fill == about.bed.fill
    assert not view.desk("B", file="other.toml").own


def _buttons(widget):
    if isinstance(widget, ipywidgets.Button):
        yield widget
    for child in getattr(widget, "children", ()):
        yield from _buttons(child)


def test_the_order_is_written(there):
    made = cost.order_view(view.desk("B"))
    buttons = {b.description: b for b in _buttons(made.widget)}
    buttons["Write the order"].click()

    assert "Written" in made.told.html
    assert {p.name for p in there.iterdir()} == {"my_order.xlsx", "my_order.csv"}
