"""The bench without a browser: controls move the bed, numbers and verdicts follow."""

from __future__ import annotations

from pathlib import Path

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import bench as module
from bedcalc.app import desk as desks
from bedcalc.app.bench import bench
from bedcalc.app.session import open_session
from bedcalc.model.prices import PriceList
from bedcalc.tables import table


@pytest.fixture
def board(tmp_path):
    return bench(file=tmp_path / "my_garden.toml")


@pytest.fixture
def own(tmp_path):
    """A bench on a garden of one's own with one bed, a copy of bed B."""
    session = open_session(tmp_path / "my_garden.toml")
    session.start("Our plot")
    demo = bc.demo_garden()
    session.update(session.garden.change(place=demo.place.change(name="Our plot")))
    session.add(demo["B"].change(name="Beans"))
    return bench(file=tmp_path / "my_garden.toml")


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
    real = desks.evaluate
    monkeypatch.setattr(desks, "evaluate", lambda *args: calls.append(1) or real(*args))
    board.controls["length"].value = Q_(3.0, "m")
    assert len(calls) == 1
    board.controls["view"].value = "end"
    board.desk.take(system="us")
    assert len(calls) == 1  # another look at the same numbers
    board.desk.session.choose("A")
    assert len(calls) == 2  # another bed is one move, not ten
    assert board.controls["height"].value == Q_(560, "mm")


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
    picture, drawn = board.scene.svg, board.scene.svg.value
    plot = board.closes["wall"].plot
    before = plot.drawing
    board.controls["height"].value = Q_(50, "cm")

    assert board.scene.svg is picture and picture.value != drawn
    assert board.closes["wall"].plot is plot and plot.drawing != before


def test_the_view_that_turns_is_made_when_asked_for_and_follows(board):
    assert board.turned is None
    board._turn()
    plot, drawn = board.turned.plot, board.turned.plot.drawing
    board.controls["length"].value = Q_(3.4, "m")
    assert board.turned.plot is plot and plot.drawing != drawn
    board._turn()
    assert board.turned is None and board.turn.description == "Turn it in 3D"


def test_pressing_the_mend_mends_and_shows_the_wall_before(board):
    row = next(r for r in board.rows if "Add one tie" in button_text(r))
    bill = board.outcome.cost.si.total
    assert "11" in row.button.description

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


def test_what_is_moved_is_there_in_the_next_workbook(own, tmp_path):
    own.controls["length"].value = Q_(3.35, "m")
    own.controls["ties"].value = 2
    own.controls["strategy"].value = "logs_chips_mix"
    own.controls["logs"].value = Q_(41, "percent")
    own.desk.session.flush()

    saved = bc.load(tmp_path / "my_garden.toml")
    assert saved["Beans"] == own.outcome.bed
    assert saved.current == "Beans"


def test_moves_keep_what_a_control_cannot_show(own):
    """Five ties, a bed longer than the slider: another control changes neither."""
    session = own.desk.session
    session.take(session.bed.change(ties=5, length=Q_(7.02, "m")))
    assert own.controls["ties"].value == 5
    own.controls["rise"].value = 20
    own.controls["width"].value = Q_(100, "cm")

    assert session.bed.ties == 5 and session.bed.length == Q_(7.02, "m")
    assert session.place.price_rise == Q_(0, "percent")  # only tried out


def test_it_turns_to_the_demo_bed_and_back(own):
    own.desk.look_at("demo")
    assert own.outcome.bed.name == "B" and "demo garden" in own.desk.about
    own.controls["length"].value = Q_(4, "m")
    own.desk.look_at("own")

    assert own.outcome.bed.name == "Beans"
    assert own.desk.session.bed.length == Q_(2.7, "m")


def test_dearer_prices_make_the_bill_dearer(board):
    """A fifth on every price is a fifth on the bill."""
    bill = board.outcome.cost.si.total
    board.controls["rise"].value = 20

    assert board.outcome.cost.si.total == pytest.approx(1.2 * bill, abs=0.5)


def test_feet_and_inches_change_the_words_not_the_bed(board):
    bed = board.outcome.bed
    board.desk.session.show_in("us")

    assert board.outcome.bed == bed
    assert "8.86 ft long" in words(board)
    assert board.controls["length"].unit == "inch"


def test_words_from_a_file_are_escaped(own):
    own.desk.session.rename("<script>x</script>")

    assert "<script>" not in words(own) + own.scene.alt.value


def test_a_us_build_is_bought_from_the_us_list(board):
    board.controls["wall"].value = "sheet_us"
    assert "by the US demo list" in words(board)
    assert board.outcome.cost.missing == ()
    board.controls["wall"].value = "sheet"
    assert "US" not in words(board)
    assert board.outcome.place.prices.name == "demo"


def test_a_list_that_lacks_something_is_said(board):
    rows = [row for row in table("prices_demo") if row.goods != "sheet_0.76"]
    thin = PriceList.named("demo").with_rows(rows, name="thin list")
    board.desk.place = board.desk.place.change(prices=thin)
    board.controls["height"].value = Q_(70, "cm")
    assert "not complete: the price list has no corrugated sheet" in words(board)


def test_the_layout_of_the_bench_is_its_own(board):
    """Every view is a bench for the style sheet; only this one has three columns."""
    sheet = (Path(module.__file__).parent / "kit" / "bench.css").read_text("utf-8")
    assert "bc-start" in board.widget._dom_classes
    for rule in (".bc-controls {", ".bc-close {", ".bc-verdict {"):
        assert f".bc-bench {rule}" not in sheet and f".bc-start {rule}" in sheet
