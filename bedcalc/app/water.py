"""Views of workbook 07: a summer day by day, fills, days away, a tank, ways."""

from __future__ import annotations

import ipywidgets

from ..figures.fill_comparison import small_first
from ..figures.water import fills_figure, summer_figure, tank_figure
from ..model.climate import MONTHS
from ..questions.watering import (
    absence,
    fills_by_water,
    gauge,
    summer_of,
    tank_of,
    ways_to_water,
)
from ..tables import table
from ..units import Q_, from_si, number, show
from .kit.controls import list_row, slider_row
from .kit.grading import Item, Key, Question
from .kit.style import care, html, paper
from .kit.view import Desk, View, facts_html
from .kit.words import asked_of

__all__ = [
    "away_view", "fills_view", "gauge_view", "item", "summer_view", "tank_view",
    "water_sentence", "ways_block",
]  # fmt: skip  # a list of names

_NO_RAIN = " Give the rain of each month too, to see a summer day by day."


def _count(n: int, thing: str) -> str:
    return f"{n} {thing}{'' if n == 1 else 's'}"


def unknown(about: Desk) -> str:
    """What to enter before anything can be said; empty where all is known."""
    asks = about.outcome.water.asks
    return f"{asks} In workbook 06 you can enter the climate." if asks else ""


def water_sentence(about: Desk) -> str:
    """How often to water in the driest month, and how much."""
    if words := unknown(about):
        return words
    found, system = about.outcome.water, about.system
    month = MONTHS[found.month]
    words = f"In a dry {month}, water every **{_count(found.days, 'day')}**, "
    words += f"**{show(found.each, 'water', system)}** each time. "
    words += f"The roots reach {show(found.holds, 'rain', system)} of water; "
    words += f"plants take {show(found.easy, 'rain', system)} of it before they suffer."
    return words


def _crop_rows(about: Desk):
    bed = about.bed
    crops = [(row.key, row.name) for row in table("crops")]
    around = [(row.key, row.name) for row in table("surroundings")]
    return (
        list_row("Crop", crops, bed.crop, name="crop"),
        list_row("Stands", around, bed.around, name="around"),
        slider_row(
            "Leaves outside", "m^2", 0, 6, 1, bed.trailing, name="trailing",
            us=("ft^2", 0, 64, 1),
        ),
    )  # fmt: skip  # rows of a table


def _reads(about: Desk) -> dict:
    bed = about.bed
    return {"crop": bed.crop, "around": bed.around, "trailing": bed.trailing}


def _writes(about: Desk, moved: dict) -> None:
    change = {k: moved[k] for k in ("crop", "around", "trailing") if k in moved}
    if change:
        about.take(about.bed.change(**change))


def summer_view(about: Desk) -> View:
    """Choose crop, place and day; see the water of a summer."""
    kept: dict = {}  # the day moves often, the summer seldom

    def summer(seed: int, water: bool):
        key = (about.bed, about.place, seed, water)
        if kept.get("key") != key:
            kept.update(key=key, found=summer_of(about.outcome, seed, water=water))
        return kept["found"]

    def render(values, size):
        words = water_sentence(about)
        if unknown(about):
            return None, words
        found = summer(values["summer"], values["watered"] == "yes")
        if found is None:
            return None, words + _NO_RAIN
        last = len(found.days.rain) - 1
        drawing = summer_figure(
            about.outcome.water, found.layered, first=found.first,
            day=min(values["day"], last), easy=found.easy, system=about.system, **size,
        )  # fmt: skip  # rows of a table
        if values["watered"] == "yes":
            words += f" This summer takes {show(found.litres, 'water', about.system)} "
            words += f"in {_count(found.layered.waterings, 'watering')}."
        return drawing, words

    rows = (
        *_crop_rows(about),
        list_row("Watered", [("yes", "before plants suffer"), ("no", "never")], "yes",
                 name="watered"),
        slider_row("Day", "", 0, 152, 1, 60, name="day"),
        slider_row("Summer no.", "", 1, 30, 1, 1, name="summer"),
    )  # fmt: skip  # rows of a table
    return View(
        about, rows, render, name="summer", reads=lambda: _reads(about),
        writes=lambda moved: _writes(about, moved),
        presets={
            "Tomatoes": {"crop": "tomato"},
            "Vines over the rim": {"crop": "squash", "trailing": Q_(3, "m^2")},
            "Never watered": {"watered": "no"},
        },
    )  # fmt: skip  # rows of a table


def fills_view(about: Desk) -> View:
    """See what each way to fill would do to the days between waterings."""

    def render(values, size):
        if words := unknown(about):
            return None, words
        rows, mine = fills_by_water(about.outcome)
        drawing = fills_figure(rows, mine=mine, system=about.system, **size)
        best, least = rows[0], rows[-1]
        words = f"Longest lasts **{small_first(best[0])}**: {number(best[1], 1)} days. "
        words += f"Shortest: {small_first(least[0])}, {number(least[1], 1)} days. "
        words += "Fresh wood holds a lot of water, but roots reach little of it."
        return drawing, words

    return View(about, (), render, name="water_fills")


