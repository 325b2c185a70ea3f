"""Any bed that can be entered is computed; any other is refused with a sentence."""

from __future__ import annotations

import copy
import pickle
import warnings
from dataclasses import replace

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, BedError, Layer, Wall, strategy_layers
from bedcalc.app import cost, walls
from bedcalc.app.desk import Desk
from bedcalc.assembly.layout import _bays
from bedcalc.figures.posture import cost_curve
from bedcalc.model.materials import MaterialError
from bedcalc.questions.size_plan import compare_sizes
from bedcalc.tables import table
from bedcalc.walls.beams import posted_coefficients
from tests.properties.any_beds import faults, random_bed

DEMO = bc.demo_garden()
BEDS = 400


def made(count: int, seed: int = 0):
    """Random beds that were not refused."""
    for i in range(count):
        try:
            yield i, random_bed(np.random.default_rng([seed, i]))
        except (BedError, MaterialError) as error:
            for word in ("needs", "given", "for example"):
                assert word in str(error), str(error)


def test_any_bed_is_computed_or_refused_with_a_sentence():
    computed = 0
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        for i, bed in made(BEDS):
            found = list(faults(bc.evaluate(bed, DEMO.place)))
            assert not found, (i, bed, found)
            computed += 1
    assert computed > BEDS / 4


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"post": Q_(0, "mm")}, ("post", "at least 15 mm", "Q_(70, 'mm')")),
        ({"course": Q_(0, "mm")}, ("course", "at least 20 mm", "board")),
        ({"thickness": Q_(1, "mm")}, ("thickness", "at least 5 mm")),
        ({"wood": ""}, ("wall of boards, wood", "one of larch", "given ''")),
        ({"wood": "balsa"}, ("wood", "one of larch", "'balsa'")),
        ({"family": "sheet"}, ("wall of sheet, sheet", "sinus_76x18x0.48")),
        ({"family": "blocks"}, ("wall of blocks, block", "solid_400x200x150")),
        ({"cap_wide": Q_(0, "mm")}, ("cap_wide", "0 for both")),
    ],
)
def test_a_wall_that_cannot_be_computed_is_refused(change, words):
    with pytest.raises(BedError) as error:
        DEMO["A"].change(**change)

    for word in words:
        assert word in str(error.value).replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"height": Q_(25, "cm"), "freeboard": Q_(25, "cm")}, ("freeboard", "2 cm")),
        ({"fill": (Layer(material="mix", depth=Q_(0, "cm")),)}, ("fill", "2 cm")),
        ({"name": "B" * 200}, ("name", "up to 60", "200 signs")),
        ({"name": "a\nb"}, ("name", "one line", r"'a\nb'")),
        ({"name": "a\x07b"}, ("name", "one line")),
        ({"title": "a\tb"}, ("title", "one line")),
        ({"title": ["a"]}, ("title", "['a']")),
    ],
)
def test_a_bed_that_cannot_be_computed_is_refused(change, words):
    with pytest.raises(BedError) as error:
        DEMO["B"].change(**change)

    for word in words:
        assert word in str(error.value)


def test_a_layer_of_no_depth_is_no_layer():
    """Logs of 0 cm ask for no soil above them."""
    none = (
        Layer(material="mix"),
        Layer(material="logs", depth=Q_(0, "cm")),
    )
    bed = DEMO["B"]
    assert bc.evaluate(bed.change(fill=none), DEMO.place).check("cover") is None
    some = (none[0], Layer(material="logs", depth=Q_(10, "cm")))
    check = bc.evaluate(bed.change(fill=some), DEMO.place).check("cover")
    assert np.isfinite(check.utilisation) and not check.ok


@pytest.mark.parametrize("name", list("ABCDEF"))
def test_place_bed_and_outcome_can_be_copied_and_kept(name):
    outcome = bc.evaluate(DEMO[name], DEMO.place)
    for check in outcome.checks:
        assert check.fix is None or check.fix.works is not None
    for copied in (
        copy.copy(outcome), copy.deepcopy(outcome), pickle.loads(pickle.dumps(outcome)),
    ):  # fmt: skip
        again = bc.evaluate(copied.bed, copied.place)
        assert copied.bed == outcome.bed and copied.place == outcome.place
        assert again.cost.si.total == outcome.cost.si.total
        assert [c.sentence() for c in copied.checks] == [
            c.sentence() for c in again.checks
        ]


# ---- laws


def boards(seed: int, count: int, deep: float):
    """Random walls of boards or of lying ribs, all of usual sizes."""
    rng = np.random.default_rng(seed)
    keys = ("boards", "planks", "boards_us", "sheet", "sheet_us")
    for _ in range(count):
        wall = Wall.named(str(rng.choice(keys)))
        wall = replace(wall, post_spacing=Q_(float(rng.integers(6, 30)) * 50, "mm"))
        yield DEMO["B"].change(
            wall=wall,
            length=Q_(float(rng.integers(20, 120)) * 5, "cm"),
            width=Q_(100, "cm"),
            height=Q_(float(rng.integers(6, 16)) * 5, "cm"),
            ribs_lying=bool(rng.random() < 0.5),
            rail_lying=bool(rng.random() < 0.5),
            post_depth=Q_(deep * float(rng.integers(6, 23)) * 5, "cm"),
            fill=(Layer(material="mix"),),
            freeboard=Q_(0, "mm"),
        )


@pytest.mark.parametrize("deep", [0.0, 1.0])
def test_one_more_tie_never_raises_the_bow(deep):
    for bed in boards(3, 60, deep):
        many = bed.change(ties=np.arange(9))
        bow = bc.evaluate(many, DEMO.place).walls.si.bow_years
        assert np.all(bow[1:] <= bow[:-1] * (1 + 1e-9)), bed


