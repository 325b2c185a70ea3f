"""The words of the bench: headline numbers, the live sentence, verdicts, fixes."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from ..evaluate import Outcome
from ..model.bed import Bed
from ..model.outcome import Check, price_words
from ..model.straightness import likely_bow
from ..questions.basis import Basis, basis_of, because, parts_of
from ..units import number, show, show_range, unit_sign
from .kit.style import headline, verdict_sign
from .kit.words import called, plain

__all__ = [
    "HEADS", "bed_title", "headline_bases", "headlines", "live_sentence", "fix_words",
    "rail_words", "shown_checks", "verdict_html",
]  # fmt: skip  # a list of names

#: what the numbers of the strip are
HEADS = ("the bill", "fill to order", "the wall", "barrow loads", "the weight")


def bed_title(bed: Bed) -> str:
    """What the list of beds calls it."""
    return f"{called(bed)}: {bed.title}" if bed.title else called(bed)


def rail_words(bed: Bed, system: str = "metric") -> list[tuple[bool, str]]:
    """The two ways a rail can lie, by the measure that takes the push."""
    thin, wide = bed.wall.rail_thin, bed.wall.rail_wide
    return [
        (False, show(thin, "stock", system)),
        (True, f"{show(wide, 'stock', system)}, lying"),
    ]


def headlines(outcome: Outcome, system: str) -> list[str]:
    """The five numbers of the strip, as HTML."""
    o = outcome

    def one(label, value, kind, digits=None):
        text, sign = show(value, kind, system), unit_sign(kind, system)
        number = text.removesuffix(f"\N{NO-BREAK SPACE}{sign}") if sign else text
        return headline(label, number, "" if number == text else sign)

    return [
        one("The bill", o.cost.total, "money"),
        one("Fill to order", o.fill.order_volume, "volume"),
        _bow_headline(o, system),
        headline("Barrow loads", number(float(o.fill.si.loads), 0)),
        one("Weight, soaked", o.size.mass_soaked / 1000 * 1000, "load mass"),
    ]


def headline_bases(outcome: Outcome, system: str) -> list[Callable[[], Basis]]:
    """What stands behind the five numbers, each made when somebody asks."""

    def one(name: str) -> Callable[[], Basis]:
        return lambda: basis_of(f"headline.{name}", parts_of(outcome), system)

    def wall() -> Basis:
        bow = outcome.check("bow")
        if bow is None:
            return one("stands")()
        return because(bow, parts_of(outcome), system)

    return [one("bill"), one("fill"), wall, one("barrows"), one("weight")]


def _bow_headline(outcome: Outcome, system: str) -> str:
    walls = outcome.walls
    if walls.family == "blocks":
        worst = min(walls.si.overturning_safety, walls.si.sliding_safety)
        return headline("Stands, times over", number(float(worst), 2))
    if walls.past_sums:
        return headline("Bow after years", "badly", "")
    text, _, unit = likely_bow(walls, system).partition("\N{NO-BREAK SPACE}")
    return headline("Bow after years", text, unit)


def shown_checks(outcome: Outcome, most: int) -> list[Check]:
    """The main verdicts, what does not hold first; details once the walls hold.

    A detail beside a wall that does not hold asks for the same fix, so it waits. A
    warning never waits.
    """
    main = [check for check in outcome.checks if not check.detail]
    broken = any(c.chapter == "walls" and not c.ok and not c.straight for c in main)
    more = [
        check
        for check in outcome.checks
        if check.detail
        and (check.verdict in ("fails", "watch") or (check.straight and not check.ok))
        and (check.always or not broken)
    ]
    found = sorted([*main, *more], key=lambda c: c.rank)
    warned = [c for c in found if c.always and c.verdict in ("fails", "watch")]
    kept = [c for c in found if c not in warned][: max(most - len(warned), 0)]
    return sorted([*kept, *warned[:most]], key=lambda c: c.rank)


def live_sentence(outcome: Outcome, system: str) -> str:
    """The one sentence that changes with every move, as HTML."""
    bed = outcome.bed
    shown = shown_checks(outcome, len(outcome.checks))
    failing = [c for c in shown if not c.ok and not c.straight]
    bent = [c for c in shown if not c.ok and c.straight]
    name = called(bed)
    cost = outcome.cost
    lists = (
        " by the US demo list"
        if outcome.place.prices and outcome.place.prices.name == "demo_us"
        else ""
    )
    size = (
        f"{name[0].upper()}{name[1:]}: {show(bed.length, 'size', system)} long, "
        f"{show(bed.width, 'size', system)} wide, {show(bed.height, 'size', system)} "
        "high"
    )
    if cost.priced:
        band = show_range(cost.low, cost.high, "money", system).replace(" to ", " and ")
        size += f", about {show(cost.total, 'money', system)}{lists}, "
        size += f"8 chances in 10 between {band}. "
    else:
        size += ". There are no prices yet: what it needs is counted in the bill. "
    if cost.priced and cost.missing:
        size += f"The bill is not complete: {cost.missing[0].split(';')[0]}. "
    saved = outcome.fill.si.saved
    money = ""
    if np.isfinite(saved) and abs(saved) >= 0.5:
        word = "saves" if saved > 0 else "costs"
        more = "" if saved > 0 else " more"
        money = (
            f"This fill {word} {show(abs(saved), 'money', system)}{more} against all "
            "bought mix. "
        )
    state = (
        "Everything checked holds"
        if not failing
        else "One thing does not hold"
        if len(failing) == 1
        else f"{len(failing)} things do not hold"
    )
    if bent:
        state += f", {'and' if failing else 'but'} {bent[0].goes} more than you want: "
        state += bent[0].word
    state += "."
    return f"<p>{plain(size)}{plain(money)}<strong>{plain(state)}</strong></p>"


def verdict_html(check: Check, system: str) -> tuple[str, str]:
    """Sign and sentence of a verdict."""
    first, _, rest = check.sentence(system).partition(";")
    words = f"<strong>{plain(first)}{';' if rest else ''}</strong>{plain(rest)}"
    if check.note:
        words = f'<p title="{plain(check.remark(system))}">{words}</p>'
    return verdict_sign(check), words


def fix_words(check: Check, system: str) -> str:
    """What the button says: the act and its price; nothing where none is needed."""
    fix = check.fix
    if fix is None or (check.ok and check.verdict != "watch") or not fix.works:
        return ""
    return f"{fix.sentence(system)}, {price_words(fix.cost, system)}"
