"""The bench without a browser: controls move the bed, numbers and verdicts follow."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.panels import bench as module
from bedcalc.panels.bench import Bench
from bedcalc.shopping import priced
from bedcalc.tables import table


@pytest.fixture
def board(tmp_path):
    return Bench(file=tmp_path / "my_garden.toml")


def button_text(row) -> str:
    hidden = "bc-hide" in row.button._dom_classes
    return "" if hidden else row.button.description


def words(board) -> str:
    return board.says.html.replace("\N{NO-BREAK SPACE}", " ")


def test_it_begins_with_bed_b_as_evaluate_sees_it(board):
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"], garden.place)

    assert board.outcome.bed == garden["B"]
    assert board.outcome.cost.si.total == outcome.cost.si.total
    assert "20–50" in board.strip[2].value


def test_one_evaluation_a_move(board, monkeypatch):
    calls = []
    real = module.evaluate
    monkeypatch.setattr(
        module, "evaluate", lambda *args: calls.append(1) or real(*args)
    )
    board.controls["length"].value = Q_(3.0, "m")
    assert len(calls) == 1
    board.controls["view"].value = "end"
    board.controls["system"].value = "us"
    assert len(calls) == 1  # another look at the same numbers
    board.controls["begin"].value = "A"
    assert len(calls) == 2  # a preset is one move, not ten


def test_only_the_close_up_on_show_is_drawn(board, monkeypatch):
    drawn = []
    for name, real in list(module._CLOSE.items()):
        monkeypatch.setitem(
            module._CLOSE,
            name,
            lambda *a, _n=name, _r=real, **k: drawn.append(_n) or _r(*a, **k),
        )
    board.controls["length"].value = Q_(3.0, "m")
    assert drawn == ["wall"]
    board.close.value = "bill"
    board.controls["length"].value = Q_(3.1, "m")
    assert drawn == ["wall", "bill", "bill"]


def test_figures_are_changed_in_place(board):
    figure, count = board.scene.figure, len(board.scene.figure.data)
    before = [t.to_plotly_json() for t in figure.data]
    board.controls["height"].value = Q_(50, "cm")

    assert board.scene.figure is figure
    assert len(figure.data) == count
    assert str([t.to_plotly_json() for t in figure.data]) != str(before)


def test_pressing_the_mend_mends_and_shows_the_wall_before(board):
    row = next(r for r in board.rows if "Add one tie" in button_text(r))
    bill = board.outcome.cost.si.total
    assert "11 ¤" in row.button.description

    row._press()
    assert board.outcome.bed.ties == 1
    assert board.outcome.cost.si.total - bill == pytest.approx(10.80)
    assert board.before is not None
    assert "before" in str(board.closes["wall"].shown.annotations)


def test_an_impossible_bed_is_said_and_the_last_good_one_stays(board):
    board.controls["strategy"].value = "logs_chips_compost"
    board.controls["logs"].value = Q_(60, "percent")
    board.controls["height"].value = Q_(40, "cm")
    good = board.outcome.bed
    board.controls["height"].value = Q_(20, "cm")

    assert board.outcome.bed == good
    assert board.controls["height"].value == good.height
    assert "layers that fit" in board.controls["height"].entry.says


@pytest.mark.parametrize("wall", [row.key for row in bc.tables.table("walls")])
def test_every_wall_can_be_chosen(board, wall):
    board.controls["wall"].value = wall

    assert board.outcome.bed.wall.key == wall
    assert (board.outcome.bed.soil_depth is not None) == (wall == "trough")
    family = board.outcome.bed.wall.family
    assert board.controls["rails"].shown == (family == "sheet")


def test_save_and_open_in_a_new_bench(board, tmp_path):
    board.controls["length"].value = Q_(3.35, "m")
    board.controls["ties"].value = 2
    board.controls["strategy"].value = "logs_chips_mix"
    board.controls["logs"].value = Q_(41, "percent")
    board.save()
    assert "Saved in my_garden.toml" in board.file_says.html

    other = Bench(file=tmp_path / "my_garden.toml")
    other.open()
    assert other.outcome.bed.change(name="B", title="") == board.outcome.bed.change(
        title=""
    )
    assert other.controls["logs"].value == Q_(41, "percent")
    assert words(other).replace("My bed", "Bed B") == words(board)


def test_opening_nothing_and_a_newer_file_is_said(board, tmp_path):
    board.open()
    assert "no such file" in board.file_says.html
    path = tmp_path / "my_garden.toml"
    path.write_text("format = 9\n")
    board.open()
    assert "newer bedcalc" in board.file_says.html
    board.save()
    assert "Not saved" in board.file_says.html
    assert path.read_text() == "format = 9\n"


def test_dearer_prices_make_the_bill_dearer(board):
    """A fifth on every price is a fifth on the bill."""
    bill = board.outcome.cost.si.total
    board.controls["rise"].value = 20

    assert board.outcome.cost.si.total == pytest.approx(1.2 * bill, abs=0.5)


def test_feet_and_inches_change_the_words_not_the_bed(board):
    bed = board.outcome.bed
    board.controls["system"].value = "us"

    assert board.outcome.bed == bed
    assert "8.86 ft long" in words(board)
    assert board.controls["length"].unit == "inch"


def test_words_from_a_file_are_escaped(board, tmp_path):
    garden = bc.Garden(
        place=bc.demo_garden().place,
        beds=(bc.demo_garden()["B"].change(name="mine", title="<script>x</script>"),),
    )
    bc.save(garden, tmp_path / "my_garden.toml")
    board.open()

    assert "<script>" not in words(board) + board.scene.alt.value


def test_a_us_build_is_bought_from_the_us_list(board):
    board.controls["wall"].value = "sheet_us"
    assert "by the US demo list" in words(board)
    assert board.outcome.cost.missing == ()
    board.controls["wall"].value = "sheet"
    assert "US" not in words(board)
    assert board.outcome.place.prices.name == "demo"


def test_a_list_that_lacks_something_is_said(board):
    rows = [row for row in table("prices_demo") if row.goods != "sheet_0.76"]
    board._place = priced(board._place, rows)
    board.controls["height"].value = Q_(70, "cm")
    assert "not complete: the price list has no sheet_0.76" in words(board)
