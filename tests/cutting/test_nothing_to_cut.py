"""Beds without boards, lists without lengths, cars without room: a plain sentence."""

from __future__ import annotations

import numpy as np
import pytest

from bedcalc import Q_, Garden, demo_garden
from bedcalc.app import cutting
from bedcalc.app.desk import Desk
from bedcalc.cutting import CutError
from bedcalc.figures.cutting import lengths_figure
from bedcalc.questions.cut_changes import length_sweep, what_less_saves
from bedcalc.questions.cut_garden import cut_garden, nothing_to_cut

DEMO = demo_garden()
PLACES = {
    "demo": DEMO.place,
    "no list": DEMO.place.change(prices=None),
    "other list": DEMO.place.change(prices="demo_us"),
    "small car": DEMO.place.change(longest_carried=Q_(1, "m")),
}


def words(made) -> str:
    """Everything that is said in a widget."""
    widget = getattr(made, "widget", made)
    inner = "".join(words(child) for child in getattr(widget, "children", ()))
    return inner + str(getattr(widget, "value", "")) + str(getattr(widget, "html", ""))


def test_a_bed_of_blocks_has_no_boards_to_cut():
    said = "A bed of blocks has no boards to cut."
    garden = Garden(place=DEMO.place, beds=(DEMO["E"],))

    assert nothing_to_cut(garden, DEMO.place) == said
    assert said in words(cutting.strip_game(garden))
    made = cutting.cutter(garden)
    made.find()
    made.nudge()
    assert said in words(cutting.cutter(garden))
    assert said in words(cutting.lengths_view(Desk(DEMO["E"])))
    assert not cut_garden(garden).parts


def test_what_is_not_cut_is_named_by_its_goods():
    found = cut_garden(Garden(place=DEMO.place, beds=(DEMO["A"],)))
    with pytest.raises(CutError, match="needs one of larch_140x33.*given 'gold'"):
        found["gold"]


@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("names", ["A", "B", "C", "D", "E", "F", "ABCDEF", ""])
def test_every_panel_of_the_cut_list_answers(names, where, tmp_path):
    garden = Garden(place=PLACES[where], beds=tuple(DEMO[n] for n in names))
    game = cutting.strip_game(garden)
    if isinstance(game, cutting.StripGame):
        game.by_hand()
        game.reveal()
        assert not any(game.left.values())
    else:
        assert "." in words(game)
    made = cutting.cutter(garden)
    made.find()
    made.nudge()
    sheet = cutting.sheet_maker(garden, made)
    sheet.folder = str(tmp_path)
    sheet.make()
    assert ("lies beside" in words(sheet)) == bool(names)
    for cut in cut_garden(garden):
        assert what_less_saves(cut)


@pytest.mark.parametrize("name", "ABCDEF")
def test_every_view_of_lengths_answers(name):
    desk = Desk(DEMO[name])
    assert "." in words(cutting.spots_view(desk))
    assert "." in words(cutting.lengths_view(desk))
    assert "Sheets for" in words(cutting.sheets_block(desk))


def test_lengths_that_cannot_be_are_no_number():
    thick = DEMO["F"].change(thickness=Q_(600, "mm"), width=Q_(2, "m"))
    cost, each = length_sweep(thick, DEMO.place, [1.2, 3.0], seconds=0.05)
    drawing = lengths_figure([1.2, 3.0], each, 3.0, name="F")

    assert np.isnan(cost[0]) and np.isfinite(each[1])
    assert drawing.numbers.rows[0] == ("1.20", "cannot be cut")


def test_a_board_in_too_many_pieces_is_refused():
    from bedcalc.cutting.splices import joints

    places = [0.1 * n for n in range(1, 120)]
    with pytest.raises(CutError, match="needs boards longer than 300 mm"):
        joints(12.0, 0.3, places)
