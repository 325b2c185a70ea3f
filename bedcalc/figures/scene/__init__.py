"""The bed as it will stand: one corner opened, walls drawn with their bow.

:func:`scene` turns an outcome into a drawing. What depends on sizes alone (walls, fill,
logs) is kept and used again; bow, ties, lawn and labels are laid on anew each time.
"""

from __future__ import annotations

from .camera import VIEWS, Frame
from .picture import Picture, Scene

__all__ = ["VIEWS", "Frame", "Scene", "scene"]


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
        that the drawing would burst is drawn less; the picture says so.
    height_px, width_px : int
        Size of the picture. A wider one keeps its labels; another height needs a new
        drawing.
    view : str
        ``"front"``, ``"end"`` or ``"above"``.
    narrow : bool
        For narrow columns: no person, no layer names; three dimensions and the bow.
    person : bool
        Show somebody of the users' stature.
    frame : Frame or None
        The frame of the drawing before: holds the camera still while the bed still
        fits into the picture.

    Returns
    -------
    Scene
        A drawing with seven traces, whatever the bed.
    """
    if view not in VIEWS:
        raise ValueError(
            f"scene, view: needs one of {', '.join(VIEWS)}; given {view!r}; "
            "for example 'front'"
        )
    picture = Picture(outcome, system, exaggerate, view, narrow, person)
    return picture.drawn(width_px, height_px, frame)
