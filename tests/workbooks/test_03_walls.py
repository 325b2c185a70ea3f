"""Workbook 03: its views move, its answers are right, its questions name mistakes."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import walls as view
from bedcalc.app.walls_questions import KEYS, item
from bedcalc.figures.walls import wall_figure
from bedcalc.printing import build_sheet
from bedcalc.tables import table

DEMO = bc.demo_garden()
OUTCOMES = {bed.name: bc.evaluate(bed, DEMO.place) for bed in DEMO}


def words(made) -> str:
    return made.says.html.replace("\N{NO-BREAK SPACE}", " ")


def test_a_tie_set_in_the_rim_view_divides_the_bow():
    made = view.rim_view(view.demo_desk("B"))
    assert "plainly bowed" in words(made)

    made.controls["ties"].value = 1
    assert "divides the bow by 38.5" in words(made)
    assert made.outcome.bed.ties == 1
    made.controls["length"].value = Q_(360, "cm")
    assert "divides" not in words(made)
    made.reset()
    assert made.outcome.bed == view.demo_desk("B").bed


def test_turning_the_rail_is_said():
    """(70/45)^2 stiffer, and the end walls' axes move in: (2.655/2.63)^4."""
    made = view.rim_view(view.demo_desk("B", wall=_bare()))
    made.controls["rails"].value = True
    ratio = (70 / 45) ** 2 * (2.655 / 2.63) ** 4

    assert f"divides the bow by {ratio:.1f}" in words(made)


def _bare():
    from dataclasses import replace

    return replace(DEMO["B"].wall, cap_counts=False)


def test_logs_and_water_in_the_push_view():
    made = view.push_view(view.demo_desk("B"))
    made.controls["logs"].value = Q_(33, "percent")
    assert "harder" in words(made)
    made.controls["base"].value = False

    assert "open the base" in words(made)
    assert made.outcome.check("waterlogged") is not None


def test_a_drain_at_the_foot_leads_the_water_away():
    made = view.push_view(view.demo_desk("B"))
    made.controls["base"].value = False
    water = "push 72\N{NO-BREAK SPACE}cm deep, under standing water"
    assert water in dict(wall_figure(made.outcome).numbers.rows)
    made.controls["drained"].value = True

    assert made.outcome.bed.drained and not made.outcome.bed.open_base
    assert made.outcome.check("waterlogged") is None
    assert water not in dict(wall_figure(made.outcome).numbers.rows)
    assert "the drain at its foot must stay open" in words(made)


def test_clay_under_an_open_base_asks_for_a_drain():
    bed, place = DEMO["B"].change(), DEMO.place.change(soil="clay")
    o = bc.evaluate(bed, place)
    fix = o.check("waterlogged").fix

    assert fix.change == {"drained": True}
    assert bc.evaluate(bed.change(**fix.change), place).check("waterlogged") is None
    paper = build_sheet(bc.Garden(beds=(bed.change(drained=True),), place=place))
    assert "A drain at the foot" in paper


def test_a_deck_is_asked_for_its_load_and_says_how_deep():
    made = view.push_view(view.demo_desk("B"))
    assert not made.controls["carries"].shown and "deck" not in words(made)
    made.controls["deck"].value = True
    assert made.controls["carries"].shown
    assert made.outcome.bed.may_carry.m_as("kPa") == pytest.approx(2)
    assert "it may be 13 cm" in words(made) and "engineer" in words(made)

    made.controls["carries"].value = Q_(4, "kPa")
    assert "it may be 27 cm" in words(made)
    made.controls["height"].value = Q_(50, "cm")
    assert made.outcome.bed.may_carry.m_as("kPa") == pytest.approx(4)
    made.controls["deck"].value = False
    assert made.outcome.bed.may_carry is None


def test_every_bed_and_number_of_ties_in_the_parts_view():
    about = view.trial(view.demo_desk("B"))
    made, path = view.parts_view(about), view.path_view(about)
    for name in "ABCDEF":
        made.controls["bed"].value = name
        assert made.outcome.bed.name == name
        assert path.outcome is made.outcome
        assert made.controls["posts"].shown == (name in "AC")
        assert made.controls["ties"].shown == (name in "ABCF")
    made.controls["bed"].value = "C"
    made.controls["posts"].value = Q_(40, "cm")
    assert made.outcome.check("between posts").ok


@pytest.mark.parametrize("name", [*"ABCDEF", "wet"])
def test_every_bed_is_mended_or_stands(name, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    made = view.fixes_view(view.demo_desk("B"))
    made.controls["bed"].value = name
    said = words(made)

    assert ("as straight as you want it" in said) == (name in "DF")
    assert ("Cheapest" in said) == (name not in "DF")
    assert made.controls["fix"].shown == (name not in "DF")
    if name == "E":
        assert "20 cm high" in said
    if name == "wet":
        assert "drains" in said and "ties" not in said
    made.controls["all"].value = False


def test_a_bulge_is_judged():
    made = view.bulge_view(view.demo_desk("B"))
    assert "1 in 96" in words(made)
    made.controls["bulge"].value = Q_(60, "mm")

    assert "Unload the wall" in words(made)
    made.desk.take(system="us")
    assert "2.4 in is 1 in 45 of 8.86 ft" in words(made)


def _text(block) -> str:
    return block.children[0].children[0].value


def test_six_beds_say_all_that_was_asked():
    text = _text(view.six_beds(view.demo_desk("B")))

    assert text.count("<tr>") == 7
    assert text.count("✕ does not hold") == 4 and text.count("✓ holds") == 2
    assert text.count("years:") == 6
    assert "tipping over" in text and "saves 146" in text


def test_tables_and_folded_texts():
    assert _text(view.checked_table()).count("<tr>") == 1 + len(table("checked_walls"))
    assert "✕ no" in _text(view.metals_table(view.demo_desk("B")))
    assert "grouted" in _text(view.blocks_table(view.demo_desk("B")))
    assert _text(view.repairs()).count("<details>") == len(table("repairs"))
    assert _text(view.short_answers()).count("<details>") == len(table("wall_answers"))


@pytest.mark.parametrize("name", sorted(KEYS))
@pytest.mark.parametrize("bed", ["A", "B", "E"])
def test_questions_take_their_solution_and_name_their_mistakes(name, bed):
    asked, outcome = item(name), OUTCOMES[bed]
    question = asked.question

    assert asked.judge(outcome, "").state == "untried"
    assert len(question.hints) == 2
    asked.words(question.text, outcome)
    asked.words(question.solution, outcome)
    if question.options:
        for option in question.options:
            right = option.name == asked.key.answer(outcome)
            got = asked.judge(outcome, option.name).state
            assert got == ("right" if right else "mistake")
        return
    unit = question.unit
    answer = asked.key.answer(outcome)
    typed = f"{answer.m_as(unit):.4g} {unit}".strip()
    assert asked.judge(outcome, typed).state == "right"
    assert set(question.mistakes) == set(asked.key.mistakes)
    for mistake, wrong in asked.key.mistakes.items():
        typed = f"{wrong(outcome).m_as(unit):.4g} {unit}".strip()
        verdict = asked.judge(outcome, typed)
        assert (verdict.state, verdict.name) == ("mistake", mistake)
