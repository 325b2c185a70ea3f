"""Whatever bed one chooses: no crash, no nonsense, and the laws of the trade hold."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import bedcalc as bc
from bedcalc import Q_, Wall, strategy_layers
from bedcalc.tables import table

DEMO = bc.demo_garden()
WALLS = [row.key for row in table("walls")]
FRAMED = [k for k in WALLS if table("walls")[k].family in ("boards", "sheet")]
STRATEGIES = sorted({row.strategy for row in table("strategies")})


@st.composite
def beds(draw, walls=tuple(WALLS)):
    """Any bed the bench can make."""
    wall = Wall.named(draw(st.sampled_from(walls)))
    height = draw(st.integers(20, 110))
    share = Q_(draw(st.integers(0, 60)), "percent")
    layers = strategy_layers(draw(st.sampled_from(STRATEGIES)), share)
    freeboard = draw(st.sampled_from([0, 50]))
    trough = wall.family == "trough"
    soil = min(28, height) if trough else height
    narrowest = max(50, int(200 * wall.si.thickness) + 11)
    plain = bc.Bed(
        name="P",
        length=Q_(draw(st.integers(narrowest + 10, 600)), "cm"),
        width=Q_(draw(st.integers(narrowest, 200)), "cm"),
        height=Q_(height, "cm"),
        wall=wall,
        rail_lying=draw(st.booleans()),
        ties=draw(st.integers(0, 4)),
        base_ties=draw(st.integers(0, 4)),
        ribs_lying=draw(st.booleans()),
        post_depth=Q_(draw(st.sampled_from([0, 0, 40, 120])), "cm"),
        freeboard=Q_(freeboard, "mm"),
        soil_depth=Q_(soil, "cm") if trough else None,
        open_base=draw(st.booleans()),
        users=draw(st.sampled_from(sorted(table("people").rows))),
    )
    try:
        return plain.change(fill=layers)
    except bc.BedError:  # more fixed layers than this height holds
        return plain


MAY_BE_NAN = {
    "overturning_safety",
    "sliding_safety",
    "strength",
    "foot_sliding_resistance",
}


@given(bed=beds())
def test_any_bed_has_finite_answers(bed):
    outcome = bc.evaluate(bed, DEMO.place)

    for part in (outcome.size, outcome.fill, outcome.site, outcome.walls, outcome.cost):
        for name, field in part.declared().items():
            value = getattr(part.si, name)
            if type(field).__name__ == "Amount" and name not in MAY_BE_NAN:
                assert np.all(np.isfinite(value)), f"{type(part).__name__}.{name}"
    for check in outcome.checks:
        assert np.isfinite(check.utilisation), check.name
        assert "nan" not in check.sentence()
        assert check.source in table("sources")


@given(bed=beds())
def test_volumes_and_masses_balance(bed):
    """Layers fill the bed; wood, chips and air the log zone; orders cover needs."""
    outcome = bc.evaluate(bed, DEMO.place)
    size, fill = outcome.size.si, outcome.fill
    fills = table("fills")
    settled = sum(layer.si.settled for layer in fill.layers)
    logs = sum(x.si.settled for x in fill.layers if x.si.material == "logs")
    weight = sum(
        fills[x.si.material].unit_weight_moist * x.si.settled for x in fill.layers
    )

    assert settled == pytest.approx(size.fill_volume, rel=1e-9)
    assert size.fill_volume <= size.inside_volume + 1e-9
    assert fill.si.wood + fill.si.chips_in_gaps + fill.si.air == pytest.approx(
        logs, abs=1e-12
    )
    assert weight / 9.81 == pytest.approx(size.mass_moist, rel=1e-9)
    assert size.mass_soaked >= size.mass_moist
    for order in fill.orders:
        assert order.si.order >= order.si.loose - 1e-9
        assert order.si.order < order.si.loose + 0.5 + 1e-9


@given(bed=beds())
def test_the_bill_adds_up(bed):
    cost = bc.evaluate(bed, DEMO.place).cost

    assert cost.si.total == pytest.approx(sum(line.amount for line in cost.lines))
    assert cost.si.total == pytest.approx(
        cost.si.walls + cost.si.ties + cost.si.fixings + cost.si.fill + cost.si.delivery
    )
    for line in cost.lines:
        assert line.amount == pytest.approx(line.quantity * line.price)
    for plan in cost.plans.values():
        plan.check()


@given(height=st.floats(0.2, 1.1), factor=st.floats(1.05, 2.0))
def test_load_grows_with_height_squared(height, factor):
    """Uniform fill: w_top = K gamma H2 / 6."""
    bed = DEMO["B"].change(height=Q_(height, "m"))
    taller = min(height * factor, 1.19)
    loads = [
        bc.evaluate(b, DEMO.place).walls.cases["moist"].si.top_load
        for b in (bed, bed.change(height=Q_(taller, "m")))
    ]

    assert loads[1] / loads[0] == pytest.approx((taller / height) ** 2, rel=1e-9)


@given(length=st.floats(1.0, 5.9), factor=st.floats(1.05, 2.0))
def test_bow_grows_with_span_to_the_fourth(length, factor):
    bed = DEMO["B"].change(length=Q_(length, "m"))
    longer = bed.change(length=Q_(length * factor, "m"))
    one, two = (bc.evaluate(b, DEMO.place).walls.si for b in (bed, longer))

    assert two.bow_once / one.bow_once == pytest.approx(
        (two.span / one.span) ** 4, rel=1e-9
    )


@given(bed=beds(walls=tuple(FRAMED)), more=st.integers(1, 4))
def test_a_tie_never_makes_it_worse(bed, more):
    """Posts stand on the ground: one that gives may bend the rail less than a tie."""
    bed = bed.change(post_depth=Q_(0, "mm"))
    fewer = bc.evaluate(bed, DEMO.place)
    tied = bc.evaluate(bed.change(ties=bed.ties + more), DEMO.place)

    assert tied.walls.si.bow_years <= fewer.walls.si.bow_years * (1 + 1e-9)
    assert tied.walls.si.corner_force <= fewer.walls.si.corner_force * (1 + 1e-9)
    assert tied.check("rail").utilisation <= fewer.check("rail").utilisation * (
        1 + 1e-9
    )


@given(bed=beds())
def test_every_mend_that_says_it_works_works(bed):
    outcome = bc.evaluate(bed, DEMO.place)
    for check in outcome.checks:
        if check.fix and check.verdict == "fails" and check.fix.works:
            after = bc.evaluate(bed.change(**check.fix.change), DEMO.place)
            again = after.check(check.name)
            assert again is None or again.ok
            price = check.fix.cost.m
            lacking = after.cost.missing or outcome.cost.missing
            if not (lacking and np.isnan(price)):  # what has no price is not free
                more = after.cost.si.total - outcome.cost.si.total
                assert more == pytest.approx(price, abs=1e-9)


@given(bed=beds())
def test_there_and_back_through_a_file(bed, tmp_path_factory):
    path = tmp_path_factory.mktemp("g") / "g.toml"
    garden = bc.Garden(place=DEMO.place, beds=(bed,))
    bc.save(garden, path)

    again = bc.load(path)["P"]
    assert again == bed
    assert bc.evaluate(again, DEMO.place).cost.si.total == (
        bc.evaluate(bed, DEMO.place).cost.si.total
    )


@pytest.mark.parametrize("wall", WALLS)
def test_a_sweep_is_evaluate(wall):
    """Random rows of a sweep ask for the same numbers from single beds."""
    rng = np.random.default_rng(5)
    n = 40
    length, height = rng.uniform(1.2, 5.5, n), rng.uniform(0.25, 1.0, n)
    ties = rng.integers(0, 4, n)
    one = DEMO["B"].change(wall=Wall.named(wall), freeboard=Q_(0, "mm"))
    many = one.change(length=Q_(length, "m"), height=Q_(height, "m"), ties=ties)
    swept = bc.evaluate(many, DEMO.place)

    for i in rng.choice(n, 12, replace=False):
        bed = one.change(
            length=Q_(float(length[i]), "m"), height=Q_(float(height[i]), "m"),
            ties=int(ties[i]),
        )  # fmt: skip
        single = bc.evaluate(bed, DEMO.place)
        for part, names in {
            "size": ("inside_area", "fill_volume", "mass_soaked", "bearing"),
            "fill": ("loose_volume", "cost", "hours"),
            "site": ("cut", "fall"),
            "walls": (
                "bow_once", "bow_years", "bow_low", "bow_high", "stress", "tie_force",
                "corner_force", "overturning_safety", "sliding_safety",
            ),
        }.items():  # fmt: skip
            for name in names:
                got = np.broadcast_to(getattr(getattr(swept, part).si, name), n)[i]
                want = getattr(getattr(single, part).si, name)
                assert got == pytest.approx(want, rel=1e-9, nan_ok=True), name
        for check in single.checks:
            got = (
                np.broadcast_to(swept.check(check.name).utilisation, n)[i]
                if (swept.check(check.name))
                else None
            )
            if got is not None:
                assert got == pytest.approx(check.utilisation, rel=1e-9), check.name
