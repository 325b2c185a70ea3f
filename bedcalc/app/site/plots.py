"""Views of the plot: plan, ways, sun, storm, other layouts, three dimensions."""

from __future__ import annotations

import ipywidgets
import numpy as np

from ...figures.site_curves import stairs_figure, sun_figure, swale_figure
from ...figures.site_ground import ground_figure
from ...figures.site_plan import plan_figure
from ...model.place import PlaceError
from ...questions.site_plan import DAYS, sun_asks
from ...tables import table
from ...units import Q_, show
from ..kit.check_row import VerdictRow
from ..kit.controls import choice_row, list_row, slider_row
from ..kit.style import html, paper
from ..kit.view import View
from .desk import SiteDesk

__all__ = [
    "fill_view", "ground_view", "plan_view", "stairs_view", "storm_view", "sun_view",
    "verdicts",
]  # fmt: skip  # a list of names


_ROWS = 12  # verdicts there can be at most
_TURNS = [(False, "across"), (True, "down")]


def plan_view(desk: SiteDesk) -> View:
    """The plot from above; beds are moved by numbers."""
    see = choice_row(
        "Show",
        [("depths", "dig"), ("routes", "ways"), ("sun", "sun"), ("water", "rain")],
        "depths",
        name="see",
    )
    wheels = [(row.key, row.name) for row in table("paths")]
    wheel = list_row("For", wheels, desk.wheel, name="wheel")
    day = list_row("Day", list(DAYS), desk.day, name="day")
    bed = list_row("Move bed", desk.names, desk.current, name="bed")
    left, right, top, low = (round(100 * v) for v in desk.plot.bounds)
    first = desk.bed(bed.value)
    x = slider_row("Along (x)", "cm", min(left, 0), right, 5, first.x, name="x")
    y = slider_row("Down (y)", "cm", min(top, 0), low, 5, first.y, name="y")
    turned = choice_row("Long side", _TURNS, first.turned, name="turned")

    def reads():
        if [key for key, _ in bed.options] != desk.names:
            kept = bed.value if bed.value in desk.names else desk.current
            bed.relist(desk.names, kept)
        found = desk.bed(bed.value)
        return {
            "x": found.x,
            "y": found.y,
            "turned": found.turned,
            "wheel": desk.wheel,
            "day": desk.day,
        }

    def writes(moved):
        to = {k: moved[k] for k in ("x", "y", "turned") if k in moved}
        if to:
            desk.move(bed.value, **to)
        desk.take(**{k: moved[k] for k in ("wheel", "day") if k in moved})

    def render(values, size):
        wheel.shown, day.shown = see.value == "routes", see.value == "sun"
        more = {}
        if values["see"] == "routes":
            more["walk"] = desk.walk
        if values["see"] == "sun":
            more["sun"] = desk.sun
        if values["see"] == "water":
            more["water"] = desk.overflow
        figure = plan_figure(
            desk.plan,
            view=values["see"],
            pick=values["bed"],
            system=desk.system,
            **more,
            **size,
        )
        return figure, _said(desk, values["see"])

    def back() -> str:
        desk.take(beds=desk.garden.beds)
        return "All beds stand where they stood when this workbook was opened."

    return View(
        desk,
        [see, wheel, day, bed, x, y, turned],
        render,
        name="plan",
        reads=reads,
        writes=writes,
        acts={"All beds back": back},
    )


