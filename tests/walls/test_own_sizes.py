"""Own sizes: what they do to goods and price, the least thickness, the rim."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app import walls_own
from bedcalc.app.walls import demo_desk
from bedcalc.model.bed import BedError
from bedcalc.questions.fixes import as_wanted
from bedcalc.questions.size_limits import limit_of, trellis_apart
from bedcalc.walls.custom_sections import custom_sections_of, rim_load_mass, who_may_sit

DEMO = bc.demo_garden()


def outcome(bed):
    return bc.evaluate(bed, DEMO.place)


def words(made) -> str:
    return made.says.html.replace("\N{NO-BREAK SPACE}", " ")


def test_a_size_of_the_list_keeps_its_price_and_another_has_none():
    same = custom_sections_of(DEMO["A"], thickness=Q_(33, "mm"))
    turned = custom_sections_of(DEMO["B"], rail_thin=Q_(70, "mm"))
    other = outcome(custom_sections_of(DEMO["A"], thickness=Q_(28, "mm")))

    assert same.wall.goods == "larch_140x33"
    assert turned.wall.rail_goods == "post_70x70"
    assert other.cost.missing == ("the price list has no board of 28 × 140 mm",)
    assert other.cost.total < outcome(DEMO["A"]).cost.total


def test_sizes_a_wall_does_not_have_are_refused():
    with pytest.raises(BedError, match="blocks come as they are"):
        custom_sections_of(DEMO["E"], thickness=Q_(200, "mm"))


@pytest.mark.parametrize(
    ("name", "size"), [("A", "thickness"), ("B", "rail_thin"), ("F", "thickness")]
)
def test_the_least_thickness_holds_and_a_millimetre_less_does_not(name, size):
    found = limit_of(outcome(DEMO[name]), size)
    bed = DEMO[name].change(ties=found.ties, base_ties=found.base_ties)

    assert as_wanted(outcome(custom_sections_of(bed, **{size: found.size})))
    assert not as_wanted(
        outcome(custom_sections_of(bed, **{size: found.size - Q_(1, "mm")}))
    )


def test_the_largest_spacing_holds_and_a_step_more_does_not():
    thin = custom_sections_of(
        DEMO["A"].change(ties=1, base_ties=2), thickness=Q_(20, "mm")
    )
    found = limit_of(outcome(thin), "post_spacing")
    bed = thin.change(ties=found.ties, base_ties=found.base_ties)

    assert as_wanted(outcome(bed.change(post_spacing=found.size)))
    if found.size < Q_(1.5, "m"):
        wider = found.size + Q_(5, "cm")
        assert not as_wanted(outcome(bed.change(post_spacing=wider)))


def test_every_bed_in_both_views_begins_with_its_own_sizes():
    for make in (walls_own.own_view, walls_own.rim_use_view):
        made = make(demo_desk("B"))
        for bed in DEMO:
            made.controls["bed"].value = bed.name
            assert made.outcome.bed == bed
            assert words(made)
        made.controls["bed"].value = "B"
        if "ties" in made.controls.values:
            made.put(rail_wide=Q_(90, "mm"), ties=2)
            assert made.outcome.bed != DEMO["B"]
        made.reset()
        assert made.outcome.bed == DEMO["B"]


def test_a_board_without_a_price_is_said():
    made = walls_own.own_view(demo_desk("A"))
    assert "Not priced" not in words(made)
    made.controls["thickness"].value = Q_(28, "mm")

    assert "no board of 28 × 140 mm" in words(made)
    assert "boards 63 mm thick or more" in words(made)
    made.desk.take(system="us")
    assert "2.48 in thick" in words(made)  # 63 / 25.4


def test_who_may_sit():
    """One person is 1.0 kN; a rim that bears less is not for grown people.

    Computed by hand: 1.0 kN over 9.80665 m/s2 is 101.97 kg.
    """
    assert rim_load_mass.si(1000.0) == pytest.approx(101.97, abs=0.005)
    for climbed, who in ((False, "child"), (True, "nobody")):
        bed = DEMO["B"].change(climbed=climbed)
        assert who_may_sit(outcome(bed).check("sitting")) == who
        assert who_may_sit(outcome(bed.change(ties=1)).check("sitting")) == "adult"
    assert who_may_sit(None) == "unknown"


def test_posts_of_a_trellis_as_far_apart_as_said_are_just_used_up():
    from bedcalc.questions.repair import trellis

    high, o = Q_(1.5, "m"), outcome(DEMO["B"])
    assert trellis(o, high, trellis_apart(o, high)).use == pytest.approx(1.0)
