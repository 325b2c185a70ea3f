"""Parts and fixes on one ruler, the way of the force, a measured bulge."""

from __future__ import annotations

import numpy as np
import pytest
from plotly.graph_objects import Figure

import bedcalc as bc
from bedcalc import Q_
from bedcalc.figures.drawing import as_data
from bedcalc.figures.load_path import path_figure
from bedcalc.figures.utilisation_chart import (
    PARTS,
    fixes_figure,
    part_words,
    parts_figure,
)
from bedcalc.figures.walls_bulge import bulge_figure
from bedcalc.questions.fixes import cures, first_to_fail, wall_fixes
from bedcalc.questions.repair import judge_bulge

DEMO = bc.demo_garden()
OUTCOMES = {bed.name: bc.evaluate(bed, DEMO.place) for bed in DEMO}
TIED = bc.evaluate(DEMO["B"].change(ties=1, base_ties=1), DEMO.place)


def lengths(drawing, index: int) -> list[float]:
    """Lengths of the bars of one tone: the largest x of each outline."""
    x = np.asarray(drawing.traces[index]["x"], dtype=float).reshape(-1, 6)
    return sorted((float(np.nanmax(row)) for row in x), reverse=True) if len(x) else []


@pytest.mark.parametrize("name", list("ABCDEF"))
def test_bars_are_the_checks(name):
    """One bar a check of the wall but its height; failing ones apart; cut at 5."""
    outcome = OUTCOMES[name]
    drawing = parts_figure(outcome)
    checks = [c for c in outcome.checks if c.chapter == "walls" and c.name != "height"]
    end = drawing.live_layout["xaxis"]["range"][1]

    # holds, does not hold, and a bow that is more than wanted, which never fails
    for index, ok, bent in ((0, True, False), (1, False, False), (3, False, True)):
        some = [c for c in checks if c.ok == ok and (c.ok or c.straight == bent)]
        wanted = sorted(
            (min(max(c.utilisation, 0.004 * end), end) for c in some), reverse=True
        )
        assert lengths(drawing, index) == pytest.approx(wanted)
    assert len(drawing.numbers.rows) == len(checks)
    for check in checks:
        assert check.name in PARTS
        assert part_words(check.name, outcome) in drawing.alt


def test_sign_and_word_carry_the_verdict_beside_colour():
    drawing = parts_figure(OUTCOMES["B"])
    texts = [note["text"] for note in drawing.annotations]

    assert sum("✕" in t for t in texts) == 4
    assert any("✓" in t for t in texts)
    assert any("⌒ plainly bowed" in t for t in texts)
    assert "4 of 8 do not hold" in texts[0]
    assert "Every part holds" in parts_figure(TIED).annotations[0]["text"]


def test_mends_show_price_and_what_is_left():
    outcome = OUTCOMES["B"]
    drawing = fixes_figure(outcome, cures(outcome), worst=first_to_fail(outcome))
    text = " ".join(note["text"] for note in drawing.annotations)

    assert "22\N{NO-BREAK SPACE}€" in text and "as it is" in text
    assert "about 50" in text  # past a 60th of the span: no exact digits
    assert not lengths(drawing, 1)
    assert len(lengths(drawing, 2)) == 1
    alone = fixes_figure(
        outcome, wall_fixes(outcome), worst=first_to_fail(outcome), by="bow"
    )
    tie = next(t for t in wall_fixes(outcome) if t.key == "tie 1")
    assert any(
        length == pytest.approx(tie.after.check("bow").utilisation)
        for length in lengths(alone, 0)
    )


def test_nothing_to_mend_is_said():
    drawing = fixes_figure(OUTCOMES["F"], (), worst=first_to_fail(OUTCOMES["F"]))

    assert "Nothing to fix" in drawing.annotations[0]["text"]


@pytest.mark.parametrize("name", list("ABCDEF"))
def test_way_of_the_force(name):
    outcome = OUTCOMES[name]
    drawing = path_figure(outcome)

    assert len(drawing.numbers.rows) >= 4
    failing = [row for row in drawing.numbers.rows if row[2] == "no"]
    assert bool(failing) == (name in "ABCE")
    assert ("arrives" in drawing.alt) == (not failing)


def test_arrows_share_the_push():
    """Rim and foot together carry the whole push: arrow lengths add up."""
    drawing = path_figure(OUTCOMES["B"])
    x = np.asarray(drawing.traces[5]["x"], dtype=float).reshape(-1, 9)
    push, rim, foot = (float(np.nanmax(row) - np.nanmin(row)) for row in x)

    assert rim + foot == pytest.approx(push, rel=1e-6)
    assert rim / push == pytest.approx(1 / 3, rel=1e-6)


def test_ties_are_drawn_where_there_are_ties():
    def points(outcome):
        return len(path_figure(outcome).traces[4]["x"])

    assert points(OUTCOMES["B"]) == 0
    assert points(TIED) == 4


def test_bulge_lies_where_it_was_measured():
    found = judge_bulge(OUTCOMES["B"], Q_(28, "mm"), Q_(2.7, "m"))
    drawing = bulge_figure(found)

    assert drawing.traces[-1]["x"][0] == pytest.approx(28 / 2700)
    assert "Plainly bowed" in drawing.alt and "96" in drawing.alt


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("narrow", [False, True])
def test_every_bed_makes_a_picture_that_plotly_knows(system, narrow):
    size = {"system": system, "narrow": narrow, "width": 300 if narrow else 640}
    makers = (
        parts_figure,
        path_figure,
        lambda o, **k: fixes_figure(o, cures(o), worst=first_to_fail(o), **k),
    )
    for make in makers:
        for outcome in OUTCOMES.values():
            assert len(Figure(as_data(make(outcome, **size))).data) > 1
    for bulge in (0, 10, 28, 60, 100):
        found = judge_bulge(OUTCOMES["B"], Q_(bulge, "mm"), Q_(2.7, "m"))
        assert len(Figure(as_data(bulge_figure(found, **size))).data) > 1


def test_no_list_holds_a_gap():
    """Gaps are nan: they may travel in arrays only, not in lists."""
    for outcome in (*OUTCOMES.values(), TIED):
        for drawing in (parts_figure(outcome), path_figure(outcome)):
            for trace in drawing.traces:
                for axis in ("x", "y"):
                    values = trace[axis]
                    if not isinstance(values, np.ndarray):
                        assert np.all(np.isfinite(np.asarray(values, dtype=float)))
