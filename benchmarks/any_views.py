"""What random gardens are drawn, said, printed and saved as; see any_bed.py."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import numpy as np

import bedcalc as bc
from bedcalc import Q_, Bed, BedError, Garden, Outcome, Place
from bedcalc.app import cost, cost_order, cutting, fill, size, walls
from bedcalc.app.desk import Desk
from bedcalc.app.kit import stack
from bedcalc.app.session import Session
from bedcalc.app.site import levels, plots
from bedcalc.app.site.desk import SiteDesk
from bedcalc.figures.cost import cost_figure
from bedcalc.figures.cost_waterfall import flow_figure
from bedcalc.figures.fill import fill_figure
from bedcalc.figures.fill_settlement import sinking_figure
from bedcalc.figures.load_path import path_figure
from bedcalc.figures.scene import Scene, scene
from bedcalc.figures.site_curves import sun_figure, swale_figure
from bedcalc.figures.site_ground import ground_figure
from bedcalc.figures.site_plan import VIEWS, plan_figure
from bedcalc.figures.site_section import section_figure
from bedcalc.figures.utilisation_chart import parts_figure
from bedcalc.figures.walls import wall_figure
from bedcalc.printing import build_sheet
from bedcalc.printing.setting_out import setting_out_sheet
from bedcalc.questions.cut_changes import length_sweep, what_less_saves
from bedcalc.questions.cut_garden import cut_garden
from bedcalc.questions.fixes import cures, how_deep
from bedcalc.questions.shopping import shopping
from bedcalc.questions.site_plan import (  # fmt: skip
    DAYS,
    overflow_of,
    plan_site,
    rain_on,
    routes,
    sun_asks,
    sun_on,
)
from bedcalc.spreadsheets.exports import write_order, write_order_csv
from bedcalc.spreadsheets.own_numbers import read_numbers, write_numbers
from tests.properties.any_beds import WRONG
from tests.properties.any_places import NAMES

__all__ = ["drawn", "papers", "viewed"]

FIGURES = (
    scene, wall_figure, path_figure, parts_figure, fill_figure,
    sinking_figure, cost_figure,
)  # fmt: skip
VIEWED = (
    cost.bill_view, cost.doubt_view, cost.swings_view, cost.life_view,
    cost.builds_view, cost.share_view, cost_order.parts_view, cutting.kerf_view,
    cutting.spots_view, cutting.lengths_view, fill.layers_view, fill.logs_view,
    fill.work_view, fill.sinking_view, fill.ways_view, fill.buying_view,
    size.posture_view, size.outlines_view, size.cost_view, stack.stack_view,
    walls.rim_view, walls.push_view, walls.parts_view, walls.path_view,
    walls.fixes_view, walls.bulge_view,
)  # fmt: skip
PLOTTED = (
    levels.readings_view, levels.level_view, plots.plan_view, plots.ground_view,
    plots.stairs_view, plots.fill_view, plots.sun_view, plots.storm_view,
)  # fmt: skip
WAYS = ({"system": "metric"}, {"system": "us", "narrow": True})
MARKUP = re.compile(r"<style>.*?</style>|<svg.*?</svg>|<[^>]*>", re.S)


def said(what: str, *texts: str) -> Iterator[str]:
    """Tell where texts hold something that is no number for a reader."""
    for text in texts:
        if wrong := WRONG.search(text):
            yield f"{what}: {wrong.group()!r} in {text!r}"


def read(name: str, drawing) -> Iterator[str]:
    """Tell what a drawing says wrong, and where its arrays are endless."""
    drawing = getattr(drawing, "drawing", drawing)
    if isinstance(drawing, Scene):
        yield from said(
            name, drawing.alt, drawing.caption, str(drawing.numbers), *drawing.said
        )  # fmt: skip
        if not all(np.isfinite(r).all() for s in drawing.shapes for r in s.rings):
            yield f"{name}: a shape is endless"
        return
    texts = [str(note.get("text", "")) for note in drawing.annotations]
    yield from said(
        name, drawing.alt, drawing.caption, str(drawing.numbers), *texts
    )  # fmt: skip
    for trace in drawing.traces:
        for axis in ("x", "y", "z"):
            values = np.asarray(trace.get(axis, ()))
            if values.dtype.kind == "f" and np.isinf(values).any():
                yield f"{name}: trace {trace.get('name')}, {axis} is endless"


def drawn(outcome: Outcome, rng) -> Iterator[str]:
    """Draw a bed and where it stands; tell what reads wrong."""
    place, bed = outcome.place, outcome.bed
    unpriced = place.prices is None or outcome.cost.missing
    for make in FIGURES:
        for options in WAYS:
            words = options | {"system": outcome.units(options["system"])}
            for fault in read(make.__name__, make(outcome, **words)):
                if not (unpriced and fault.endswith("'—' in '—'")):
                    yield fault
    if outcome.cost.lines:
        yield from read("flow_figure", flow_figure(outcome.cost, name=bed.name))
    yield from _sited((bed,), place, rng)


def _sited(beds: tuple[Bed, ...], place: Place, rng) -> Iterator[str]:
    """Everything that is drawn and said of the plot."""
    options = WAYS[int(rng.integers(2))]
    options = options | {"system": place.units(options["system"])}
    plan = plan_site(beds, place)
    storm = rain_on(place, Q_(float(rng.choice([1, 38, 300])), "mm"), Q_(310, "m^2"))
    wet = overflow_of(plan, storm)
    for check in (*plan.checks, *wet.checks):
        units = options["system"]
        act = check.fix.sentence(units) if check.fix else ""
        yield from said(f"plot, {check.name}", check.sentence(units), check.note, act)
    sun = None
    if not sun_asks(place):
        sun = sun_on(place, beds, str(rng.choice(list(DAYS))), raster=1.0)
        yield from read("sun_figure", sun_figure(sun, **options))
    view = str(rng.choice(VIEWS))
    walk = routes(beds, place, str(rng.choice(["barrow", "wheelchair"])))
    drawing = plan_figure(plan, view=view, walk=walk, sun=sun, water=wet, **options)
    yield from read(f"plan_figure, {view}", drawing)
    yield from read("ground_figure", ground_figure(plan, **options))
    yield from read("swale_figure", swale_figure(storm, **options))
    across = bool(rng.random() < 0.5)
    drawing = section_figure(plan, beds[0].name, across=across, **options)
    yield from read("section_figure", drawing)


def viewed(bed: Bed, place: Place, folder: Path) -> Iterator[str]:
    """Draw every view of the workbooks from a saved garden, as a reader sees it."""
    system = "us" if place.crew % 2 else "metric"
    garden = Garden(place=place, beds=(bed,), current=bed.name, system=system)
    bc.save(garden, folder / "v.toml")
    session = Session(folder / "v.toml")
    desks = [(VIEWED, Desk(bc.demo_garden()["B"], session))]
    desks.append((PLOTTED, SiteDesk(session)))
    priced = place.prices is not None and not bc.evaluate(bed, place).cost.missing
    for views, desk in desks:
        for make in views:
            name = f"{make.__module__.rsplit('.', 1)[-1]}.{make.__name__}"
            view = make(desk)
            view._behind = True
            view._catch_up()
            drawing, words = view._follow(view.controls.values, view._size())
            faults = list(said(name, MARKUP.sub(" ", words)))
            if drawing is not None:
                faults += read(name, drawing)
            yield from (f for f in faults if priced or "'—' in" not in f)


def papers(bed: Bed, place: Place, rng, folder: Path) -> Iterator[str]:
    """Everything that is printed, saved or cut."""
    bed = bed.change(name=str(rng.choice(NAMES)), count=int(rng.choice([1, 2])))
    other = bed.change(name="Another")
    try:
        other = other.change(length=Q_(2, "m"), width=Q_(1.2, "m"))
    except BedError:  # no room between walls as thick as these
        pass
    beds = (bed, other)[: int(rng.integers(1, 3))]
    system, paper = str(rng.choice(["metric", "us"])), str(rng.choice(["A4", "Letter"]))
    garden = Garden(place=place, beds=beds, system=system)
    bc.save(garden, folder / "g.toml")
    loaded = bc.load(folder / "g.toml")
    if loaded.beds != garden.beds or loaded.place != garden.place:
        yield "saved garden: comes back as another"
    garden = loaded
    write_numbers(garden, folder / "numbers.xlsx")
    read_numbers(folder / "numbers.xlsx", garden)
    html = build_sheet(garden, system=system, paper=paper, seconds=0.2)
    yield from said("build sheet", *MARKUP.sub("\n", html).splitlines())
    plan = plan_site(garden.beds, place)
    units = place.units(system)
    html = setting_out_sheet(plan, garden.name, paper=paper, system=units)
    yield from said("setting out", *MARKUP.sub("\n", html).splitlines())
    bill = shopping(garden, extras=("liner", "gravel", "hire", "protection"))
    write_order(bill, place, folder / "order.xlsx")
    write_order_csv(bill, place, folder / "order.csv")
    yield from said("order", *(folder / "order.csv").read_text("utf-8").splitlines())
    for one in cut_garden(garden, seconds=0.2):
        what_less_saves(one)
    length_sweep(bed, place, [1.2, 2.4], seconds=0.05)
    outcome = bc.evaluate(garden.beds[0], place)
    if outcome.cost.total is not None:
        deep = how_deep(outcome)
        yield from said("fixes", *(c.sentence(units) for c in cures(outcome)))
        yield from said("fixes", deep.sentence() if deep else "")