def _said(desk: SiteDesk, see: str) -> str:
    plan, q = desk.plan, desk.system
    if see == "routes":
        farthest = max(desk.walk.routes, key=lambda r: np.nan_to_num(r.hose))
        turns = [r.name for r in desk.walk.routes if not r.turns]
        words = (
            f"The hose needs **{show(farthest.hose, 'size', q)}** to the far corner of "
            f"bed {farthest.name}. "
            if np.isfinite(farthest.hose)
            else ""
        )
        words += (
            f"A wheelchair can turn round within {show(2, 'size', q)} of every bed."
            if not turns
            else f"No room to turn a wheelchair near: {', '.join(turns)}."
        )
        if plan.outlined and plan.plot.of_kind("gate") is None:
            words += " No gate given: ways begin anywhere along the edge of the plot."
        if not plan.outlined:
            words += " No plot outline given: ways begin anywhere round the beds."
        if not plan.measured:
            words += " How steep the ways are is open until the ground is measured."
        return words
    if see == "sun" and desk.sun is None:
        return sun_asks(desk.place)
    if see == "sun":
        found = desk.sun.beds
        best, worst = max(found, key=found.get), min(found, key=found.get)
        return (
            f"At latitude {_latitude(desk)}, on {desk.day}, bed {best} has "
            f"**{found[best]:.1f} hours** of sun, bed {worst} **{found[worst]:.1f}**. "
            "Fruit wants 6 to 8 hours, leaves manage with 4."
        )
    if see == "water" and not plan.measured:
        return plan.check("slope").sentence(q)
    if see == "water":
        bad = [c for c in desk.overflow.checks if not c.ok]
        words = " ".join(c.sentence(q) for c in bad or desk.overflow.checks)
        return (
            f"{words} Let it spread on your own grass, never run to a neighbour, a "
            "building or a steep bank. The storm is set in part 4."
        )
    failing = [c for c in desk.checks if c.verdict == "fails"]
    words = (
        f"{len(plan.beds)} beds: **{show(plan.si.cut, 'volume', q)}** to dig out, "
        f"**{show(plan.si.heap, 'volume', q)}** on the heap. "
        if plan.measured
        else f"{len(plan.beds)} beds. "
    )
    if plan.outlined:
        share = show(plan.si.bed_share, "percent", q)
        words += f"Beds cover {share} of the plot. "
    else:
        words += "No plot outline given. "
    if not plan.measured:
        return words + plan.check("slope").sentence(q)
    return words + (failing[0].sentence(desk.system) if failing else "All checks hold.")


def verdicts(desk: SiteDesk) -> ipywidgets.VBox:
    """What the checks of the plot say, kept up to date, with buttons that fix."""
    rows = [VerdictRow(desk.fix) for _ in range(_ROWS)]

    def write(plan) -> None:
        checks, parts = desk.checks, {"plan": desk.plan, "rain": desk.storm}
        for i, row in enumerate(rows):
            row.show(checks[i] if i < len(checks) else None, desk.system, parts)

    desk.observe(write)
    head = html('<h3 class="bc-heading">What the numbers say</h3>')
    made = paper(head, *(row.widget for row in rows))
    made.add_class("bc-view-verdicts")
    return made


def ground_view(desk: SiteDesk) -> View:
    """The ground with all beds in three dimensions."""
    look = choice_row(
        "Look from",
        [("front", "front"), ("end", "end"), ("above", "above")],
        "front",
        name="look",
    )

    def render(values, size):
        q = desk.system
        least = min(float(b.si.exposed.min()) for b in desk.plan.beds)
        words = f"Every rim is level. The lowest wall shows {show(least, 'depth', q)}."
        return (
            ground_figure(desk.plan, view=values["look"], system=desk.system, **size),
            words,
        )

    return View(desk, [look], render, name="ground")


def stairs_view(desk: SiteDesk) -> View:
    """How many equal beds fit as the path grows."""
    size_ = desk.size
    path = slider_row("Path", "cm", 40, 200, 5, size_["path"], name="path")
    long_ = slider_row("Bed length", "cm", 100, 400, 10, size_["length"], name="length")
    wide = slider_row("Bed width", "cm", 50, 150, 5, size_["width"], name="width")

    def render(values, size):
        try:
            q, f = desk.system, desk.filling
        except PlaceError as error:
            return None, f"Too large: {error}."
        many = {k: len(v) for k, v in f.ways.items()}
        words = (
            f"Long sides across the plan: **{many['along']}** beds. Turned: "
            f"**{many['turned']}**. Mixed: **{many['mixed']}**. Round what is in the "
            f"way: **{many['around']}**. "
        )
        if f.rows > 1:
            words += (
                f"Across the plan there are {f.rows} rows, and evenly spread their "
                f"paths become {show(f.real_path, 'size', q)}."
            )
        return stairs_figure(f, system=desk.system, **size), words

    return View(
        desk,
        [path, long_, wide],
        render,
        name="stairs",
        reads=lambda: {k: desk.size[k] for k in ("path", "length", "width")},
        writes=lambda moved: desk.take(size=desk.size | moved),
    )


