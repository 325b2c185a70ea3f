"""Money over time and shares to the coin, against numbers that others printed.

The numbers of loans stand in the reference of numpy-financial, version 1.0.0, in the
examples of pmt, ipmt and nper; they were read there. A loan paid off month by month and
a box paid off year by year are the same sum. The seats of 1791 are from memory.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedcalc import Q_
from bedcalc.cost import break_even_life, capital_recovery, share_out
from tests.validation.kinds import outside
from tests.validation.printed import printed

CHAPTER = "cost"
OTHERS = "own derivation"
MONEY = Q_(1, "money")


@outside("printed", "capital_recovery", "numpy_financial")
@pytest.mark.parametrize(
    ("rate", "months", "loan", "text"),
    [(0.075, 180, 200000, "1854.0247200054619"), (0.0824, 12, 2500, "217.75")],
)
def test_payments_of_two_loans(rate, months, loan, text):
    """pmt: 200,000 over 15 years at 7.5 %. ipmt: 200.58 + 17.17 of the first row."""
    assert capital_recovery(rate / 12, months).m * loan == printed(text)


@outside("printed", "capital_recovery", "numpy_financial", facts=3)
def test_how_a_loan_goes_down():
    """ipmt: 2500 at 8.24 %; what is left after 1, 6 and 11 months, interest of all."""
    month = 0.0824 / 12
    payment = capital_recovery(month, 12).m * 2500
    left = [2500.0]
    for _ in range(12):
        left.append(left[-1] * (1 + month) - payment)

    assert left[1] == printed("2299.42")
    assert left[6] == printed("1275.66")
    assert left[11] == printed("216.26")
    assert left[12] == pytest.approx(0.0, abs=1e-9)
    assert 12 * payment - 2500 == printed("112.98")


@outside("printed", "break_even_life", "numpy_financial")
@pytest.mark.parametrize(
    ("rate", "payment", "loan", "text"),
    [
        (0.07, 150, 8000, "64.07334877"),
        (0.07, 150, 9000, "74.06368256"),
        (0.07, 100, 8000, "108.07548412"),
        (0.07, 100, 9000, "127.99022654"),
        (0.08, 150, 8000, "66.12443902"),
    ],
)
def test_months_until_a_loan_is_paid_off(rate, payment, loan, text):
    """nper: the table of its second example; years or months, it is one sum."""
    found = break_even_life(loan * MONEY, payment * MONEY, rate / 12)

    assert found.m == printed(text)


#: state: people counted in 1790, seats of 120
SEATS = {
    "Virginia": (630560, 21), "Massachusetts": (475327, 16),
    "Pennsylvania": (432879, 14), "North Carolina": (353523, 12),
    "New York": (331589, 11), "Maryland": (278514, 9), "Connecticut": (236841, 8),
    "South Carolina": (206236, 7), "New Jersey": (179570, 6),
    "New Hampshire": (141822, 5), "Vermont": (85533, 3), "Georgia": (70835, 2),
    "Kentucky": (68705, 2), "Rhode Island": (68446, 2), "Delaware": (55540, 2),
}  # fmt: skip


@outside("from memory", "share_out", "balinski_young", facts=5)
def test_seats_of_1791_by_the_largest_remainder():
    """Hamilton's bill: 120 seats by the census of 1790, 3 615 920 people in all."""
    people, seats = (np.array(v) for v in zip(*SEATS.values(), strict=True))
    assert people.sum() == 3615920 and seats.sum() == 120

    assert share_out(120, people, decimals=0) == pytest.approx(seats)
