"""A stack of one's own: the layers of the bed, bottom first, one row of controls each.

What is not moved stays as it was: a layer given as a share stays a share.
"""

from __future__ import annotations

from dataclasses import replace

from ...figures.fill import fill_figure
from ...model.bed import Bed, BedError, Layer
from ...units import Q_
from ..fill import layers_sentence
from .controls import list_row, slider_row
from .offers import fill_of, fills, key_of
from .view import Desk, View

__all__ = ["stack_view"]

MOST = 8  # layers that have a row of their own
NOTHING = "none"
_NEW = Q_(5, "cm")  # depth of a layer that is added


def _depth(bed: Bed, n: int) -> Q_:
    return Q_(round(float(bed.layer_depths[n]) * 100, 3), "cm")


def _rest(bed: Bed) -> str:
    """Which layer takes what is left, as its number; ``none`` if no layer does."""
    found = [n for n, layer in enumerate(bed.fill, start=1) if layer.depth is None]
    return str(found[0]) if found else NOTHING


def _name(n: int) -> str:
    return "Bottom" if n == 1 else f"Layer {n}"


def changed(about: Desk, moved: dict) -> tuple[Layer, ...]:
    """The layers of the bed after some rows were moved.

    Parameters
    ----------
    about : Desk
    moved : dict
        ``material_1``, ``depth_1`` … and ``rest``, only what was moved.

    Returns
    -------
    tuple of Layer
    """
    bed = about.bed
    layers: list[Layer | None] = list(bed.fill)
    for name, value in moved.items():
        what, _, number = name.partition("_")
        n = int(number or 0) - 1
        if what == "material" and n < len(layers):
            gone = value == NOTHING
            layers[n] = (
                None if gone else replace(bed.fill[n], material=fill_of(about, value))
            )
        elif what == "material" and value != NOTHING:
            layers.append(Layer(material=fill_of(about, value), depth=_NEW))
        elif what == "depth" and n < len(layers) and layers[n] is not None:
            layers[n] = replace(layers[n], depth=value)
    if "rest" in moved:
        for n, layer in enumerate(bed.fill):
            if layer.depth is None and layers[n] is not None:
                layers[n] = replace(layers[n], depth=_depth(bed, n))
        if moved["rest"] != NOTHING and layers[int(moved["rest"]) - 1] is not None:
            n = int(moved["rest"]) - 1
            layers[n] = replace(layers[n], depth=None)
    found = tuple(layer for layer in layers if layer is not None)
    if not found:
        raise BedError(
            "the layers: a bed needs at least one; choose another material instead of "
            "nothing, for example garden mix"
        )
    return found


def stack_view(about: Desk) -> View:
    """Build the layers of the bed one by one; what is moved goes into the bed."""
    below = lambda: [(NOTHING, "nothing"), *fills(about)]  # noqa: E731

    def rests():
        count = len(about.bed.fill)
        return [(NOTHING, "no layer")] + [
            (str(n), _name(n)) for n in range(1, count + 1)
        ]

    def reads():
        bed, values = about.bed, {}
        for n in range(1, MOST + 1):
            there = n <= len(bed.fill)
            key = key_of(bed.fill[n - 1].material) if there else NOTHING
            rows[f"material_{n}"].relist(below(), key)
            rows[f"material_{n}"].shown = n <= len(bed.fill) + 1
            rows[f"depth_{n}"].shown = there and bed.fill[n - 1].depth is not None
            values[f"material_{n}"] = key
            values[f"depth_{n}"] = _depth(bed, n - 1) if there else _NEW
        values["rest"] = _rest(bed)
        rows["rest"].relist(rests(), values["rest"])
        return values

    def writes(moved):
        about.take(about.bed.change(fill=changed(about, moved)))

    def render(values, size):
        drawing = fill_figure(about.outcome, system=about.system, **size)
        words = layers_sentence(about)
        more = len(about.bed.fill) - MOST
        if more > 0:
            words += f" {more} more layers lie above those that you can move here."
        return drawing, words

    made = []
    for n in range(1, MOST + 1):
        made.append(list_row(_name(n), below(), NOTHING, name=f"material_{n}"))
        made.append(slider_row("deep", "cm", 0, 80, 1, _NEW, name=f"depth_{n}"))
    made.append(list_row("The rest is", rests(), NOTHING, name="rest"))
    rows = {row.name: row for row in made}
    return View(about, made, render, name="stack", reads=reads, writes=writes)
