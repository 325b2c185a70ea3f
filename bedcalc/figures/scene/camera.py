"""Where the viewer stands: a parallel projection of our own, fitted to the picture.

Plotly's orthographic camera shows one unit of its scene as half the picture's height,
whatever the distance. So the scale depends on the height alone: a picture that is
wider than planned keeps every label in place, measured from its middle.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

__all__ = ["SPAN", "VIEWS", "Frame", "axes", "fit", "held"]

#: direction from the bed to the viewer: right, away (so minus is nearer), up
VIEWS = {
    "front": (1.0, -1.9, 0.95),
    "end": (2.0, -1.15, 1.05),
    "above": (0.62, -1.25, 2.1),
}
#: axis ranges in metres, far outside anything drawn: what is outside would be cut off
SPAN = 48.0
_MIDDLE = np.array([6.0, 1.0, 0.5])


def axes(view: str) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Unit vectors of the picture: right, up, towards the viewer."""
    toward = np.array(VIEWS[view]) / np.linalg.norm(VIEWS[view])
    right = np.array([-toward[1], toward[0], 0.0])
    right /= np.linalg.norm(right)
    return right, np.cross(toward, right), toward


@dataclass(frozen=True, kw_only=True)
class Frame:
    """A camera held still: view, pixels a metre, the point in the picture's middle.

    Give the frame of an earlier picture to :func:`bedcalc.figures.scene.scene` and the
    bed changes its size on the screen, not the camera its distance.
    """

    view: str
    scale: float
    middle: tuple[float, float]
    width: int
    height: int

    @cached_property
    def axes(self):
        """Right, up and towards the viewer."""
        return axes(self.view)

    def pixels(self, points) -> np.ndarray:
        """Where points (n, 3) stand in the picture: right and down from top left."""
        right, up, _ = self.axes
        p = np.asarray(points, float)
        u = (p @ right - self.middle[0]) * self.scale + self.width / 2
        v = self.height / 2 - (p @ up - self.middle[1]) * self.scale
        return np.stack([u, v], axis=-1)

    def shows(self, points, pads) -> bool:
        """Whether all points lie inside the pads, to the pixel."""
        px = self.pixels(points)
        (left, top), (right, below) = px.min(0), px.max(0)
        return (
            left >= pads[0] - 1
            and top >= pads[1] - 1
            and right <= self.width - pads[2] + 1
            and below <= self.height - pads[3] + 1
        )

    def moved(self, points, across=0.0, down=0.0, nearer=0.0) -> np.ndarray:
        """Points shifted by pixels in the picture and metres towards the viewer."""
        right, up, toward = self.axes
        shift = (across * right - down * up) / self.scale + nearer * toward
        return np.asarray(points, float) + shift

    def layout(self) -> dict:
        """What of the layout follows from this frame."""
        right, up, toward = self.axes
        unit = self.scale / (self.height / 2)
        middle = (self.middle[0] * right + self.middle[1] * up - _MIDDLE) * unit
        middle -= (middle @ toward) * toward
        eye = middle + 30 * toward
        side = SPAN * unit
        return {
            "camera": {
                "up": {"x": 0, "y": 0, "z": 1},
                "center": dict(zip("xyz", middle.tolist(), strict=True)),
                "eye": dict(zip("xyz", eye.tolist(), strict=True)),
                "projection": {"type": "orthographic"},
            },
            "aspectratio": {"x": side, "y": side, "z": side},
        }

    @staticmethod
    def ranges() -> dict:
        """Axis ranges of the scene, the same for every bed."""
        return {
            f"{name}axis": {
                "range": [m - SPAN / 2, m + SPAN / 2],
                "visible": False,
                "showspikes": False,
                "autorange": False,
            }
            for name, m in zip("xyz", _MIDDLE.tolist(), strict=True)
        }


def fit(points, view, width, height, pads) -> Frame:
    """The closest frame that shows all points inside the pads.

    Parameters
    ----------
    points : array (n, 3)
        What must be seen, in metres.
    view : str
        A key of ``VIEWS``.
    width, height : int
        Size of the picture in pixels.
    pads : tuple of float
        Pixels kept free at the left, top, right and bottom.
    """
    right, up, _ = axes(view)
    left, top, more, below = (float(pad) for pad in pads)
    u, v = points @ right, points @ up
    wide, high = max(np.ptp(u), 1e-6), max(np.ptp(v), 1e-6)
    scale = min((width - left - more) / wide, (height - top - below) / high)
    scale = float(max(scale, 4.0))
    across = (u.min() + u.max()) / 2 + (more - left) / 2 / scale
    upward = (v.min() + v.max()) / 2 + (top - below) / 2 / scale
    return Frame(
        view=view,
        scale=scale,
        middle=(float(across), float(upward)),
        width=width,
        height=height,
    )


def held(frame: Frame | None, view, width, height) -> Frame | None:
    """A frame carried over to a picture of this size, if the view is the same."""
    if frame is None or frame.view != view:
        return None
    if (frame.width, frame.height) == (width, height):
        return frame
    scale = frame.scale * height / frame.height
    return replace(frame, width=width, height=height, scale=scale)
