"""Words and tables of the wall's close-up."""

from __future__ import annotations

from bedcalc.model.straightness import PAST, bow_words, likely_bow, scale
from bedcalc.units import show

from ..model.outcome import Outcome
from .drawing import Numbers

__all__ = [
    "alt_text", "before_words", "bows_badly", "caption", "drowns", "finding",
    "level_words", "likely_words", "numbers", "push_finding", "rail_word",
    "years_words",
]  # fmt: skip  # a list of names

_GAP = "\N{NO-BREAK SPACE}"
_STATE = {
    "moist": "moist",
    "soaked": "after long rain",
    "waterlogged": "under standing water",
}


def level_words(value: float, system: str) -> str:
    """A level of the scale as shown; a tenth of an inch would be too coarse."""
    return show(value, "fine" if system == "us" else "bow", system)


def bows_badly(outcome: Outcome) -> bool:
    """Where it bows so badly that the sums carry no number."""
    return outcome.walls.past_sums


def years_words(outcome: Outcome, system: str) -> str:
    """The bow after years, or that it is past telling."""
    if bows_badly(outcome):
        return PAST
    return f"{bow_words(outcome.walls, 'years', system)} after years"


def likely_words(outcome: Outcome, system: str) -> str:
    """Bow at once, and the likely range after years."""
    walls = outcome.walls
    if bows_badly(outcome):
        return "no number is worth saying"
    once = bow_words(walls, "once", system).split(_GAP)[0]
    if not once.strip("0."):
        return "next to nothing at once"
    likely = likely_bow(walls, system, " to ").split(_GAP)[0]
    return f"{once} at once, likely {likely}"


def before_words(outcome: Outcome, before: Outcome | None, system: str) -> str:
    """What the grey dotted curve is."""
    gained = outcome.bed.ties - before.bed.ties
    bow = bow_words(before.walls, "years", system)
    if bows_badly(before):
        bow = "bowed badly"
    many = "s" if abs(gained) > 1 else ""
    how = {1: f", without the tie{many}", -1: f", with the tie{many}", 0: ""}
    return f"before{how[(gained > 0) - (gained < 0)]}: {bow}"


def rail_word(family: str) -> str:
    """What runs along the top of the wall."""
    return {"sheet": "rail", "sleepers": "sleeper"}.get(family, "board")


def push_finding(outcome: Outcome, system: str) -> str:
    """Title of the left panel."""
    moist = outcome.walls.cases["moist"].si
    return f"Fill pushes {show(float(max(moist.pressure)), 'pressure', system)}"


def finding(outcome: Outcome) -> str:
    """Title of the right panel: what is seen there, in words."""
    s = outcome.walls.si
    if outcome.walls.family == "blocks":
        names = {"tipping": "tips over", "sliding": "slides"}
        failed = [
            names[c.name] for c in outcome.walls.checks if c.name in names and not c.ok
        ]
        return f"Stacked wall: {' and '.join(failed) or 'stands'}"
    title = f"Top {rail_word(outcome.walls.family)} from above: "
    if bows_badly(outcome):
        return title + "bows badly"
    return title + scale(s.bow_years / (120 * s.bow_plain)).name


def drowns(outcome: Outcome) -> bool:
    """Whether water can stand in the bed, so that its push is shown as well."""
    return outcome.check("waterlogged") is not None


def _states(outcome: Outcome) -> list[str]:
    return ["moist", "soaked", *(("waterlogged",) if drowns(outcome) else ())]


def _most(outcome: Outcome, state: str, system: str) -> str:
    return show(float(max(outcome.walls.cases[state].si.pressure)), "pressure", system)


def _push_sentence(outcome: Outcome, system: str) -> str:
    words = [f"{_most(outcome, n, system)} {_STATE[n]}" for n in _states(outcome)]
    return f"The push of the fill grows with depth, to {' and '.join(words)}."


def alt_text(outcome: Outcome, before: Outcome | None, system: str) -> str:
    """What the picture shows, its trend, its key numbers."""
    s = outcome.walls.si
    push = f"Two panels. Left: {_push_sentence(outcome, system)}"
    if outcome.walls.family == "blocks":
        needed = next(c for c in outcome.walls.checks if c.name == "tipping").demand
        return (
            f"{push} Right: two bars, soaked: against tipping over "
            f"{show(s.overturning_safety, 'ratio')}, against sliding "
            f"{show(s.sliding_safety, 'ratio')}; "
            f"{show(float(needed.m_as('')), 'ratio')} is needed."
        )
    ties = len(s.ties_x)
    held = f"{ties} tie{'s' if ties != 1 else ''}" if ties else "no tie"
    held = "held at its legs" if outcome.walls.family == "trough" else f"with {held}"
    how = PAST
    if not bows_badly(outcome):
        how = f"bows out {years_words(outcome, system)} "
        how += f"({bow_words(outcome.walls, 'once', system)} at once)"
    words = (
        f"{push} Right: the top {rail_word(outcome.walls.family)} seen from above, "
        f"{held}, {how}; you aim at {level_words(s.bow_aim, system)}, and past "
        f"{level_words(s.bow_plain, system)} everybody sees it."
    )
    if before is not None and before.walls.family != "blocks":
        words += f" Dotted: {before_words(outcome, before, system)}."
    return words


def caption(outcome: Outcome, system: str) -> str:
    """What to see in the picture."""
    push = "Left: each layer pushes with its own share of the weight above it, so the "
    push += "push jumps where layers meet."
    if outcome.walls.family == "blocks":
        return f"{push} Right: a stacked wall stands by its weight alone."
    return (
        f"{push} Right: outward is down and drawn much larger than life; a filled "
        "mark holds, a hollow one is a post that moves with the wall; the band is the "
        "likely range after years."
    )


def numbers(outcome: Outcome, system: str) -> Numbers:
    """Push at the top and foot of each layer, then the bow or the safety."""
    s, rows = outcome.walls.si, []
    for state in _states(outcome):
        case = outcome.walls.cases[state].si
        for depth, pressure in zip(case.depth, case.pressure, strict=True):
            where = f"push {show(float(depth), 'depth', system)} deep, {_STATE[state]}"
            rows.append((where, show(float(pressure), "pressure", system)))
    if outcome.walls.family == "blocks":
        rows.append(("safety against tipping", show(s.overturning_safety, "ratio")))
        rows.append(("safety against sliding", show(s.sliding_safety, "ratio")))
    else:
        bows = (
            ("bow at once", "once"),
            ("bow after years, as judged", "years"),
            ("bow after years, low end", "low"),
            ("bow after years, high end", "high"),
        )
        rows += [(name, bow_words(outcome.walls, key, system)) for name, key in bows]
        rows += [
            ("your aim", level_words(s.bow_aim, system)),
            ("everybody sees it from", level_words(s.bow_plain, system)),
        ]
        places = (("post", s.posts_x), ("tie", s.ties_x))
        rows += [
            (f"{name}, along the wall", show(float(x), "size", system))
            for name, found in places
            for x in found
        ]
    return Numbers(
        caption=f"The long wall of bed {outcome.bed.name}",
        headings=("what", "how much"),
        rows=tuple(rows),
    )
