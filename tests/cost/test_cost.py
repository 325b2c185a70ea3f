"""The cost chapter: extras, tax line by line, gifts, parts, comparisons."""

from __future__ import annotations

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.cost import cost_of, gear_for, life_of, tools_for
from bedcalc.fill import assess_fill
from bedcalc.questions.compare import (
    box_lives,
    builds,
    compare,
    compare_fills,
    what_matters,
)
from bedcalc.questions.shopping import in_parts, shopping


@pytest.fixture(scope="module")
def garden():
    return bc.demo_garden()


def _cost(garden, name="B", **options):
    bed = garden[name]
    place = options.pop("place", garden.place)
    return cost_of([bed], [assess_fill(bed, place)], place, **options)


def test_lines_add_up_to_the_parts_and_the_total(garden):
    cost = _cost(garden, extras=("liner", "gravel", "hire", "protection"))
    names = ("walls", "ties", "fixings", "fill", "delivery", "extras")

    assert sum(getattr(cost.si, n) for n in names) == pytest.approx(cost.si.total)
    assert cost.si.low < cost.si.total < cost.si.high
    assert cost.per_area.m == pytest.approx(cost.si.total / 2.5056, rel=1e-6)


def test_tax_is_added_line_by_line(garden):
    plain = _cost(garden, place=garden.place.change(with_tax=False))
    taxed = _cost(garden, place=garden.place.change(with_tax=True))

    assert taxed.si.total == pytest.approx(plain.si.total * 1.2)
    assert taxed.si.tax == pytest.approx(plain.si.total * 0.2)
    assert plain.si.tax == 0


def test_liner_of_bed_b(garden):
    """2 x (2.61 + 0.96) x (0.72 + 0.15) x 1.1 = 6.833 m2: one roll, by hand."""
    cost = _cost(garden, extras=("liner",))
    line = next(x for x in cost.lines if x.goods == "fabric")

    assert line.needed == pytest.approx(6.833, abs=0.0005)
    assert (line.quantity, line.amount) == (1, 26.0)


def test_gravel_of_bed_b(garden):
    """2 x 3.75 x 0.2 x 0.05 / 0.9 = 0.0833 m3: one step of half a cubic metre."""
    cost = _cost(garden, extras=("gravel",))
    line = next(x for x in cost.lines if x.goods == "gravel")

    assert line.needed == pytest.approx(0.0833, abs=0.00005)
    assert line.amount == pytest.approx(21.0)


def test_gear_is_bought_for_each_helper(garden):
    two = _cost(garden, extras=("protection",))
    six = _cost(garden, extras=("protection",), place=garden.place.change(crew=6))
    pairs = [
        next(x.quantity for x in cost.lines if x.goods == "gloves")
        for cost in (two, six)
    ]

    assert pairs == [2, 6]


def test_hire_comes_with_the_blocks_only(garden):
    assert any(x.goods == "wet_saw" for x in _cost(garden, "E", extras=["hire"]).lines)
    assert _cost(garden, "B", extras=["hire"]).si.extras == 0


def test_unknown_extras_are_refused_with_the_list(garden):
    with pytest.raises(ValueError, match="liner, gravel, hire, protection"):
        _cost(garden, extras=("gnome",))


def test_tools_and_gear_follow_the_build():
    assert "wet_saw" in {row.key for row in tools_for("blocks")}
    assert "wet_saw" not in {row.key for row in tools_for("boards")}
    assert "sleeves" in {row.key for row in gear_for("sheet")}
    assert {"gloves", "shoes"} <= {row.key for row in gear_for("sleepers")}


def test_the_cheapest_cut_is_never_dearer(garden):
    assert shopping(garden).si.walls <= shopping(garden, cut="hand").si.walls


def test_gifts_hold_the_whole_bill_once(garden):
    cost = shopping(garden)
    gifts = cost.gifts()

    assert sum(g.worth for g in gifts) == pytest.approx(cost.si.total)
    assert sum(len(g.lines) for g in gifts) == len(cost.lines)


def test_buying_in_parts_costs_more(garden):
    stages, more = in_parts(garden, ["AB", "CD", "EF"], cut="hand")

    assert [s.beds for s in stages] == [("A", "B"), ("C", "D"), ("E", "F")]
    assert more > 0
    assert stages[-1].so_far - more == pytest.approx(
        shopping(garden, cut="hand").si.total
    )


def test_shares_of_the_gardeners(garden):
    cost = _cost(garden)
    shares = cost.shares([1, 1, 2]).m

    assert shares.sum() == pytest.approx(cost.si.total)
    assert shares[2] == pytest.approx(2 * shares[0], abs=0.02)


