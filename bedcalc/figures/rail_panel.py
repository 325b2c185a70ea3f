"""Right panel of the wall's close-up: the top rail seen from above, outward down."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedcalc.units import shown_in, unit_sign

from ..model.outcome import Outcome
from . import theme
from .shapes import EMPTY, area, line, marks
from .wall_words import before_words, level_words, likely_words, years_words

__all__ = ["OVER", "RailCurve", "rail_axes", "rail_notes", "rail_of", "rail_traces"]

OVER = 34.0  # px over the straight rail, for the marks and their words
_AXES = {"xaxis": "x3", "yaxis": "y2"}
_BAND = "rgba(86,180,233,0.30)"
_VEIL = "rgba(255,255,255,0.85)"
_WORDS = 60.0  # px kept for words under the lowest curve
_PAD = 14.0  # px from a corner to the end of the axis


@dataclass(frozen=True, kw_only=True)
class RailCurve:
    """Everything about the rail in the reader's units, and the scale of the panel."""

    x: np.ndarray
    once: np.ndarray
    low: np.ndarray
    high: np.ndarray
    years: np.ndarray
    before: tuple[np.ndarray, np.ndarray]
    aim: float
    plain: float
    ends: np.ndarray
    legs: np.ndarray  # posts that hold, of a trough
    posts: np.ndarray  # posts that move with the wall
    ties: np.ndarray
    sunk: bool  # whether the posts are set into the ground; they give all the same
    step: float
    bottom: float
    per_px: float
    past: bool  # it bows so badly that the sums carry no number


def rail_of(
    outcome: Outcome, before: Outcome | None, room: float, system: str
) -> RailCurve:
    """Gather the rail; ``room`` is px from the straight rail down to the axis."""
    s = outcome.walls.si

    def length(value):
        return shown_in(np.asarray(value, dtype=float), "size", system)

    def bow(value):
        return shown_in(np.asarray(value, dtype=float), "bow", system)

    ties, posts = np.asarray(s.ties_x), np.asarray(s.posts_x)
    if ties.size and posts.size:  # a post at a tie is held
        posts = posts[np.abs(posts[:, None] - ties).min(axis=1) > 0.01]
    none = np.empty(0)
    legs, posts = (posts, none) if s.family == "trough" else (none, posts)
    old = EMPTY
    if before is not None and before.walls.family != "blocks":
        old = length(before.walls.si.x), bow(before.walls.si.bow_x_years)
    curves = {
        n: bow(getattr(s, f"bow_x_{n}")) for n in ("once", "low", "high", "years")
    }
    plain = float(bow(s.bow_plain))
    deepest = max(float(c.max()) for c in (*curves.values(), old[1]) if len(c))
    below = _WORDS + (20.0 if len(old[1]) else 0.0)
    needed = max(deepest, plain) * room / (room - below)
    step = theme.nice_step(needed, 5)
    bottom = float(np.ceil(needed / step - 1e-9)) * step
    return RailCurve(
        x=length(s.x),
        **curves,
        before=old,
        aim=float(bow(s.bow_aim)),
        plain=plain,
        ends=length(s.x)[[0, -1]],
        legs=length(legs),
        posts=length(posts),
        ties=length(ties),
        sunk=bool(outcome.bed.si.post_depth > 0),
        step=step,
        bottom=bottom,
        per_px=bottom / room,
        past=bool(s.past_sums),
    )


def rail_traces(rail: RailCurve | None, wood_colour: str) -> list[dict]:
    """Straight line, band, curves, lines, marks; empty where there is no rail."""
    edge = {"color": theme.INK, "width": 1.6}
    straight = aim = plain = band = once = years = old = EMPTY
    corners = posts = ties = EMPTY
    if rail is not None:
        flat = np.zeros(2)
        straight, old = (rail.ends, flat), rail.before
        aim = rail.ends, flat + rail.aim
        plain = rail.ends, flat + rail.plain
        once, years = (rail.x, rail.once), (rail.x, rail.years)
        band = (
            np.concatenate([rail.x, rail.x[::-1]]),
            np.concatenate([rail.low, rail.high[::-1]]),
        )
        corners, posts, ties = (
            (x, np.zeros(len(x)))
            for x in (np.concatenate([rail.ends, rail.legs]), rail.posts, rail.ties)
        )
    traces = [
        line(straight, theme.CONTROL, theme.THIN),
        area(band, _BAND, width=0),
        line(once, theme.NOW, theme.LINE),
        line(old, theme.CONTROL, 1.6, dash="dot"),
        line(aim, theme.INK, 1.2, dash="5px,5px"),
        line(plain, theme.INK, 2.0, dash="12px,6px"),
        line(years, theme.LATER, theme.STRONG),
        marks(corners, 13, wood_colour, "square", **edge),
        marks(posts, 12, theme.PAPER, "square", **edge),
        marks(ties, 14, theme.HOLDS, "diamond", **edge),
    ]
    return [trace | _AXES for trace in traces]


