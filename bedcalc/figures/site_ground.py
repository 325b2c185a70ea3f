"""The ground in three dimensions with all beds let in, seen from below the plan."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from bedcalc.units import show

from . import theme
from .drawing import Drawing, Numbers
from .scene.camera import Frame, axes, fit
from .site_plan_words import ground_words

if TYPE_CHECKING:  # names for an editor
    from ..site.bed_levels import SitePlan

__all__ = ["ground_figure"]

_LIGHT = np.array([-0.35, -0.62, 0.70]) / np.linalg.norm([-0.35, -0.62, 0.70])
_LIMIT = 20.0  # m, larger plots are drawn smaller so that nothing is cut off
_TURF = "#B4CB90"


class _Faces:
    """Flat faces with their colours, and edges, collected one by one."""

    def __init__(self):
        self.corners, self.faces, self.paint, self.edges = [], [], [], []

    def quad(self, ring, colour, edge=True):
        """One face of four corners."""
        ring = np.asarray(ring, float)
        first = len(self.corners) * 4
        self.corners.append(ring)
        normal = np.cross(ring[1] - ring[0], ring[2] - ring[0])
        size = np.linalg.norm(normal)
        lit = abs(normal @ _LIGHT) / size if size > 1e-12 else 1.0
        if size > 1e-12 and abs(normal[2]) / size < 0.5:
            lit *= 0.6
        self.faces += [(first, first + 1, first + 2), (first, first + 2, first + 3)]
        self.paint += [_shade(colour, 0.66 + 0.40 * lit)] * 2
        if edge:
            self.edges += [*ring, ring[0], np.full(3, np.nan)]

    def box(self, x0, x1, y0, y1, low, high, colour, top=None):
        """A box; ``low`` and ``high`` are levels or functions of x and y."""
        lows = low if callable(low) else (lambda x, y: low)
        c = [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]
        for (ax, ay), (bx, by) in zip(c, [*c[1:], c[0]], strict=True):
            self.quad(
                [
                    (ax, ay, lows(ax, ay)),
                    (bx, by, lows(bx, by)),
                    (bx, by, high),
                    (ax, ay, high),
                ],
                colour,
            )
        self.quad([(x, y, high) for x, y in c], top or colour)


def _shade(colour: str, k: float) -> str:
    parts = [min(int(int(colour[i : i + 2], 16) * k), 255) for i in (1, 3, 5)]
    return f"rgb({parts[0]},{parts[1]},{parts[2]})"


def ground_figure(
    plan: SitePlan,
    *,
    system: str = "metric",
    narrow: bool = False,
    width: float | None = None,
    height: int = 430,
    view: str = "front",
) -> Drawing:
    """Draw the plot in three dimensions, true to scale.

    Parameters
    ----------
    plan : SitePlan
        Where the beds stand.
    system : str
        ``"metric"`` or ``"us"``.
    narrow : bool
        Only the names.
    width : float or None
        Pixels it will be shown at.
    height : int
        Pixels.
    view : str
        ``front``, ``end`` or ``above``.

    Returns
    -------
    Drawing
    """
    wide = int(width or (340 if narrow else 900))
    if narrow:
        height = min(height, 300)
    plot, (a, b, c) = plan.plot, plan.plane
    k = min(1.0, _LIMIT / max(plot.length, plot.width))

    def ground(x, y):
        return (a + b * x / k + c * -y / k) * k

    faces = _Faces()
    rim = [(x * k, -y * k) for x, y in plot.outline]
    low = min(ground(x, y) for x, y in rim) - 0.45 * k
    _slab(faces, ground, rim, low)
    for t in plot.things:
        if t.kind in ("fence", "cover"):
            _thing(faces, t, ground, k)
    posts = [t for t in plot.things if t.kind == "tree"]
    for t in posts:
        _tree(faces, t, ground, k)
    for bed in plan.beds:
        _bed(faces, bed, ground, k)
    frame = fit(_key_points(plan, ground, k, low), view, wide, height, (16, 44, 16, 20))
    mesh = _mesh(faces)
    edges = np.array(faces.edges)
    lift = 0.02 * axes(view)[2]
    return Drawing(
        traces=(
            mesh,
            {
                "type": "scatter3d", "mode": "lines", "hoverinfo": "skip",
                "x": edges[:, 0] + lift[0], "y": edges[:, 1] + lift[1],
                "z": edges[:, 2] + lift[2],
                "line": {"color": theme.EDGE, "width": 1.6},
            },
        ),
        layout=theme.base_layout(
            width=wide, margin={"l": 0, "r": 0, "t": 0, "b": 0},
            scene={
                **Frame.ranges(), "aspectmode": "manual", "dragmode": False,
                **frame.layout(),
            },
        ),
        live_layout={"height": height},
        annotations=tuple(_words(plan, frame, ground, k, system, narrow)),
        alt=f"The plot in three dimensions: the ground {ground_words(plan, system)}; "
        f"{len(plan.beds)} beds stand level in it, let in where the ground is higher.",
        caption="True to scale. Every rim is level; the ground runs up past the box on "
        "its uphill side."
        if plan.measured
        else "True to scale. The ground is not measured and is taken as level.",
        numbers=_numbers(plan, system),
    )  # fmt: skip  # rows of a table


def _slab(faces: _Faces, ground, rim, low) -> None:
    """The lawn as the plot has it, and the cut through the ground all round."""
    for a, b, c in _triangles(rim):
        ring = [(x, y, ground(x, y)) for x, y in (a, b, c, c)]
        faces.quad(ring, _TURF, edge=False)
    for (ax, ay), (bx, by) in zip(rim, [*rim[1:], rim[0]], strict=True):
        faces.quad(
            [
                (ax, ay, low),
                (bx, by, low),
                (bx, by, ground(bx, by)),
                (ax, ay, ground(ax, ay)),
            ],
            theme.MATERIAL["ground"],
            edge=False,
        )
        faces.edges += [np.array([x, y, ground(x, y)]) for x, y in ((ax, ay), (bx, by))]
        faces.edges.append(np.full(3, np.nan))


def _triangles(rim) -> list[tuple]:
    """A polygon cut into triangles, ear by ear."""

    def area(a, b, c) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    left = list(rim)
    whole = sum(
        area((0, 0), a, b) for a, b in zip(left, [*left[1:], left[0]], strict=True)
    )
    if whole < 0:
        left.reverse()
    found = []
    while len(left) > 3:
        for i, b in enumerate(left):
            a, c = left[i - 1], left[(i + 1) % len(left)]
            others = [p for p in left if p not in (a, b, c)]
            if area(a, b, c) > 0 and not any(
                min(area(a, b, p), area(b, c, p), area(c, a, p)) >= 0 for p in others
            ):
                found.append((a, b, c))
                break
        else:
            i = next(
                (
                    i
                    for i, b in enumerate(left)
                    if abs(area(left[i - 1], b, left[(i + 1) % len(left)])) < 1e-12
                ),
                0,
            )  # in line
        left.pop(i)
    return [*found, tuple(left)]


def _thing(faces: _Faces, t, ground, k) -> None:
    x0, x1 = t.x * k, (t.x + t.length) * k
    y0, y1 = -(t.y + t.width) * k, -t.y * k
    colour = {"fence": theme.MATERIAL["grass edge"], "cover": theme.MATERIAL["steel"]}
    top = max(ground(x, y) for x in (x0, x1) for y in (y0, y1))
    faces.box(
        x0,
        x1,
        y0,
        y1,
        ground,
        top + max(t.height, 0.03) * k,
        colour.get(t.kind, theme.MATERIAL["concrete"]),
    )


def _tree(faces: _Faces, t, ground, k) -> None:
    """A stem, and its crown as a ring at its height: what is behind stays seen."""
    x, y = t.middle[0] * k, -t.middle[1] * k
    foot, r = ground(x, y), t.length / 2 * k
    faces.box(
        x - 0.12 * k,
        x + 0.12 * k,
        y - 0.12 * k,
        y + 0.12 * k,
        foot,
        foot + 0.5 * t.height * k,
        theme.MATERIAL["bark"],
    )
    turn = np.linspace(0, 2 * np.pi, 37)
    for share, high in ((1.0, 0.5), (0.75, 0.75), (0.3, 1.0)):
        z = np.full_like(turn, foot + high * t.height * k)
        ring = np.column_stack(
            [x + r * share * np.cos(turn), y + r * share * np.sin(turn), z]
        )
        faces.edges += [*ring, np.full(3, np.nan)]


def _bed(faces: _Faces, bed, ground, k) -> None:
    s = bed.si
    x0, x1 = s.x * k, (s.x + s.length) * k
    y0, y1 = -(s.y + s.width) * k, -s.y * k
    top = (s.underside + s.height) * k

    def foot(x, y):
        return max(ground(x, y), s.underside * k)

    faces.box(x0, x1, y0, y1, foot, top, theme.MATERIAL["timber"])
    t = 0.06 * k
    faces.quad(
        [
            (x, y, top + 0.004)
            for x, y in (
                (x0 + t, y0 + t),
                (x1 - t, y0 + t),
                (x1 - t, y1 - t),
                (x0 + t, y1 - t),
            )
        ],
        theme.MATERIAL["mix"],
    )
    for x, y in ((x0, y0), (x1, y0), (x1, y1), (x0, y1)):
        if ground(x, y) < s.underside * k - 1e-6:
            faces.box(
                max(x - 0.1 * k, x0),
                min(x + 0.1 * k, x1),
                max(y - 0.1 * k, y0),
                min(y + 0.1 * k, y1),
                ground,
                s.underside * k,
                theme.MATERIAL["concrete"],
            )


def _key_points(plan, ground, k, low):
    found = [
        (x * k, -y * k, z)
        for x, y in plan.plot.outline
        for z in (low, ground(x * k, -y * k))
    ]
    for t in plan.plot.things:
        if t.height and t.kind != "house":
            for x in (t.x * k, (t.x + t.length) * k):
                y = -t.y * k
                found.append((x, y, ground(x, y) + t.height * k))
    return np.array(found)


def _mesh(faces: _Faces) -> dict:
    corners = np.concatenate(faces.corners)
    i, j, m = np.array(faces.faces).T
    return {
        "type": "mesh3d", "x": corners[:, 0], "y": corners[:, 1], "z": corners[:, 2],
        "i": i, "j": j, "k": m, "facecolor": np.array(faces.paint),
        "flatshading": True, "hoverinfo": "skip",
        "lighting": {"ambient": 1, "diffuse": 0, "specular": 0, "fresnel": 0,
                     "roughness": 1},
    }  # fmt: skip  # rows of a table


def _words(plan, frame, ground, k, system, narrow) -> list[dict]:
    common = {"xref": "paper", "yref": "paper", "showarrow": False}

    def at(point, text, **more):
        px = frame.pixels([point])[0]
        return common | {
            "x": 0.5,
            "y": 0.5,
            "xshift": float(px[0] - frame.width / 2),
            "yshift": float(frame.height / 2 - px[1]),
            "text": text,
            "font": {"size": theme.LABEL, "color": theme.INK},
            "xanchor": "center",
            "yanchor": "middle",
            **more,
        }

    found = [
        common | {
            "x": 0, "y": 1, "xanchor": "left", "yanchor": "top", "xshift": 12,
            "yshift": -8, "font": {"size": theme.TITLE, "color": theme.INK},
            "text": f"<b>{len(plan.beds)} level beds; the ground "
            f"{ground_words(plan, system)}</b>",
        }
    ]  # fmt: skip  # rows of a table
    for bed in plan.beds:
        s = bed.si
        middle = (
            (s.x + s.length / 2) * k,
            -(s.y + s.width / 2) * k,
            (s.underside + s.height) * k,
        )
        found.append(
            at(
                middle,
                f"<b>{bed.name}</b>",
                font={"size": theme.LABEL, "color": theme.PAPER},
            )
        )
    return found


def _numbers(plan, system) -> Numbers:
    rows = tuple(
        (
            f"bed {b.name}",
            show(float(b.si.exposed.min()), "stock", system),
            show(float(b.si.exposed.max()), "stock", system),
        )
        for b in plan.beds
    )
    return Numbers(
        caption="Wall above the ground", headings=("bed", "least", "most"), rows=rows
    )
