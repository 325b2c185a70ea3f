"""Load cases of a bed's fill, their ratios, and one load on the rim."""

from __future__ import annotations

import numpy as np
import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.walls.load_cases import load_row, pushes
from bedcalc.walls.material import duration_factor
from bedcalc.walls.rim_load import rim_load_moment
from tests.validation.printed import printed

DEMO = bc.demo_garden()


def worked_example():
    """Own derivation: H 0.75 m, even mix of 11 and 15 kN/m3, 30 degrees."""
    bed = DEMO["B"].change(height=Q_(750, "mm"), freeboard=Q_(0, "mm"))
    return pushes(bed)


@pytest.mark.parametrize(
    ("state", "base", "total", "moment", "top"),
    [
        ("moist", "4.125", "1.5469", "0.3867", "515.6"),
        ("yielding", "2.750", "1.0313", "0.2578", "343.8"),
        ("soaked", "5.625", "2.1094", "0.5273", "703.1"),
        ("waterlogged", "9.304", "3.4889", "0.8722", "1163.0"),
        ("trodden", "5.325", "2.4469", "0.7242", "965.6"),
    ],
)
def test_load_cases_of_the_worked_example(state, base, total, moment, top):
    """Own derivation, recomputed by a second program."""
    case = worked_example()[state].si

    assert case.base_pressure == printed(base, "kPa")
    assert case.total == printed(total, "kN/m", steps=1)
    assert case.moment == printed(moment, "kN", steps=1)
    assert case.top_load == printed(top, "N/m", steps=1)


def test_doubt_of_weight_and_friction():
    """K0 is 0.44 at 34 degrees and 0.56 at 26 (Own derivation), weight a fifth."""
    cases = worked_example()
    ratios = [cases[n].si.moment / cases["moist"].si.moment for n in ("light", "heavy")]

    assert ratios[0] == pytest.approx(0.8 * (1 - np.sin(np.radians(34))) / 0.5)
    assert ratios[1] == pytest.approx(1.2 * (1 - np.sin(np.radians(26))) / 0.5)
    assert ratios[0] / 0.8 * 0.5 == printed("0.44")
    assert ratios[1] / 1.2 * 0.5 == printed("0.56")


def test_floor_on_k_is_for_strength_only():
    """Own derivation: chips push with K 0.50 in strength cases, with 0.426 else."""
    bed = DEMO["B"].change(fill=(bc.Layer(material="chips"),))
    cases = pushes(bed)

    moist, soaked = (cases[n].si.base_pressure for n in ("moist", "soaked"))
    assert moist / (6e3 * 0.72) == printed("0.426")
    assert soaked / (9e3 * 0.72) == pytest.approx(0.5)


@pytest.mark.parametrize("spans", range(1, 8))
def test_one_load_on_the_rim_is_never_underrated(spans):
    """A unit load wandered over the rail, by three moments: inside and at the ties."""
    inside = over = 0.0
    for place in np.linspace(0.03, spans / 2 + 0.03, 16 * spans):
        bay, a = int(place), place - int(place)
        b = 1 - a
        left, right = np.zeros(spans + 1), np.zeros(spans + 1)
        right[bay], left[bay] = a * b * (1 + b), a * b * (1 + a)
        matrix = (
            4 * np.eye(spans - 1) + np.eye(spans - 1, k=1) + np.eye(spans - 1, k=-1)
        )
        ties = np.linalg.solve(matrix, -(left[: spans - 1] + right[1:spans]))
        moments = np.array([0.0, *ties, 0.0])
        under = a * b + moments[bay] * b + moments[bay + 1] * a
        inside = max(inside, under, moments.max())
        over = max(over, -moments.min())

    assert inside <= rim_load_moment.si(1.0, 1.0, spans) * (1 + 1e-3)
    assert over <= rim_load_moment.si(1.0, 1.0, spans, True) + 1e-3
    assert inside >= 0.97 * rim_load_moment.si(1.0, 1.0, min(spans, 2)) - 0.006


def test_two_spans_by_the_beam_manual():
    """Influence line of two spans: 0.207 P s at worst (beam manuals, from memory)."""
    assert rim_load_moment.si(1.0, 1.0, 2) == printed("0.207")
    assert rim_load_moment(Q_(1, "kN"), Q_(2.4, "m"), 1).m_as("N*m") == 600.0


def test_short_loads_find_stronger_wood():
    """EN 1995: kmod 0.70 over 0.50; NDS: CD 1.6 over 0.9; plastic has no gain."""
    assert duration_factor("en", "person") == (pytest.approx(1.4), 1.5)
    assert duration_factor("us", "person") == (pytest.approx(1.6 / 0.9), 1.0)
    assert duration_factor("us", "visit") == (pytest.approx(1.0 / 0.9), 1.0)
    assert duration_factor("plastic", "person") == (1.0, 1.0)


def test_loads_of_people_are_the_corrected_ones():
    """Own derivation: 1.0 kN metric, 200 lbf in the USA."""
    assert load_row("rim_metric").force == 1000.0
    assert load_row("rim_us").force == printed("889.6")
