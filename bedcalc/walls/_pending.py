"""Stand-ins until the joints, sheet and block modules arrive; same sums."""

from types import SimpleNamespace

import numpy as np


class _F:
    def __init__(self, f):
        self.si = f


base_hold = _F(
    lambda own, push, d, g, kp, mu: (
        mu * (own + push * np.tan(np.radians(15))) + 0.5 * kp * g * d**2
    )
)
overturning_safety = _F(lambda w, b, m: w * b / 2 / m)
sliding_safety = _F(lambda w, mu, p: mu * w / p)


def sheet_section(key):
    t, a, p = 0.00048, (0.018 - 0.00048) / 2, 0.076
    m = 2 * np.pi * a / p
    I = t * a * a / 2 * (1 + m * m / 8)
    return SimpleNamespace(section_modulus=I / 0.009, allowable=230e6 / 1.67)


def tie_capacity(wood, rod, plate):
    return 6900.0, "plate"
