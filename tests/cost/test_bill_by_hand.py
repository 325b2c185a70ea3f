"""The bill against sums on paper: every screw, every pack, every tax, every year.

Prices and beds are those of the invented demo garden; spares and rules of thumb are
those of data/work.csv (common practice).
"""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.cost import Line, cost_of, cut_plans, fixings
from bedcalc.cost.counting import rods, tie_goods
from bedcalc.cost.lines import guesses, saw_for, sold, stocks_of, uncut_lines, unpriced
from bedcalc.cutting import COIN
from bedcalc.fill import assess_fill

GARDEN = bc.demo_garden()
PLACE = GARDEN.place


def _line(amount, *, group="timber", part="walls", goods="", **more):
    given = dict(
        name="x", group=group, part=part, quantity=1, unit="piece", price=amount,
        amount=amount, goods=goods,
    )  # fmt: skip
    return Line(**(given | more))


def _cost(*beds, place=PLACE, **options):
    return cost_of(beds, [assess_fill(b, place) for b in beds], place, **options)


def _list(*changed, without=(), place=PLACE, **about):
    """The demo place with some rows of its list changed, or without some goods."""
    changes = dict(changed)
    rows = [
        row.changed(**changes.get(row.key, {}))
        for row in place.prices.rows
        if row.goods not in without
    ]
    return place.change(prices=place.prices.with_rows(rows, name="own", **about))


def _by_goods(cost):
    found = {}
    for line in (*cost.lines, *cost.unpriced):
        found.setdefault(line.goods, []).append(line)
    return found


# -- counting -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "counted"),
    [
        # 4 courses x (8 ends + 2 posts x 2) x 2 = 96; cap 2 x (6 + 3) + 8 = 26; + 10 %
        ("A", {"screw_5x70": 134.2, "mesh": 3.0 * 1.35}),
        # 16 rail ends x 2 + 2 posts x 2 sides x 2 rails x 2 = 48; the cap's 26;
        # two rails x 2 (2.61 + 0.96) every 152 mm: 93.9, so 94
        ("B", {"screw_6x100": 52.8, "screw_sheet": 94 * 1.1,
               "screw_5x70": 28.6, "mesh": 3.0 * 1.35}),
        # 3 courses x (8 + 2) x 2 = 60
        ("C", {"screw_5x70": 66.0, "mesh": 2.1 * 1.2}),
        # trough of 280 mm: 2 courses x (8 + 2) x 2 = 40; a trough has a floor, no mesh
        # three bearers x 4 in their legs, 2 rails x 3 bearers x 2
        ("D", {"screw_5x70": 44.0, "screw_6x100": 26.4}),
        ("E", {"mesh": 2.7 * 1.5}),
        # 2 courses x 4 corners x 2 = 16
        ("F", {"screw_6x100": 17.6, "mesh": 3.3 * 1.5}),
    ],
)  # fmt: skip
def test_screws_and_mesh_of_every_demo_bed(name, counted):
    """Two screws a crossing, a cap every half metre and two a mitre, 10 % more."""
    found = fixings(GARDEN[name])

    assert found == {goods: pytest.approx(n) for goods, n in counted.items()}


def test_a_closed_base_needs_no_mesh():
    assert "mesh" not in fixings(GARDEN["A"].change(open_base=False))


def test_four_plates_and_eight_nuts_hold_two_ties():
    bed = GARDEN["B"].change(ties=1, base_ties=1)

    assert tie_goods(bed) == {"plate": 4, "nut": 8}
    assert tie_goods(GARDEN["B"]) == {}


def test_rods_without_a_price_are_counted():
    """1050 + 42 = 1092 mm each: 2 beds of 2 ties 4.368 m; one alone 1.092 m."""
    bed, bare = (
        GARDEN["B"].change(ties=1, base_ties=1, count=2),
        _list(without=["rod_m10"]),
    )
    lines, (line,) = rods([bed, GARDEN["A"]], bare)
    _, (one,) = rods([GARDEN["B"].change(ties=1)], bare)
    (bought,), left = rods([bed], PLACE)

    assert lines == [] and left == []
    assert (line.name, line.quantity) == (
        "threaded rod, 4 pieces",
        pytest.approx(4.368),
    )
    assert (one.name, one.quantity) == ("threaded rod, 1 piece", pytest.approx(1.092))
    assert (line.part, line.unit, one.goods) == ("ties", "m", "rod_m10")
    # four rods of 2 m at 7.60, none of 1 m is long enough
    assert (bought.quantity, bought.amount, bought.part) == (
        4,
        pytest.approx(30.40),
        "ties",
    )