def away_view(about: Desk) -> View:
    """Go away for some days; see when the plants suffer."""

    def render(values, size):
        if words := unknown(about):
            return None, words
        found = absence(about.outcome, values["days"], values["month"])
        month = MONTHS[values["month"]]
        if found.suffers >= 300:
            return None, f"In {month} this bed uses hardly any water."
        words = f"Watered well before you leave, and no rain in {month}: plants begin "
        words += f"to suffer on day **{found.suffers + 1}** and wilt about day "
        words += f"**{found.wilts + 1}**. When you come back, "
        words += f"{number(100 * found.left, 0)} % of the water in reach is left. "
        days = values["days"]
        if days <= found.suffers:
            words += "✓ Nobody has to come."
        else:
            come = -(-days // max(found.suffers, 1)) - 1
            times = "once" if come == 1 else f"{come} times"
            words += f"✕ Somebody has to water {times}. A mulch of 5 cm "
            words += "saves some of it."
        return None, words

    at = about.outcome.water.month
    months = [(i, name) for i, name in enumerate(MONTHS)]
    rows = (
        slider_row("Days away", "", 1, 30, 1, 14, name="days"),
        list_row("Month", months, 6 if at is None else at, name="month"),
    )
    return View(about, rows, render, name="away")


def gauge_view(about: Desk) -> View:
    """Read the rain gauge; see how much to water all the same."""

    def render(values, size):
        if words := unknown(about):
            return None, words
        litres = gauge(about.outcome, values["rain"].m_as("m"), values["since"])
        days = _count(values["since"], "day")
        if litres < 1:
            return None, f"After {days} this rain was enough. **Do not water.**"
        words = (
            f"After {days} with {show(values['rain'], 'rain', about.system)} of rain, "
        )
        words += f"give **{show(Q_(litres, 'L'), 'water', about.system)}**."
        return None, words

    rows = (
        slider_row("Rain", "mm", 0, 60, 1, Q_(8, "mm"), name="rain"),
        slider_row("Days since", "", 1, 14, 1, 5, name="since"),
    )
    return View(about, rows, render, name="gauge")


def tank_view(about: Desk) -> View:
    """Choose roof and tank; see which months the tank carries."""

    def render(values, size):
        if words := unknown(about):
            return None, words
        months = tank_of(
            about.outcome, values["roof"].m_as("m^2"), values["tank"].m_as("m^3")
        )
        if months is None:
            return None, "Give the rain of each month to see what a tank collects."
        given, missing, left, over = months
        drawing = tank_figure(given, missing, left, system=about.system, **size)
        total = given.sum() + missing.sum()
        share = 100 * given.sum() / total if total > 0 else 100
        words = f"In a usual year this bed wants {show(total, 'water', about.system)} "
        words += "more than rain brings. The tank gives "
        words += f"**{number(share, 0)} %** of it. In a dry year it gives less."
        return drawing, words

    rows = (
        slider_row("Roof", "m^2", 1, 100, 1, Q_(4, "m^2"), name="roof",
                   us=("ft^2", 10, 1080, 10)),
        slider_row("Tank", "L", 50, 5000, 50, Q_(200, "L"), name="tank",
                   us=("gallon", 10, 1320, 10)),
    )  # fmt: skip  # rows of a table
    return View(about, rows, render, name="tank")


def ways_block(about: Desk) -> ipywidgets.VBox:
    """Can, hose, drip line, clay pots: litres and hours of the summer above."""
    page = html("", "bc-scroll")

    def write(outcome) -> None:
        summer = summer_of(outcome) if not outcome.water.asks else None
        if summer is None:
            page.value = f"<p>{unknown(about) or _NO_RAIN.strip()}</p>"
            return
        rows = [
            (
                way.row.name,
                show(Q_(way.litres, "L"), "water", about.system),
                f"{number(way.each, 0)} min",
                f"{number(way.hours, 0)} h" if way.row.attended == "yes" else "none",
            )
            for way in ways_to_water(outcome, summer)
        ]
        heads = ("way", "from the tap in a summer", "one watering takes", "your time")
        page.value = facts_html(
            heads, rows, f"Bed {outcome.bed.name}. Flow and losses: common practice."
        )

    about.observe(write)
    return paper(page, care("ways_block"))


def _each_facts(outcome) -> dict:
    found = outcome.water
    return {
        "bed": asked_of(outcome.bed, outcome.place),
        "area": (found.area, "area"),
        "rain": (Q_(20, "mm"), "rain"),
    }


def _days_facts(outcome) -> dict:
    return {
        "bed": asked_of(outcome.bed, outcome.place),
        "holds": (outcome.water.holds, "rain"),
        "half": (outcome.water.holds * _TAKEN, "rain"),
        "use": (Q_(4, "mm"), "rain"),
    }


#: of the check: plants take so much of what is there, and use 4 mm a day
_TAKEN = 0.35


def _days(outcome, share: float = _TAKEN):
    """Whole days that the water lasts which plants take without suffering."""
    return float(max(int(outcome.water.holds.m_as("mm") * share / 4 + 1e-9), 1))


KEYS = {
    "each": Key(
        answer=lambda o: from_si(o.water.si.area * 0.020, "L"),
        mistakes={
            "tenth": lambda o: from_si(o.water.si.area * 0.002, "L"),
            "outside": lambda o: from_si(
                float(o.size.outside_area.m_as("m^2")) * 0.020, "L"
            ),
        },
        facts=_each_facts,
    ),
    "days": Key(
        answer=_days,
        mistakes={"all": lambda o: _days(o, 1.0)},
        facts=_days_facts,
    ),
    "wood": Key(answer=lambda outcome: "logs"),
    "light": Key(answer=lambda outcome: "nothing"),
}


def item(name: str) -> Item:
    """A question of workbook 07 with its key."""
    return Item(question=Question.read(name, "07"), key=KEYS[name])
