"""Sizes as a tape or a measuring stick shows them: the same words on every paper."""

from __future__ import annotations

from bedcalc.units import show

__all__ = ["deep", "dig_or_block", "far", "stick"]


def stick(metres: float, system: str) -> str:
    """A reading of the stick, down from the level line."""
    if system == "metric":
        return f"{metres:.3f} m"
    return f"{_eighths(metres / 0.0254)} in"


def _eighths(inches: float) -> str:
    """Inches to the nearest eighth, as a tape shows them: ``10 7/8``."""
    whole, part = divmod(round(abs(inches) * 8), 8)
    down = next(d for d in (1, 2, 4, 8) if part * d % 8 == 0)
    words = [str(whole)] if whole or not part else []
    minus = "−" if inches < 0 else ""
    return minus + " ".join(words + ([f"{part * down // 8}/{down}"] if part else []))


def far(metres: float, system: str) -> str:
    """A distance."""
    if system == "metric":
        return show(metres, "size", system)
    feet, rest = divmod(round(metres / 0.0254 * 8) / 8, 12)
    return f"{feet:.0f}′ {_eighths(rest)}″"


def deep(metres: float, system: str, kind: str = "stock") -> str:
    """A depth."""
    if system == "metric":
        return show(metres, kind, system)
    return f"{_eighths(metres / 0.0254)} in"


def dig_or_block(dig: float, depth: float, system: str, kind: str = "stock") -> str:
    """How deep to dig at a corner of a bed, or how high a block is.

    Parameters
    ----------
    dig : float
        Trench with its gravel, in metres.
    depth : float
        The box in the ground; below zero it stands on a block.
    system : str
        ``"metric"`` or ``"us"``.
    kind : str
        How exact, as for :func:`bedcalc.units.show`.
    """
    if depth < -1e-9:
        return f"block {deep(-depth, system, kind)}"
    return deep(dig, system, kind)