def test_extras_by_hand():
    """Two of bed B: 6.833 m2 of liner and 0.0833 m3 of gravel each; gear for two.

    Gravel: 2 x 3.75 m x 0.2 x 0.05 / 0.9. The sheet calls for cut-resistant gloves, not
    for ear muffs; two dust masks a head.
    """
    bed = GARDEN["B"].change(count=2)
    by_goods = _by_goods(_cost(bed, extras=("liner", "gravel", "protection", "hire")))
    needs = {goods: lines[0].needed for goods, lines in by_goods.items()}

    assert needs["fabric"] == pytest.approx(2 * 2 * 3.57 * 0.87 * 1.1)
    assert needs["gravel"] == pytest.approx(2 * 2 * 3.75 * 0.2 * 0.05 / 0.9)
    assert (needs["gloves"], needs["goggles"], needs["cut_gloves"]) == (2, 2, 2)
    assert needs["dust_mask"] == 4 and "ear_muffs" not in needs
    hired = _by_goods(_cost(GARDEN["E"], extras=("hire",)))
    assert [hired[g][0].amount for g in ("wet_saw", "compactor")] == [38, 44]


def test_gravel_of_the_levelling_is_on_every_bill_once():
    """80 mm of gravel asked for by the levelling, whether gravel is added or not."""
    place = PLACE.change(levelling=bc.Levelling(gravel=Q_(80, "mm")))
    for extras in ((), ("gravel",)):
        (line,) = _by_goods(_cost(GARDEN["B"], place=place, extras=extras))["gravel"]
        assert line.needed == pytest.approx(2 * 3.75 * 0.2 * 0.08 / 0.9)
    assert "gravel" not in _by_goods(
        _cost(GARDEN["D"], place=place, extras=("gravel",))
    )


# -- packs, stock and saw -------------------------------------------------------


def test_one_pack_size_the_cheapest_to_cover_it():
    """52 blocks: 150.80 singly, 150.00 as a pallet of 60; 51: 147.90 and 150.00."""
    goods = "block_400x200x150"
    for n, single, packs in (
        (52, False, 1),
        (51, False, 51),
        (52, True, 52),
        (61, False, 61),
    ):
        (line,) = sold(goods, n, "walls", PLACE, single=single)
        assert (line.quantity, line.needed) == (packs, n)
        assert line.amount == pytest.approx(150.0 if packs == 1 else packs * 2.90)
        assert line.price * line.quantity == pytest.approx(line.amount)
    (line,) = sold("screw_5x70", 200.0, "fixings", PLACE)  # two boxes hold them exactly
    assert (line.quantity, line.amount, line.unit, line.group) == (
        2,
        28.0,
        "box",
        "metal",
    )
    assert sold("screw_5x70", 0.0, "fixings", PLACE) == []
    assert sold("gnome", 1.0, "fixings", PLACE) == []
    # of two equal offers the first stays
    tie = _list(("block-60", {"price": 2.90 * 52}))
    assert sold(goods, 52, "walls", tie)[0].unit == "piece"


def test_low_and_high_prices_are_shares_of_the_price():
    """24.00, at least 18, at most 36: -25 % and +50 %; a blank stays a blank."""
    row = PLACE.goods["mix"][0]

    assert guesses(row.changed(low=18.0, high=36.0)) == {"low": -0.25, "high": 0.5}
    assert np.isnan(list(guesses(row).values())).all()
    assert guesses(row.changed(price=0.0)) == {}
    own = _list(
        ("mix-0.5", {"low": 18.0, "high": 36.0}), ("larch_140x33-3.0", {"high": 22.8})
    )
    lines = _by_goods(_cost(GARDEN["A"], place=own))
    assert (lines["mix"][0].low, lines["mix"][0].high) == (-0.25, 0.5)
    assert [x.high for x in lines["larch_140x33"] if "3 m" in x.name] == [
        pytest.approx(1.0)
    ]


