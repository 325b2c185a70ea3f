"""Workbook 04: the game, the plan on a button, the sheet, views and questions."""

from __future__ import annotations

import asyncio

import pytest

from bedcalc import demo_garden, evaluate
from bedcalc.app import cutting
from bedcalc.app.kit import view
from bedcalc.questions.cut_garden import COIN
from bedcalc.tables import table

GARDEN = demo_garden()


@pytest.fixture
def desk(tmp_path):
    return view.desk("A", file=tmp_path / "none.toml")


def test_the_hand_rule_pays_five_too_much_and_the_cheapest_is_proven():
    """Demo garden: posts 78.40 by first fit, 73.40 proven."""
    game = cutting.strip_game(GARDEN)

    game.by_hand()
    assert "78.40" in game.says.html and "5.00" in game.says.html
    game.reveal()
    assert "73.40" in game.says.html and "proven cheapest" in game.says.html


def test_the_game_is_played_by_hand():
    """By hand: 2400 - 20 + 3.2 holds two of 803.2 and one of 723.2, no more."""
    game = cutting.strip_game(GARDEN)

    game.saw_off(8000)
    assert "Take another" in game.says.html
    game.take(24_000)
    game.saw_off(8000)
    game.saw_off(8000)
    game.saw_off(7200)
    assert game.left == {8000: 4, 7200: 7, 5600: 8} and game.paid == 11.20 * COIN
    game.saw_off(5600)
    assert "No board has room" in game.says.html and game.left[5600] == 8
    game.undo()
    assert game.left[7200] == 8
    game.restart()
    assert game.paid == 0 and game.left[8000] == 6
    assert len(game.picture.shown.traces) == 4


def test_the_plan_of_the_garden_comes_on_a_button():
    panel = cutting.cutter(GARDEN)
    assert "Not cut yet" in panel.picture.shown.annotations[0]["text"]
    panel.nudge()
    assert "first" in panel.says.html

    panel.find()

    assert "818.40" in panel.says.html and "proven cheapest" in panel.says.html
    assert panel.told.value.count("proven cheapest") == 8
    panel.goods.value = "sheet_0.76"
    assert "105.00" in panel.picture.shown.annotations[0]["text"]
    panel.goods.value = "larch_140x33"
    panel.nudge()
    assert "save" in panel.says.html and "saw takes" in panel.says.html


def test_the_button_does_not_hold_up_the_loop_and_can_be_stopped():
    async def press():
        panel = cutting.cutter(GARDEN)
        panel.find()
        assert "Cutting" in panel.says.html  # it came back at once
        panel._job.cancel()
        for _ in range(600):
            await asyncio.sleep(0.05)
            if panel.found is not None:
                break
        return panel

    panel = asyncio.run(press())

    assert panel.found is not None and not panel._job.busy


def test_the_car_and_the_yard_are_edited_by_numbers_and_the_cost_follows():
    """Demo garden: 818.40 with every length, posts 73.40."""
    panel = cutting.cutter(GARDEN)
    panel.find()

    panel.car.entry.send_text("2.5")
    assert panel.found is None and "Find the cheapest" in panel.says.html
    panel.find()

    assert "847.40" in panel.says.html and "31.00" in panel.says.html
    assert "A-side a-1" not in panel.told.value and "<svg" in panel.joined.value
    assert "meet over a post" in panel.joined.value
    panel.car.entry.send_text("6")
    panel.goods._move("post_70x70")
    table_ = panel.stock
    first, second, third, fourth = (row.cells for row in table_.rows[:4])
    assert [c.value for c in first] == ["2.4", "11.20", ""]
    first[2].send_text("1")
    third[0].send_text("")
    fourth[0].send_text("1.8 m")
    assert "this length counts once it has one" in fourth[1].says
    fourth[1].send_text("5")
    panel.find()

    assert [(s.length, s.price, s.count) for s in table_.sold["post_70x70"]] == [
        (2.4, 11.2, 1), (3.0, 14.3, None), (1.8, 5.0, None)
    ]  # fmt: skip
    taken = panel.found["post_70x70"].plan.boards
    assert {b.stock.length for b in taken} <= {24_000, 30_000, 18_000}
    assert sum(b.stock.length == 24_000 for b in taken) <= 1
    table_.restore()
    panel.find()
    assert "818.40" in panel.says.html


