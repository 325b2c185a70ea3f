"""Sizes as a tape or a measuring stick shows them: the same words on every paper."""

from __future__ import annotations

from bedcalc.units import show

__all__ = ["deep", "dig_or_block", "drill_bit", "far", "mark", "size", "stick",
           "tolerance"]  # fmt: skip  # a list of names


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


_GAP = "\N{NO-BREAK SPACE}"


def mark(tenths: int, system: str) -> str:
    """A mark on the tape: tenths of a millimetre, or inches to the sixteenth."""
    if system == "metric":
        text = f"{tenths / 10:.1f}"
        return text.removesuffix(".0")
    return _parts(tenths / 254, 16)


def _parts(inches: float, most: int) -> str:
    """Inches as a tape or a drill bit shows them, to one part in ``most``."""
    whole, part = divmod(round(inches * most), most)
    if not part:
        return f"{whole}"
    while part % 2 == 0:
        part, most = part // 2, most // 2
    return f"{whole} {part}/{most}" if whole else f"{part}/{most}"


def size(metres: float, system: str) -> str:
    """A size as it is cut: millimetres without gaps, feet, inches and sixteenths."""
    metres = float(metres)
    if system == "us":
        feet, inches = divmod(round(metres / 0.0254 * 16), 16 * 12)
        if feet < 3:
            return f"{mark(round(metres * 10_000), 'us')}{_GAP}in"
        rest = f"{_GAP}{_parts(inches / 16, 16)}{_GAP}in" if inches else ""
        return f"{feet}{_GAP}ft{rest}"
    half = abs(metres * 1e3 - round(metres * 1e3)) > 0.05
    words = show(metres, "fine" if half else "stock", system)
    return words.replace("\N{NARROW NO-BREAK SPACE}", "")


def drill_bit(metres: float, system: str) -> str:
    """A drill bit: millimetres, or inches to the 64th."""
    if system == "us":
        return f"{_parts(float(metres) / 0.0254, 64)}{_GAP}in"
    return f"{float(metres) * 1000:g}{_GAP}mm"


def tolerance(row, which: str, system: str) -> str:
    """How far something may be off: ``good`` or still ``accept``."""
    if system == "metric":
        return getattr(row, which)
    slope = getattr(row, f"{which}_slope")
    if slope == slope:  # a number: out of level or plumb, to a thirty-second
        return f"{_parts(max(slope * 12, 1 / 32), 32)}{_GAP}in per ft"
    return f"{_parts(getattr(row, f'{which}_size') / 0.0254, 16)}{_GAP}in"