def fill_view(desk: SiteDesk) -> View:
    """The same beds drawn on the plot, in four ways."""
    way = list_row(
        "Way",
        [
            ("along", "long sides across the plan"),
            ("turned", "long sides down the plan"),
            ("mixed", "mixed"),
            ("around", "round what is in the way"),
        ],
        "along",
        name="way",
    )

    def render(values, size):
        try:
            f, name = desk.filling, values["way"]
        except PlaceError as error:
            return None, f"Too large: {error}."
        spots = f.ways[name]
        words = (
            f"{len(spots)} beds cover {100 * f.share[name]:.0f} % of the plot; "
            f"**{f.free[name]}** of them stand clear of what is in the way."
        )
        figure = plan_figure(desk.plan, spots=spots, system=desk.system, **size)
        return figure, words

    return View(desk, [way], render, name="fill")


def sun_view(desk: SiteDesk) -> View:
    """The sun's way on the chosen day, at the latitude of the place."""
    day = list_row("Day", list(DAYS), desk.day, name="day")
    now = desk.place.latitude
    start = Q_(0, "deg") if now is None else now
    latitude = slider_row("Latitude", "deg", -66, 66, 1, start, name="latitude")

    def reads():
        known = desk.place.latitude is not None
        more = {"latitude": desk.place.latitude} if known else {}
        return {"day": desk.day} | more

    def writes(moved):
        if "latitude" in moved:
            desk.take(place=desk.place.change(latitude=moved["latitude"]))
        if "day" in moved:
            desk.take(day=moved["day"])

    def render(values, size):
        s, q = desk.sun, desk.system
        if s is None:
            return sun_figure(None, system=q, **size), sun_asks(desk.place)
        words = (
            f"For latitude **{_latitude(desk)}** (south of the equator is negative). "
            f"On {s.day} the noon sun stands **{s.highest:.0f}°** high. "
        )
        if np.isfinite(s.shade):
            words += (
                f"A fence of {show(1.8, 'size', q)} throws a shade of "
                f"**{show(1.8 * s.shade, 'size', q)}** then, longer in the "
                "morning and in the evening."
            )
        return sun_figure(s, system=desk.system, **size), words

    return View(desk, [latitude, day], render, name="sun", reads=reads, writes=writes)


def _latitude(desk: SiteDesk) -> str:
    degrees = float(desk.place.latitude.m_as("deg"))
    side = "south" if degrees < 0 else "north"
    return f"{abs(degrees):g}° {side}"


def _heavy_words(desk: SiteDesk) -> str:
    """Whether the reader's own place is known to have such rain."""
    if not desk.own:
        return ""
    heavy = desk.place.climate.heavy_day if desk.place.climate else None
    q, here = desk.system, desk.rain["rain"]
    if heavy is None:
        return (
            " The rain of your heaviest day in ten years is not known: this is a day "
            f"with {show(here, 'bow', q)}. Enter yours in part 3, under *Heaviest day*."
        )
    if abs((heavy - here).m_as("mm")) < 0.5:
        return " That is your heaviest day in ten years."
    return f" Your heaviest day in ten years brings {show(heavy, 'bow', q)}."


def storm_view(desk: SiteDesk) -> View:
    """A storm, and the swale that holds it."""
    r = desk.rain
    rain = slider_row("Rain", "mm", 5, 1000, 1, r["rain"], name="rain")
    area = slider_row("Uphill", "m^2", 20, 1000, 10, r["area"], name="area")
    long_ = slider_row("Swale", "m", 3, 30, 1, r["swale_length"], name="swale_length")
    covers = [(row.key, row.name) for row in table("curve_numbers")]
    cover = list_row("Cover", covers, r["cover"], name="cover")

    def render(values, size):
        q, s = desk.system, desk.storm
        words = (
            f"**{show(s.si.volume, 'volume', q)}** run down. A swale "
            f"{show(s.si.swale_length, 'size', q)} long must be "
            f"**{show(s.si.swale_dig, 'depth', q)}** deep and "
            f"{show(s.si.swale_width, 'size', q)} wide. It is empty after about "
            f"{show(s.si.empties, 'time', q)}."
        )
        if s.too_deep:
            deep = show(0.2, "depth", q)
            words += f" The water in it is deeper than {deep}: **fence it from small "
            words += "children, or make it longer**."
        if s.note:
            words += f" {s.note}"
        words += _heavy_words(desk)
        return swale_figure(s, system=desk.system, **size), words

    return View(
        desk,
        [rain, area, long_, cover],
        render,
        name="storm",
        reads=lambda: dict(desk.rain),
        writes=lambda moved: desk.take(rain=desk.rain | moved),
    )