@pytest.mark.parametrize(
    ("column", "typed", "said", "kept"),
    [
        (0, "abc", "Length: needs a number", "2.4"),
        (0, "40", "Length: needs 0.3 to 13 m; given 40 m", "2.4"),
        (0, "240 kg", "Length", "2.4"),
        (1, "-3", "Price: needs 0 or more", "11.20"),
        (1, "0", "How many: needs a number where the price is 0", "0"),
        (2, "1.5", "How many: needs a whole number", ""),
    ],
)
def test_a_number_that_cannot_be_is_refused_with_words(column, typed, said, kept):
    panel = cutting.cutter(GARDEN)
    panel.goods._move("post_70x70")
    row = panel.stock.rows[0].cells

    row[column].send_text(typed)

    assert any(c.says.replace("\xa0", " ").startswith(said) for c in row)
    assert row[column].value == kept and panel.stock.sold == {}


def test_too_few_boards_are_said_and_the_rest_is_cut():
    panel = cutting.cutter(GARDEN)
    panel.goods._move("post_70x70")
    for row in panel.stock.rows[:3]:
        row.cells[2].send_text("1")
    panel.find()

    assert "Not everything can be cut" in panel.says.html
    assert "post 70 × 70: stock" in panel.told.value
    panel.nudge()
    assert "first" in panel.says.html


def test_the_sheet_is_made_from_the_yard_and_the_car(tmp_path):
    panel = cutting.cutter(GARDEN)
    panel.car.entry.send_text("2.5")
    maker = cutting.SheetMaker(GARDEN, str(tmp_path), panel)
    maker.bed.set("B")

    maker.make()

    html = (tmp_path / "build_sheet_Plumtrellis_Yard_School_Garden_B.html").read_text(
        encoding="utf-8"
    )
    assert "B-rail side a-1" in html and "3.6 m" not in html


def test_the_sheet_is_made_beside_the_workbook(tmp_path):
    maker = cutting.SheetMaker(GARDEN, str(tmp_path))
    maker.bed.set("B")
    maker.date.value = "1 May <i>"

    maker.make()

    html = (tmp_path / "build_sheet_Plumtrellis_Yard_School_Garden_B.html").read_text(
        encoding="utf-8"
    )
    assert (
        "1 May &lt;i&gt;" in html
        and "build_sheet_Plumtrellis_Yard_School_Garden_B.html" in maker.says.html
    )


def test_four_pieces_of_600_do_not_come_out_of_2400(desk):
    panel = cutting.kerf_view(desk)

    assert "9.6\xa0mm too short" in panel.says.html
    panel.put(number=3)
    assert "All 3 come out" in panel.says.html


def test_views_of_lengths_say_something(desk):
    found = cutting.spots_view(desk)
    found.put(goods="post_70x70")
    assert "post" in found.says.html
    assert "pays least" in cutting.lengths_view(desk).says.html


@pytest.mark.parametrize("name", cutting.KEYS)
def test_every_question_knows_its_answer_and_names_the_mistakes(name):
    outcome, item = evaluate(GARDEN["A"], GARDEN.place), cutting.item(name)
    if item.question.options:
        right = item.key.answer(outcome)
        assert item.judge(outcome, right).state == "right"
        for option in item.question.options:
            if option.name != right:
                assert item.judge(outcome, option.name).state == "mistake"
        return
    answer = item.key.answer(outcome).m_as("mm")
    assert item.judge(outcome, f"{answer:.1f} mm").state == "right"
    assert item.judge(outcome, f"{answer / 25.4:.3f} in").state == "right"
    for mistake, wrong in item.key.mistakes.items():
        verdict = item.judge(outcome, f"{wrong(outcome).m_as('mm'):.1f} mm")
        assert verdict.name == mistake
    assert set(item.key.mistakes) == set(item.question.mistakes)


@pytest.mark.parametrize(
    "name", ["pick_boards", "old_timber", "offcut_uses", "stations", "cut_sheet"]
)
def test_lists_of_the_lesson_have_no_holes(name):
    for row in table(name):
        assert row.key and row.where
