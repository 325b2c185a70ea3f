"""Every verdict of strength that does not hold names a way out that really holds."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_, Wall
from bedcalc.questions.ways_out import NO_WAY, with_way_out
from bedcalc.tables import table

DEMO = bc.demo_garden()
KEYS = [row.key for row in table("walls") if row.family != "trough"]


def some_bed(seed: int):
    """A bed at random, often a poor one."""
    pick = np.random.default_rng(seed)
    wall = Wall.named(str(pick.choice(KEYS)))
    step = float(wall.si.course) or 0.15
    rows = int(pick.integers(2, max(int(1.2 / step), 3)))
    return DEMO["A"].change(
        wall=wall,
        length=Q_(round(float(pick.uniform(1.2, 4.8)), 2), "m"),
        height=Q_(round(min(rows * step, 1.2) * 1000), "mm"),
        ties=0 if wall.family == "blocks" else int(pick.integers(0, 2)),
        open_base=bool(pick.random() > 0.3),
    )


@pytest.mark.parametrize("seed", range(30))
def test_a_way_out_is_named_and_holds_or_it_is_said_that_there_is_none(seed):
    o = bc.evaluate(some_bed(seed), DEMO.place)
    for check in o.checks:
        if check.ok or check.straight:
            assert with_way_out(o, check) is check
            continue
        found = with_way_out(o, check)
        if found.fix is None:
            assert found.sentence().endswith(NO_WAY)
            continue
        after = bc.evaluate(o.bed.change(**found.fix.change), DEMO.place)
        again = after.check(check.name)
        assert found.fix.works
        assert again is None or again.ok


def test_a_build_that_cannot_says_so_and_which_can():
    """A sheet of 0.32 mm at 1.1 m: no tie helps the sheet itself."""
    bed = DEMO["B"].change(wall=Wall.named("sheet_us"), height=Q_(1.1, "m"))
    o = bc.evaluate(bed.change(ties=2, base_ties=2), DEMO.place)
    check = o.check("sheet")

    assert not check.ok and check.fix is None
    assert with_way_out(o, check).fix is not None


def test_nothing_helps_is_said_in_words():
    """Loose blocks that are trodden in: one course of them is too much already."""
    o = bc.evaluate(DEMO["E"], DEMO.place)
    check = with_way_out(o, o.check("treading"))

    assert check.fix is None or check.fix.works
    if check.fix is None:
        assert "ask an engineer" in check.sentence()