def test_dearer_timber_moves_timber_only(garden):
    dear = garden.place.change(prices=garden.place.prices.times(timber=1.2))
    before, after = _cost(garden), _cost(garden, place=dear)
    timber = sum(x.amount for x in before.lines if x.group == "timber")

    assert after.si.total - before.si.total == pytest.approx(0.2 * timber, abs=0.05)


def test_swings_are_widest_first_and_hold_the_total(garden):
    cost = _cost(garden)
    swings = what_matters(garden["B"], garden.place)
    widths = [s.width for s in swings]

    assert widths == sorted(widths, reverse=True)
    assert all(s.low - 1e-6 <= cost.si.total <= s.high + 1e-6 for s in swings)


def test_outside_size_is_not_inside_room(garden):
    """Sleepers of 100 mm: same outside loses room, same inside grows the outside."""
    bed = garden["B"]
    outside = builds(bed, ("sleepers",))
    inside = builds(bed, ("sleepers",), same="inside")
    (out,), (ins,) = outside.values(), inside.values()

    assert out.si.inside_width == pytest.approx(1.05 - 0.2)
    assert ins.si.inside_width == pytest.approx(bed.si.inside_width)
    assert ins.si.width == pytest.approx(0.96 + 0.2)
    assert ins.si.length == pytest.approx(2.61 + 0.2)


def test_side_by_side(garden):
    found = compare(
        garden.place, builds(garden["B"], ("boards", "sheet"), ("all_mix", "half_logs"))
    )

    assert len(found) == 4
    assert len({b.name for b in found}) == 4
    for build in found:
        again = bc.evaluate(build.outcome.bed, garden.place)
        assert build.first.m == pytest.approx(again.cost.total.m)
        assert build.yearly.m > 0
        assert build.worst.chapter == "walls"


def test_fills_against_all_bought(garden):
    mix, *others = compare_fills(garden["B"], garden.place)

    assert mix.saved_now.m == pytest.approx(0)
    for choice in others:
        assert choice.less_bought > 0
        assert choice.after.m == pytest.approx(choice.first.m + choice.top_up.m)
        assert choice.saved_after.m < choice.saved_now.m  # topping up eats savings


def test_ties_between_boxes_are_mutual(garden):
    a, b = box_lives(garden.place, builds(garden["B"], ("boards", "planks")))
    n = a.ties_with[b.name]
    crossed = float(a.box * 0.03 * 1.03**n / (1.03**n - 1))

    assert crossed == pytest.approx(b.yearly, rel=1e-9)


def test_lives_are_ordered_for_everything_on_the_bill(garden):
    for line in shopping(garden, cut="hand").lines:
        short, likely, long = (life_of(line, c) for c in ("short", "likely", "long"))
        assert short <= likely <= long


def test_own_list_of_us_goods():
    garden = bc.demo_garden()
    bed = garden["A"].change(
        wall=bc.Wall.named("boards_us"), length=Q_(8, "ft"), width=Q_(4, "ft"),
        height=Q_(22, "inch"),
    )  # fmt: skip
    place = garden.place.change(prices="demo_us")
    fill = assess_fill(bed, place)
    cost = cost_of([bed], [fill], place)

    assert not cost.missing
    assert fill.orders[0].order.m_as("yd^3") % 0.5 == pytest.approx(0, abs=1e-4)


def test_the_bill_takes_the_tax_rate_of_the_reader():
    """No tax at a rate of 0 %; a rate of 10 % adds half of what 20 % adds."""
    from bedcalc.app import cost
    from bedcalc.app.kit import view

    desk = view.desk("B")
    bill = cost.bill_view(desk)
    totals = []
    for rate in (0, 10, 20):
        bill.put(tax=True, rate=Q_(rate, "percent"))
        totals.append(float(desk.outcome.cost.si.total))
    none, some, more = totals
    # computed by hand: tax is a share of each line, so it is proportional to the
    # rate; each line is rounded to the coin, 30 lines at most: 0.15 at most
    assert none < some < more
    assert abs((more - none) - 2 * (some - none)) < 0.5


def test_a_kilogram_is_a_year_by_the_crop_of_good_and_poor_seasons():
    """Bed B inside is 2.61 m by 0.96 m; 6 and 3 kg a square metre (an assumption)."""
    garden = bc.demo_garden()
    cost = bc.evaluate(garden["B"], garden.place).cost
    low, high = cost.per_kilogram()
    assert low.m_as("money/kg") == pytest.approx(
        cost.yearly().total / (2.61 * 0.96 * 6)
    )
    assert high.m_as("money/kg") == pytest.approx(2 * low.m_as("money/kg"))
