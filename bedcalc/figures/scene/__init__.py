"""The bed as it will stand: one corner opened, walls drawn with their bow.

:func:`scene` turns an outcome into a picture, flat shapes from back to front. Where
each piece lies is read from the assembly; nothing is decided here.
"""

from __future__ import annotations

from .camera import VIEWS, Frame
from .picture import Picture, Scene
from .turning import turning

__all__ = ["VIEWS", "Frame", "Scene", "scene", "turning"]


def scene(
    outcome,
    *,
    system: str = "metric",
    exaggerate: float = 5.0,
    height_px: int = 430,
    width_px: int = 900,
    view: str = "front",
    narrow: bool = False,
    person: bool = True,
    frame: Frame | None = None,
) -> Scene:
    """Draw the bed of an outcome.

    Parameters
    ----------
    outcome : Outcome
        What :func:`bedcalc.evaluate` found; only read.
    system : str
        ``"metric"`` or ``"us"``: the units of the labels.
    exaggerate : float
        How many times larger than true the bow is drawn (1 for true). A bow so large
        that the drawing would burst is cut short.
    height_px, width_px : int
        Size of the picture.
    view : str
        ``"front"``, ``"end"`` or ``"above"``.
    narrow : bool
        For narrow columns: no layer names; the bow and what does not hold.
    person : bool
        Show somebody of the users' stature at work.
    frame : Frame or None
        The frame of the drawing before: holds the camera still while the bed still
        fits into the picture.

    Returns
    -------
    Scene
        A picture as data; ``scene(...).svg()`` is its text.
    """
    if view not in VIEWS:
        raise ValueError(
            f"scene, view: needs one of {', '.join(VIEWS)}; given {view!r}; "
            "for example 'front'"
        )
    picture = Picture(outcome, system, exaggerate, view, narrow, person)
    return picture.drawn(width_px, height_px, frame)