def test_boards_that_can_be_carried_and_those_that_lie_there():
    """Up to 3.6 m fit in the car; one's own 4.8 m (two, price 0) are there already."""
    short = PLACE.change(longest_carried=Q_(3.6, "m"))
    mine = _list(("larch_140x33-4.8", {"price": 0.0, "count": 2.0}),
                 ("larch_140x33-3.0", {"count": 5.0}),
                 ("larch_140x33-2.4", {"price": 0.0}), place=short)  # fmt: skip
    plain = [(s.length, s.limit, s.owned) for s in stocks_of("larch_140x33", short)]
    own = [(s.length, s.limit, s.owned) for s in stocks_of("larch_140x33", mine)]

    assert plain == [(24000, None, False), (30000, None, False), (36000, None, False)]
    assert own == [(24000, None, False), (30000, 5, False), (36000, None, False),
                   (48000, 2, True)]  # fmt: skip
    (first, *_) = stocks_of("larch_140x33", short)
    assert first.price == 8.90 * COIN
    assert stocks_of("gnome", short) == []


def test_the_saw_of_a_good():
    """Sheet: 2 mm and no trim; planks without trim; boards as the place says."""
    saws = {
        g: saw_for(g, PLACE)
        for g in ("larch_140x33", "sheet_0.76", "plank_125x30", "own")
    }

    assert {g: (s.kerf, s.trim) for g, s in saws.items()} == {
        "larch_140x33": (32, 200), "sheet_0.76": (20, 0), "plank_125x30": (32, 0),
        "own": (32, 200),
    }  # fmt: skip


def _sides(length, place):
    """Labels, numbers and tenths of a millimetre of the long boards of a bed."""
    plans, missing = cut_plans([GARDEN["A"].change(length=Q_(length, "mm"))], place)
    assert not missing
    found = [p for p in plans["larch_140x33"].pieces if p.label.startswith("A side")]
    return (
        [p.label for p in found],
        {p.count for p in found},
        sum(p.length for p in found),
    )


def test_a_side_longer_than_any_board_is_joined():
    """4.8 m less 20 mm of trim: 4780 mm are one piece, 4781 mm two (4 courses).

    Boards of 4.8 m of which none are left do not count: 4.18 m is the longest then.
    """
    gone = _list(("larch_140x33-4.8", {"count": 0.0}))
    two = ["A side a", "A side b"]

    assert _sides(4780, PLACE) == (["A side"], {8}, 47800)
    assert _sides(4781, PLACE) == (two, {8}, 47810)
    assert _sides(4180, gone) == (["A side"], {8}, 41800)
    assert _sides(4181, gone) == (two, {8}, 41810)


def test_counted_boards_do_or_it_is_said():
    """Eight sides of 2.7 m, one a board; 4.8 m also give two ends of 0.984 m.

    Four boards of 4.8 m and four of 3.0 m do; with three of 3.0 m a side is left.
    """

    def few(short):
        counts = {"2.4": 0.0, "3.0": short, "3.6": 0.0, "4.2": 0.0, "4.8": 4.0}
        rows = ((f"larch_140x33-{x}", {"count": n}) for x, n in counts.items())
        return cut_plans([GARDEN["A"]], _list(*rows))

    plans, missing = few(4.0)
    assert not missing and len(plans["larch_140x33"].boards) == 8
    plans, missing = few(3.0)
    assert "larch_140x33" not in plans and "post_70x70" in plans
    assert len(missing) == 1 and missing[0].startswith("larch board 140 × 33, ")
    assert "larch_140x33-" not in missing[0]  # no keys of the list
    with pytest.raises(ValueError, match="needs 'hand' or 'cheapest', given 'axe'"):
        cut_plans([GARDEN["A"]], PLACE, "axe")


# -- many beds ------------------------------------------------------------------


