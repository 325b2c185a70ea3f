"""Blocks of workbook 03 to read: beds at a glance, blocks, metals, answers, checks."""

from __future__ import annotations

import ipywidgets

from ..evaluate import evaluate
from ..figures.utilisation_chart import part_words
from ..garden.garden import Garden
from ..model.outcome import MOST_SAID, Outcome, price_words
from ..questions.fixes import (
    TriedFix,
    as_wanted,
    cheapest_cure,
    first_to_fail,
    stands,
    wall_life,
)
from ..questions.repair import block_kinds, metals
from ..questions.validation_cases import checked
from ..tables import table
from ..units import number
from .cost_prices import list_for
from .desk import Desk, demo_garden_once
from .kit.style import care, html, paper
from .kit.view import facts_html, facts_table
from .kit.words import literal, markup, plain, source_line

__all__ = [
    "blocks_table", "checked_table", "is_priced", "metals_table", "percent", "price_of",
    "repairs", "short_answers", "six_beds",
]  # fmt: skip  # a list of names


def percent(share: float) -> str:
    """A share of the strength in words; past three times it only says so."""
    return f"{number(100 * share, 0)} %" if share <= MOST_SAID else "over 300 %"


def is_priced(tried: TriedFix) -> bool:
    """Whether it is known what a fix costs."""
    before, after = tried.before.cost, tried.after.cost
    return bool(after.priced) and set(after.missing) <= set(before.missing)


def price_of(tried: TriedFix, system: str) -> str:
    """What a fix costs more, or that nobody knows it yet."""
    if not is_priced(tried):
        return "price not known"
    words = price_words(tried.cost, system)
    if not {"embedment", "post_depth"} & set(tried.change):
        return words
    return f"{words} {'but' if words == 'no cost' else 'and'} digging"


def _folded(parts) -> ipywidgets.VBox:
    """Folded texts: heading, text, source line."""
    text = "".join(
        f"<details><summary>{plain(head)}</summary>{markup(body)}"
        f'<p class="bc-source">{plain(source)}</p></details>'
        for head, body, source in parts
    )
    return paper(html(text, "bc-folded"))


def repairs() -> ipywidgets.VBox:
    """What to do first, then, and never, for six things one finds; folded."""
    return _folded(
        (
            row.sign,
            f"**First.** {row.first}\n\n**Then.** {row.then}\n\n**Never.** {row.never}",
            source_line(row.source, row.where),
        )
        for row in table("repairs")
    )


def short_answers() -> ipywidgets.VBox:
    """Questions about walls that need a sentence, not a sum; folded."""
    return _folded(
        (row.ask, row.answer, source_line(row.source, row.where))
        for row in table("wall_answers")
    )


# ---- tables


#: what a wall that stands does not bear
_KEPT_OFF = {
    "sitting": "nobody on the rim",
    "trodden": "nobody on the fill",
    "treading": "do not tread the fill in",
}


def _bed_rows(garden: Garden, system: str) -> list[tuple[str, ...]]:
    """One line a bed: does it hold, what gives way first, the cheapest fix, life."""
    rows = []
    for bed in garden:
        place = garden.place
        o = evaluate(bed, place.change(prices=list_for(bed.wall, place)))
        best, worst, life = cheapest_cure(o), first_to_fail(o), wall_life(o)
        good, holds = as_wanted(o), stands(o)
        first = f"{part_words(worst.name, o)}, {percent(worst.utilisation)}"
        if worst.straight:
            first = f"{part_words(worst.name, o)}: {worst.word}"
        bow = o.check("bow")
        state = "✓ holds" if holds else "✕ does not hold"
        off = [_KEPT_OFF[c.name] for c in o.checks if c.name in _KEPT_OFF and not c.ok]
        state += "".join(f"; {words}" for words in off)
        if bow is not None:
            state += f"; {bow.sign} {bow.word}"
        rows.append(
            (
                f"**{literal(bed.name)}** {literal(bed.wall.name)}",
                state,
                first,
                "none needed"
                if good
                else (best.sentence(system) if best else "none found"),
                ""
                if good or best is None
                else price_of(best, garden.place.units(system)),
                f"{life.low:.0f} to {life.high:.0f} years: {life.what}",
            )
        )
    return rows


_HEADS = ("bed", "as drawn", "gives way first", "cheapest fix", "price", "lasts")


def six_beds(about: Desk) -> ipywidgets.VBox:
    """One line a bed: the reader's own beds as they are now, then the demo's six."""
    demo = facts_html(
        _HEADS,
        _bed_rows(demo_garden_once(), "metric"),
        "Six beds of the demo garden as they were drawn. Some do not hold, on purpose.",
    )
    page, shown = html("", "bc-scroll"), {}

    def write(outcome: Outcome) -> None:
        own = about.garden.beds if about.own else ()
        now = (own, about.place, str(about.system))
        if shown.get("now") == now:
            return
        shown["now"] = now
        caption = f"Your beds in {about.garden.name}, as they are now"
        mine = (
            facts_html(_HEADS, _bed_rows(about.garden, about.system), caption)
            if own
            else ""
        )
        page.value = mine + demo

    about.observe(write)
    made = paper(page)
    made.remove_class("bc-lesson")
    return made.add_class("bc-bench").add_class("bc-six")


def blocks_table(about: Desk) -> ipywidgets.VBox:
    """Other blocks in the place of a bed's: courses that stand, safety of three.

    It is about the reader's bed if that is of blocks, else about bed E of the demo.
    """
    page = html("", "bc-scroll")

    def write(outcome: Outcome) -> None:
        mine = about.own and outcome.bed.wall.family == "blocks"
        garden = demo_garden_once()
        o = outcome if mine else evaluate(garden["E"], garden.place)
        rows = [
            (
                kind.row.name,
                number(kind.courses, 0),
                number(kind.tipping, 2),
                number(kind.sliding, 2),
                source_line(kind.row.source, kind.row.where),
            )
            for kind in block_kinds(o)
        ]
        whose = f"your bed {o.bed.name}" if mine else "bed E of the demo garden"
        heads = (
            f"blocks of {whose}, soaked",
            "courses that stand",
            "3 courses, tipping",
            "3 courses, sliding",
            "weight from",
        )
        page.value = facts_html(heads, rows, "Needed is 1.50. Nothing in the joints.")

    about.observe(write)
    return paper(page, care("blocks_table"))


def checked_table() -> ipywidgets.VBox:
    """What books and standards print, and what comes out here."""
    rows = [
        (
            c.row.what,
            number(c.printed, c.digits),
            number(c.ours, c.digits),
            source_line(c.row.source, c.row.where),
        )
        for c in checked()
    ]
    return facts_table(("what", "printed", "here", "where it is printed"), rows)


def metals_table(about: Desk) -> ipywidgets.VBox:
    """Which screws and metals go with the wood of this bed; kept up to date."""
    page = html("", "bc-scroll")

    def write(outcome: Outcome) -> None:
        rows = [
            (row.wood, row.metal, "✓ yes" if row.good == "yes" else "✕ no", row.why)
            for row in metals(outcome)
        ]
        heads = ("wood or fill", "with", "good?", "why")
        page.value = (
            facts_html(heads, rows, f"For {about.name}, {outcome.bed.wall.name}")
            if rows
            else f"<p>No wood and no sheet in {plain(about.name)}: no list for it.</p>"
        )

    about.observe(write)
    return paper(page, care("metals_table"))
