"""Warnings that nothing hides: height, standing water, floating layers, decks."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_, Layer
from bedcalc.app.bench import ROWS
from bedcalc.app.bench_words import shown_checks
from bedcalc.printing import build_sheet
from bedcalc.tables import table

DEMO = bc.demo_garden()


def outcome(name="A", place=DEMO.place, **change):
    return bc.evaluate(DEMO[name].change(**change), place)


def shown(o) -> set[str]:
    return {check.name for check in shown_checks(o, ROWS)}


@pytest.mark.parametrize("name", ["A", "B", "C", "F"])
@pytest.mark.parametrize("high", [100, 120])
def test_ask_an_engineer_is_said_whatever_else_does_not_hold(name, high):
    o = outcome(name, height=Q_(high, "cm"))
    paper = build_sheet(DEMO.change(beds=[o.bed]))

    assert not o.check("height").ok
    assert "height" in shown(o)
    assert "ask an engineer" in paper


@pytest.mark.parametrize("name", ["A", "B", "E"])
def test_standing_water_is_said_whatever_else_does_not_hold(name):
    o = outcome(name, open_base=False)

    assert not o.check("waterlogged").ok
    assert "waterlogged" in shown(o)
    assert "fills with water" in build_sheet(DEMO.change(beds=[o.bed]))


def test_clay_under_an_open_base_fills_too_until_it_is_drained():
    clay, loam = (DEMO.place.change(soil=s) for s in ("clay", "light_loam"))
    wet, dry = outcome("A", clay), outcome("A", loam)
    check = wet.check("waterlogged")

    assert wet.bed.open_base and dry.check("waterlogged") is None
    assert not check.ok and check.fix.change == {"drained": True} and check.fix.works
    drained = bc.evaluate(wet.bed.change(**check.fix.change), clay)
    assert drained.check("waterlogged") is None


def test_a_layer_that_is_lighter_than_water_floats():
    """Table fills: leaves weigh less than water even when soaked; mix does not."""
    light = [r for r in table("fills") if r.unit_weight_soaked < 9806.65]
    heavy = [r for r in table("fills") if r.unit_weight_soaked >= 9806.65]
    assert light and heavy
    for row in (*light, *heavy):
        layers = (Layer(material=row.key, depth=Q_(10, "cm")), Layer(material="mix"))
        check = outcome("A", fill=layers, open_base=False).check("floating")
        assert (check is not None) == (row in light)
        if check is not None:
            assert not check.ok and "float" in check.sentence()
            assert check.fix.works
        assert outcome("A", fill=layers).check("floating") is None


def test_a_deck_says_how_deep_the_fill_may_be():
    """By hand: 15 kN/m3 of soaked mix on 2 kPa is 133 mm."""
    o = outcome("A", may_carry=Q_(2, "kPa"))
    weight = o.bed.fill[0].row.unit_weight_soaked
    check = o.check("deck")

    assert len(o.bed.fill) == 1
    assert check.capacity.m_as("m") == pytest.approx(2000 / weight)
    assert not check.ok and "engineer" in check.sentence()
    assert "deck" in shown(o)
    assert "An engineer has to say so" in build_sheet(DEMO.change(beds=[o.bed]))


def test_a_deck_that_carries_it_still_asks_for_an_engineer():
    o = outcome("A", may_carry=Q_(20, "kPa"))

    assert o.check("deck").ok and o.check("deck").verdict == "watch"
    assert "deck" in shown(o)
    assert "An engineer has to say so" in build_sheet(DEMO.change(beds=[o.bed]))


def test_the_load_is_kept_in_the_file_and_nonsense_is_refused(tmp_path):
    bed = DEMO["A"].change(may_carry=Q_(2.5, "kPa"), drained=True, climbed=True)
    path = tmp_path / "mine.toml"
    bc.save(DEMO.change(beds=[bed]), path)
    back = bc.load(path)["A"]

    assert back.may_carry.m_as("kPa") == pytest.approx(2.5)
    assert back.drained and back.climbed
    for wrong in (Q_(2, "m"), Q_(-1, "kPa"), 2):
        with pytest.raises(bc.BedError, match="may_carry"):
            bed.change(may_carry=wrong)


def test_only_walls_that_bear_it_are_told_to_tread_the_fill():
    """Trodden fill pushes loose blocks out (Ingold 1979, after the idea only)."""
    told = {
        "A": "Keep off the fill", "B": "Keep off the fill",
        "E": "Do not tread or tamp it", "F": "tread the lower ones",
    }  # fmt: skip  # rows of a table
    for name, words in told.items():
        paper = build_sheet(DEMO.change(beds=[DEMO[name]]))
        assert [w for w in set(told.values()) if w in paper] == [words]
    tied = DEMO["A"].change(ties=1, base_ties=1)
    assert "tread the lower ones" in build_sheet(DEMO.change(beds=[tied]))


def test_a_floating_layer_may_be_called_anything():
    """A name with braces is a name, not a place to fill in."""
    straw = bc.FillMaterial(
        key="my_straw", name="straw {x} of %s",
        unit_weight_moist=Q_(3, "kN/m^3"), unit_weight_soaked=Q_(6, "kN/m^3"),
    )  # fmt: skip
    said = outcome("A", fill=(Layer(material=straw),), open_base=False)

    assert "straw {x} of %s would float" in said.check("floating").sentence()