@pytest.mark.parametrize(
    "place", [PLACE, PLACE.change(prices=None)], ids=["list", "none"]
)
@pytest.mark.parametrize("name", "ABCDEF")
def test_three_of_a_bed_are_three_beds(name, place):
    """A count of three is the same bill as the bed three times, line by line."""
    bed = GARDEN[name].change(ties=2 if name == "B" else 0)
    options = dict(place=place, extras=("liner", "gravel", "hire", "protection"))
    once, thrice = (
        _cost(bed.change(count=3), **options),
        _cost(bed, bed, bed, **options),
    )

    def lines(cost):
        return [
            (
                x.goods,
                x.part,
                x.name,
                round(x.quantity, 9),
                round(np.nan_to_num(x.amount), 6),
            )
            for x in (*cost.lines, *cost.unpriced)
        ]

    assert sorted(lines(once)) == sorted(lines(thrice))
    for amount in ("total", "per_area", "per_volume", "top_up", "contingency"):
        assert getattr(once.si, amount) == pytest.approx(
            getattr(thrice.si, amount), nan_ok=True
        )


def test_what_follows_from_one_bed_is_bought_for_one():
    """Three equal beds: the outcome of the bed prices one; the whole garden three."""
    one, three = GARDEN["A"], GARDEN["A"].change(count=3)

    assert (
        bc.evaluate(three, PLACE).cost.si.total == bc.evaluate(one, PLACE).cost.si.total
    )


def test_by_area_by_room_and_by_year():
    """A: 2.634 x 0.984 m, 560 mm; two of D: 280 mm of soil. Mean of five years."""
    a, d = GARDEN["A"], GARDEN["D"].change(count=2)
    cost = _cost(a, d, place=PLACE.change(with_tax=True))
    floors = [b.si.inside_length * b.si.inside_width for b in (a, d)]
    area = floors[0] + 2 * floors[1]
    room = floors[0] * a.si.soil_depth + 2 * floors[1] * d.si.soil_depth

    assert floors[0] == pytest.approx(2.634 * 0.984) and d.si.soil_depth == 0.28
    assert cost.si.per_area == pytest.approx(cost.si.total / area)
    assert cost.si.per_volume == pytest.approx(cost.si.total / room)
    assert cost.si.contingency == pytest.approx(0.1 * cost.si.total)
    soil = sum(x.amount + x.tax(0.2) for x in cost.lines if x.group == "soil")
    assert cost.si.fill_share == pytest.approx(soil / cost.si.total)
    five = [assess_fill(b, PLACE).top_up(5).si.total_cost / 5 for b in (a, d)]
    assert five[0] > 0
    assert cost.si.top_up == pytest.approx(1.2 * (five[0] + 2 * five[1]))
    assert cost.per_kilogram()[0].m_as("money/kg") == pytest.approx(
        cost.yearly().total / area / 6
    )


def test_timber_is_delivered_once_and_blocks_are_not():
    """45.00 for timber or metal walls, however many; none for blocks or no walls."""
    for names, trips in (("A", 1), ("AB", 1), ("E", 0), ("C", 1), ("B", 1)):
        found = _by_goods(_cost(*(GARDEN[n] for n in names)))
        assert sum(x.amount for x in found.get("timber_delivery", ())) == 45.0 * trips


def test_only_what_is_bought_comes_by_truck():
    """Bed A: 300 mm of logs, 260 mm of mix: 2.634 x 0.984 x 0.26 m / 0.85.

    The logs and the chips between them: chips come by truck, logs do not. 6 m3 a trip.
    """
    layers = (bc.Layer(material="logs", depth=Q_(30, "cm")), bc.Layer(material="mix"))
    bed = GARDEN["A"].change(fill=layers, count=9)
    cost = _cost(bed)
    lines = {g: x[0] for g, x in _by_goods(cost).items()}
    by_truck = lines["mix"].quantity + lines["chips"].quantity

    assert lines["logs"].quantity > 0 and lines["logs"].amount == 0
    assert lines["truck"].needed == pytest.approx(by_truck)
    assert lines["truck"].quantity == np.ceil(by_truck / 6)
    assert lines["mix"].needed == pytest.approx(9 * 2.634 * 0.984 * 0.26 / 0.85)
    assert lines["mix"].quantity == np.ceil(lines["mix"].needed / 0.5) * 0.5
    assert lines["mix"].amount == pytest.approx(lines["mix"].quantity * 48)
    assert lines["mix"].price == pytest.approx(48)


