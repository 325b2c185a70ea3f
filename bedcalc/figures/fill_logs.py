"""Logs in their zone: ends seen from the front, row by row, to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import number, show

from ..model.outcome import Outcome
from . import theme
from .drawing import Drawing, Numbers
from .shapes import EMPTY, area, line, marks, outlines, rectangle
from .texture import strokes

if TYPE_CHECKING:  # names for an editor
    from ..fill.logs import LogPlan

__all__ = ["logs_figure"]

_MARGIN = {"l": 8, "r": 10, "t": 62, "b": 6}
_MOST = 400  # log ends drawn at most


def _ends(plan, run: float) -> tuple[np.ndarray, np.ndarray]:
    """Middles of the log ends, row by row, each row in the hollows of the last."""
    d = float(plan.si.diameter)
    in_row, rows = int(plan.si.row), int(plan.si.rows)
    x, z = [], []
    slack = max(run - in_row * d, 0.0)
    for r in range(rows):
        shift = d / 2 if r % 2 else 0.0
        n = in_row if not r % 2 or slack >= d / 2 - 1e-9 else in_row - 1
        x += [d / 2 + shift + i * d for i in range(n)]
        z += [d / 2 + r * d * np.sqrt(3) / 2] * n
    return np.array(x[:_MOST]), np.array(z[:_MOST])


def logs_figure(
    outcome: Outcome,
    plan: LogPlan | None,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
) -> Drawing:
    """Draw how logs of one thickness lie in the log zone of a bed.

    Parameters
    ----------
    outcome : Outcome
        Of one bed.
    plan : LogPlan or None
        From ``outcome.fill.logs(diameter)``; None where no layer is logs.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        For a narrow page.
    width : float or None
        Pixels it will be shown at.

    Returns
    -------
    Drawing
    """
    width = width or (340 if narrow else 620)
    wide = width - _MARGIN["l"] - _MARGIN["r"]
    run = float(outcome.fill.si.inside_length)
    scale = wide / (run + 0.1)
    full = float(outcome.fill.layers[-1].si.top)
    depth = 0.0 if plan is None else float(plan.si.zone_depth)
    x, z = EMPTY if plan is None else _ends(plan, run)
    size = 1.0 if plan is None else max(float(plan.si.diameter) * scale - 2, 1.0)
    flecks = strokes("logs", 0.0, run, 0.0, depth) if depth else (*EMPTY, theme.INK)
    m = theme.MATERIAL
    walls = outlines(
        [rectangle(-0.05, 0, 0, full), rectangle(run, run + 0.05, 0, full)]
    )
    over = rectangle(0.0, run, depth, full)
    zone = rectangle(0.0, run, 0.0, depth)
    if plan is None:
        title, under = "No logs in this bed", "choose a fill with logs"
    elif not plan.fits:
        title = f"{show(plan.diameter, 'depth', system)} logs do not fit"
        under = f"the zone is {show(plan.zone_depth, 'depth', system)} deep"
    else:
        each = show(plan.mass_each, "mass", system)
        title = f"{number(float(plan.si.laid), 0)} logs, {each} each"
        under = (
            f"{show(plan.length, 'size', system)} long, across the bed; "
            f"{show(plan.cover, 'depth', system)} of fill over them"
        )
    cover = (
        []
        if plan is None
        else [
            theme.note(
                f"{show(plan.cover, 'depth', system)} chips and soil",
                run / 2,
                (depth + full) / 2,
                colour=theme.PAPER,
                size=12,
            )
        ]
    )
    wall = outcome.bed.wall
    hidden = {"visible": False, "fixedrange": True}
    rows = (
        ()
        if plan is None
        else (
            ("logs that fit, in rows", number(float(plan.si.laid), 0)),
            ("in a row", number(float(plan.si.row), 0)),
            ("rows", number(float(plan.si.rows), 0)),
            ("logs by volume, mixed sizes", number(float(plan.si.count), 0)),
            ("share that is wood, so laid", show(plan.packing, "percent")),
            ("one green log", show(plan.mass_each, "mass", system)),
            ("all of them", show(plan.mass, "mass", system)),
            ("largest chip that enters", show(plan.largest_chip, "fine", system)),
        )
    )
    return Drawing(
        traces=(
            area((np.array(over[0]), np.array(over[1])), m["mix"], width=0),
            area((np.array(zone[0]), np.array(zone[1])), m["gap"], width=0),
            line((flecks[0], flecks[1]), flecks[2], 1.6),
            marks((x, z), size, m["log end"], color=m["bark"], width=2),
            marks((x, z), 0.28 * size, m["heart"], width=0),
            area(walls, theme.wall_colour(wall.family, wall.wood)),
        ),
        layout=theme.base_layout(margin=_MARGIN, width=width),
        live_layout={
            "height": full * scale + 8 + _MARGIN["t"] + _MARGIN["b"],
            "xaxis": hidden | {"range": [-0.05, run + 0.05]},
            "yaxis": hidden | {"range": [-0.01, full + 8 / scale]},
        },
        annotations=(*theme.heading(title, under), *cover),
        alt=f"Ends of the logs in their zone, seen from the front. {title}; {under}.",
        caption=(
            "Equal logs, laid side by side; the next row lies in the hollows. Real "
            "logs are crooked and leave more gaps. Put the thickest at the bottom."
        ),
        numbers=Numbers(caption="Logs", headings=("what", "how much"), rows=rows),
    )
