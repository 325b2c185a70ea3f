"""For all tests: Hypothesis draws the same examples everywhere, with no time limit."""

from __future__ import annotations

from hypothesis import settings

# A slow shared machine must not fail a test, and a red run must be red again.
settings.register_profile("bedcalc", deadline=None, derandomize=True, print_blob=True)
settings.load_profile("bedcalc")