def _level_notes(rail: RailCurve, outcome: Outcome, system: str) -> list[dict]:
    """Names of the two levels, outside at the right, never on each other."""
    s = outcome.walls.si
    apart = max(0.0, 15.0 - (rail.plain - rail.aim) / rail.per_px) / 2
    style = {"axes": ("x3 domain", "y2"), "size": theme.TICK, "xanchor": "left"}
    return [
        theme.note(
            f"{word} {level_words(value, system)}", 1, at, xshift=4, yshift=up, **style
        )
        for word, value, at, up in (
            ("aim", s.bow_aim, rail.aim, apart),
            ("seen", s.bow_plain, rail.plain, -apart),
        )
    ]


def _deepest(*curves) -> float:
    return max(float(curve.max()) for curve in curves)


def _free_place(rail: RailCurve, high: float) -> float:
    """Px below the straight rail where words of this height meet no line."""
    under = max(_deepest(rail.high, rail.years, rail.once) / rail.per_px, 8.0) + 6
    for value in (rail.aim, rail.plain):
        if under - 3 < value / rail.per_px < under + high:
            under = value / rail.per_px + 5
    return under


def _curve_notes(
    rail: RailCurve, outcome: Outcome, before, wide: float, system: str
) -> list[dict]:
    """Numbers under the curves, on a veil, so that no line strikes them through."""
    s = outcome.walls.si
    likely = likely_words(outcome, system)
    if theme.text_px(likely, theme.TICK) > wide + 12:
        likely = likely.replace(", ", "<br>")
    said = years_words(outcome, system)
    down = 19.0  # px from the first words to the next
    if theme.text_px(said, bold=True) > wide - 2 * _PAD:
        half = said.rfind(" ", 0, len(said) // 2 + 1)
        said, down = f"{said[:half]}<br>{said[half + 1 :]}", 37.0
    high = down + (35.0 if "<br>" in likely else 19.0)
    middle, under = float(rail.x.mean()), _free_place(rail, high)
    plain = s.bow_years > s.bow_plain * (1 + 1e-9)
    style = {"axes": ("x3", "y2"), "yanchor": "top", "bgcolor": _VEIL, "borderpad": 0}
    small = style | {"size": theme.TICK, "colour": theme.SECOND}
    words = f"<b>{said}</b>"
    colour = theme.LATER if plain else theme.INK
    notes = [
        theme.note(words, middle, under * rail.per_px, colour=colour, **style),
        theme.note(likely, middle, (under + down) * rail.per_px, **small),
    ]
    if len(rail.before[0]):
        old = max(_deepest(rail.before[1]) / rail.per_px + 5, under + high)
        words = before_words(outcome, before, system)
        notes.append(theme.note(words, middle, old * rail.per_px, **small))
    return notes


def _named(rail: RailCurve) -> tuple[tuple[np.ndarray, str], ...]:
    post = "post in ground" if rail.sunk else "post, no tie"
    return (rail.ties, "tie"), (rail.legs, "leg"), (rail.posts, post)


def _mark_notes(rail: RailCurve, wide: float) -> list[dict]:
    """Words over the marks: both corners, and the tie and post nearest the middle."""
    style = {"axes": ("x3", "y2"), "size": theme.TICK, "colour": theme.SECOND}
    style |= {"yshift": 17}
    left, right = (float(x) for x in rail.ends)
    notes = [
        theme.note("corner", left, 0.0, xanchor="left", xshift=-7, **style),
        theme.note("corner", right, 0.0, xanchor="right", xshift=7, **style),
    ]
    per_px, middle = (right - left) / (wide - 2 * _PAD), (left + right) / 2
    room = 42 * per_px
    taken = [(left, left + room), (right - room, right)]
    for found, word in _named(rail):
        half = theme.text_px(word, theme.TICK) / 2 * per_px
        for x in sorted((float(x) for x in found), key=lambda x: abs(x - middle)):
            if all(x + half < a or x - half > b for a, b in taken):
                notes.append(theme.note(word, x, 0.0, **style))
                taken.append((x - half, x + half))
                break
    return notes


def rail_notes(
    rail: RailCurve, outcome: Outcome, before: Outcome | None, wide: float, system: str
) -> list[dict]:
    """All words of the panel but its heading; ``wide`` is its width in px."""
    return [
        *_level_notes(rail, outcome, system),
        *_curve_notes(rail, outcome, before, wide, system),
        *_mark_notes(rail, wide),
    ]


def rail_axes(rail: RailCurve, wide: float, system: str) -> dict[str, dict]:
    """Both axes of the panel, without their place on the page."""
    steps = round(rail.bottom / rail.step)
    left, right = (float(x) for x in rail.ends)
    pad = (right - left) * _PAD / (wide - 2 * _PAD)
    return {
        "xaxis3": theme.axis(
            f"along the long wall, {unit_sign('size', system)}",
            range=[left - pad, right + pad],
            dtick=theme.nice_step(float(rail.x[-1]), 6),
        ),
        "yaxis2": theme.axis(
            f"outward, {unit_sign('bow', system)}",
            range=[rail.bottom, -OVER * rail.per_px],
            tickvals=[] if rail.past else [k * rail.step for k in range(steps + 1)],
        ),
    }
