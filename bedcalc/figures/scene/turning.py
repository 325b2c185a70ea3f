"""The same pieces as a picture in space that a hand can turn."""

from __future__ import annotations

import numpy as np

from bedcalc.figures import theme
from bedcalc.figures.drawing import Drawing

from . import words
from .ground import lawn_before, lawn_behind
from .picture import Picture, solids_of
from .solids import STRIPES, Solids

__all__ = ["turning"]

_LIFT = 0.0002  # m, what is painted later lies this much over what is under it


def turning(
    outcome, *, system: str = "metric", exaggerate: float = 5.0,
    width: int = 900, height: int = 430,
) -> Drawing:  # fmt: skip
    """Draw the bed so that it can be looked at from all sides; needs WebGL.

    Parameters
    ----------
    outcome : Outcome
        What :func:`bedcalc.evaluate` found; only read.
    system : str
        ``"metric"`` or ``"us"``.
    exaggerate : float
        How many times larger than true the bow is drawn.
    width, height : int
        Pixels.
    """
    picture = Picture(outcome, system, exaggerate, "front", False, False)
    plan = picture.plan
    lawn = Solids(plan.stations)
    lawn_behind(lawn, plan, picture.plot, shadow=False)
    lawn_before(lawn, plan, picture.plot)
    solids = (*lawn.found, *solids_of(plan, outcome.bed, "front", all_round=True))
    faces, lines = [], []
    for solid in solids:
        for number, piece in enumerate(solid.pieces):
            for ring in piece.rings:
                points = picture.bent(ring) if piece.bends else ring
                if piece.fill:
                    colour = theme.FAILS if piece.fill == STRIPES else piece.fill
                    faces.append((points + number * _LIFT * _outward(ring), colour))
                if piece.line and piece.ink == theme.EDGE:
                    closed = np.vstack([points, points[:1], np.full((1, 3), np.nan)])
                    lines.append(closed)
    edges = np.vstack(lines)
    return Drawing(
        traces=(
            _mesh(faces),
            {
                "type": "scatter3d", "mode": "lines", "hoverinfo": "skip",
                "x": edges[:, 0], "y": edges[:, 1], "z": edges[:, 2],
                "line": {"color": theme.EDGE, "width": 2},
            },
        ),
        layout=theme.base_layout(
            width=width, height=height, margin={"l": 0, "r": 0, "t": 0, "b": 0},
            uirevision="turning",
            scene={
                **{f"{a}axis": {"visible": False, "showspikes": False} for a in "xyz"},
                "aspectmode": "manual", "aspectratio": _ratio(faces),
                "dragmode": "turntable",
                "camera": {
                    "eye": {"x": 0.52, "y": -0.99, "z": 0.5},
                    "projection": {"type": "orthographic"},
                },
            },
        ),
        annotations=(),
        alt=words.alt(outcome, picture.factors, system),
        caption="Drag to turn it. With keys: go to the picture with Tab, then the "
        "arrow keys. Orange: what does not hold.",
        numbers=words.numbers(outcome, system),
    )  # fmt: skip


def _ratio(faces) -> dict[str, float]:
    """True proportions, as large as the picture has room for."""
    wide = np.ptp(np.concatenate([ring for ring, _ in faces]), axis=0)
    return dict(zip("xyz", (3.3 * wide / wide.max()).tolist(), strict=True))


def _outward(ring: np.ndarray) -> np.ndarray:
    """The way a ring faces, of unit length."""
    middle = ring - ring.mean(0)
    normal = np.cross(middle, np.roll(middle, -1, 0)).sum(0)
    return normal / max(float(np.linalg.norm(normal)), 1e-12)


def _mesh(faces) -> dict:
    """All faces as one mesh; a ring is a band between its two halves."""
    first, i, j, k, colours = 0, [], [], [], []
    for ring, colour in faces:
        a, b = 0, len(ring) - 1
        while b - a > 1:
            i.append(first + a)
            j.append(first + a + 1)
            k.append(first + b)
            if b - a > 2:
                i.append(first + a + 1)
                j.append(first + b - 1)
                k.append(first + b)
            a, b = a + 1, b - 1
        colours += [colour] * (len(i) - len(colours))
        first += len(ring)
    points = np.concatenate([ring for ring, _ in faces])
    flat = {"ambient": 1, "diffuse": 0, "specular": 0, "fresnel": 0, "roughness": 1}
    return {
        "type": "mesh3d", "x": points[:, 0], "y": points[:, 1], "z": points[:, 2],
        "i": np.array(i), "j": np.array(j), "k": np.array(k), "facecolor": colours,
        "flatshading": True, "lighting": flat, "hoverinfo": "skip", "showscale": False,
    }  # fmt: skip