def test_gravel_is_trucked_with_the_fill():
    """1.4515 / 0.85 = 1.71: 2 m3 of mix and 0.5 of gravel, in one trip."""
    lines = {
        g: x[0] for g, x in _by_goods(_cost(GARDEN["A"], extras=("gravel",))).items()
    }

    assert lines["truck"].needed == pytest.approx(
        lines["mix"].quantity + lines["gravel"].quantity
    )
    assert lines["gravel"].part == "extras" and lines["mix"].part == "fill"


# -- what has no price ----------------------------------------------------------


def test_a_bill_without_any_price_counts_everything():
    """Bed A: 8 boards of 2.7 m and 8 of 0.984 m are 29.472 m; 8 posts of 0.56 m ...

    Screws are counted whole, mesh and fill are not; 1.71 m3 of mix are one trip.
    """
    cost = _cost(GARDEN["A"], place=PLACE.change(prices=None))
    found = {x.goods: x for x in cost.unpriced}
    mix = 2.634 * 0.984 * 0.56 / 0.85

    assert cost.lines == () and np.isnan(cost.si.total) and not cost.priced
    assert {g: (x.quantity, x.unit, x.part) for g, x in found.items()} == {
        "larch_140x33": (pytest.approx(29.472), "m", "walls"),
        "post_70x70": (pytest.approx(4.48), "m", "walls"),
        "cap_90x22": (pytest.approx(2 * 2.78 + 2 * 1.13), "m", "walls"),
        "screw_5x70": (135, "piece", "fixings"),
        "mesh": (pytest.approx(4.05), "m²", "fixings"),
        "mix": (pytest.approx(mix), "m³", "fill"),
        "timber_delivery": (1, "trip", "delivery"),
        "truck": (1, "trip", "delivery"),
    }
    assert found["larch_140x33"].name == "larch board 140 × 33, 16 pieces"
    assert "no price yet: larch board 140 × 33" in cost.missing
    assert len(set(cost.missing)) == len(cost.missing)
    seven = _cost(GARDEN["A"].change(count=7), place=PLACE.change(prices=None))
    trips = {x.goods: x.quantity for x in seven.unpriced}["truck"]
    assert trips == np.ceil(7 * mix / 6) == 2


def test_one_piece_without_a_price_is_one_piece():
    """Every board of bed C but one has a plan; uncut lines name pieces and metres."""
    bare = _list(without=["post_60x60"])
    plans, _ = cut_plans([GARDEN["C"]], bare)
    (line,) = uncut_lines([GARDEN["C"]], plans, bare)

    assert (line.goods, line.name) == ("post_60x60", "post 60 × 60, 6 pieces")
    assert line.quantity == pytest.approx(6 * 0.375)
    found = unpriced("gnome", 2.0000000001, "extras", bare, name="gnome", detail="red")
    assert (found.name, found.quantity, found.group) == ("gnome, red", 2, "timber")
    assert unpriced("earth", 1.5, "fill", bare, name="earth", unit="m³").quantity == 1.5
    assert unpriced("earth", 1.5, "fill", bare, name="earth").group == "soil"
    assert np.isnan(found.price) and np.isnan(found.amount) and found.needed == 2


def test_a_rod_too_short_for_the_bed_is_said():
    """Rods of 1 m only: 1092 mm are not there, though rods are."""
    place = _list(("rod_m10-2", {"count": 0.0}))
    cost = _cost(GARDEN["B"].change(ties=1), place=place)

    assert cost.missing == (
        "the price list has no threaded rod M10 that is long enough",
    )


def test_goods_without_a_price_do_not_spoil_the_rest():
    cost, whole = _cost(GARDEN["A"], place=_list(without=["mesh"])), _cost(GARDEN["A"])

    assert cost.si.total == pytest.approx(whole.si.total - 38.0)
    assert cost.more_than(whole) != cost.more_than(whole)  # not-a-number
    assert whole.more_than(_cost(GARDEN["A"].change(open_base=False))) == 38.0
    assert [x.goods for x in cost.unpriced] == ["mesh"] and cost.priced