@pytest.mark.parametrize("needed", [1, 2, 3, 4, 6, 11, 12, 24, 40])
def test_one_more_tie_never_raises_the_bow_however_much_the_posts_give(needed):
    """The rim as an exact beam: from posts like water to posts like rock."""
    bays = _bays(np.full(9, needed), np.arange(9), True, True)
    spring = np.geomspace(1, 1e6, 19)[:, None]
    spans = np.arange(1, 10)
    bow = posted_coefficients(spans, bays, spring).bow / spans**4

    assert np.all(bow[:, 1:] <= bow[:, :-1] * (1 + 1e-9))
    assert np.all(np.diff(bays) >= 0) and np.all(bays % spans == 0)


def test_planks_with_posts_in_the_ground_keep_their_posts():
    """5.25 m, posts 1.10 m deep: 4 ties once had fewer posts and bowed 16 mm."""
    bed = DEMO["C"].change(
        length=Q_(5.25, "m"), width=Q_(1, "m"), height=Q_(40, "cm"),
        post_depth=Q_(110, "cm"), ties=3,
    )  # fmt: skip
    three, four = (bc.evaluate(bed.change(ties=n), DEMO.place) for n in (3, 4))

    assert [o.walls.si.bays for o in (three, four)] == [12, 15]
    assert four.walls.si.bow_years < three.walls.si.bow_years
    assert four.cost.si.total > three.cost.si.total


@pytest.mark.parametrize("deep", [0.0, 1.0])
def test_one_more_tie_costs_no_less_unless_its_posts_explain_it(deep):
    """Rods and plates always cost more. Posts may become fewer where they stand on the
    ground (and then the fix says how many), and boards may meet over a new post.
    """
    from bedcalc.assembly import posts_change

    for bed in boards(4, 40, deep):
        ties = int(bed.length.m) % 5
        fewer, more = (
            bc.evaluate(bed.change(ties=n), DEMO.place) for n in (ties, ties + 1)
        )
        assert more.cost.si.ties > fewer.cost.si.ties
        if more.cost.si.total < fewer.cost.si.total - 1e-9:
            said = posts_change(fewer.bed, ties + 1)
            assert f"{2 * (more.walls.si.bays + 1)} posts" in said
        if deep:
            assert more.walls.si.bays >= fewer.walls.si.bays


def test_a_longer_bed_costs_no_less_unless_its_boards_explain_it():
    """Fill, screws and mesh grow with the length; only what is cut may cost less."""
    rng, less = np.random.default_rng(9), 0
    keys = [row.key for row in table("walls")]
    for _ in range(100):
        wall = Wall.named(str(rng.choice(keys)))
        place = DEMO.place.change(prices="demo_us" if wall.yard == "us" else "demo")
        bed = DEMO["B"].change(
            wall=wall, length=Q_(float(rng.integers(24, 118)) * 5, "cm"),
            height=Q_(float(rng.integers(5, 18)) * 5, "cm"),
            ties=int(rng.integers(0, 4)),
        )  # fmt: skip
        longer = bed.change(length=bed.length + Q_(float(rng.integers(1, 30)), "cm"))
        costs = [bc.evaluate(b, place).cost for b in (bed, longer)]
        sawn, rest = (
            [
                sum(x.amount for x in c.lines if (x.goods in c.plans) == cut)
                for c in costs
            ]
            for cut in (True, False)
        )
        assert rest[1] >= rest[0] - 1e-9, (bed, longer)
        if costs[1].si.total < costs[0].si.total - 1e-9:
            less += 1
            assert sawn[1] < sawn[0]
    assert less < 5


def test_where_a_longer_bed_costs_less_the_curve_says_why():
    """Planks, 5.20 m: six bays from 5.25 m on, and the joints lie over other posts."""
    bed = DEMO["B"].change(wall=Wall.named("planks"), height=Q_(60, "cm"), ties=0)
    found = compare_sizes(bed, DEMO.place, "length", Q_(5.2, "m"), Q_(5.48, "m"), 2)
    grows = compare_sizes(bed, DEMO.place, "length", Q_(2, "m"), Q_(4, "m"), 2)

    assert found.cost[1] < found.cost[0]
    assert "costs less at 5.48" in cost_curve(found).caption
    assert "costs less" not in cost_curve(grows).caption


@pytest.mark.parametrize("height", [15, 20, 40])
def test_the_builds_of_a_low_bed_are_drawn_also_where_a_fill_is_too_thick(height):
    """Logs to half the height with 7.5 and 5 cm over them need 25 cm."""
    low = DEMO["B"].change(height=Q_(height, "cm"), freeboard=Q_(0, "mm"))
    view = cost.builds_view(Desk(low))
    view.controls["strategy"].value = "half_logs"
    view.redraw()

    assert ("own fill" in view.says.html) == (height < 25)


@pytest.mark.parametrize(
    "bed",
    [
        DEMO["A"].change(length=Q_(12, "m"), ties=8, base_ties=8),
        DEMO["B"].change(length=Q_(7, "m"), ties=5, base_ties=6),
        DEMO["B"].change(width=Q_(2.5, "m"), height=Q_(115, "cm")),
        DEMO["B"].change(fill=strategy_layers("logs_chips_mix", Q_(80, "percent"))),
        DEMO["E"],
    ],
)
def test_a_bed_past_the_ends_of_the_sliders_keeps_its_sizes(bed):
    walls.parts_view(Desk(bed)).redraw()
    for make in (walls.rim_view, walls.push_view, walls.path_view):
        desk = Desk(bed)
        made = make(desk)
        made.redraw()
        assert desk.bed == bed, make.__name__
