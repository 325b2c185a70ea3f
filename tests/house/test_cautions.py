"""Each hazard is named where it is met, on the screen and on paper."""

from __future__ import annotations

import json
import re
from html import unescape
from pathlib import Path

import pytest

from bedcalc import demo_garden, evaluate
from bedcalc.app import cost, cutting, fill, site, size, walls, walls_own, water
from bedcalc.app.kit.view import desk
from bedcalc.app.kit.words import cautions_at
from bedcalc.printing import build_sheet
from bedcalc.printing.facts import sheet_hazards
from bedcalc.tables import table

HAZARDS = [row.key for row in table("cautions")]
PLACES = list(table("caution_places"))
WORKBOOKS = Path(__file__).parents[2] / "workbooks"


def _plain(html: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub("<[^>]+>", " ", html)))


def _texts(widget) -> str:
    """All words in a widget and what it holds."""
    widget = getattr(widget, "widget", widget)
    own = getattr(widget, "value", "") or getattr(widget, "html", "")
    found = [own] if isinstance(own, str) else []
    found += [_texts(child) for child in getattr(widget, "children", ())]
    return " ".join(found)


@pytest.fixture(scope="module")
def shown():
    """Every view and block that carries cautions, by its name."""
    garden = demo_garden()
    ground = site.ground_desk(site.site_desk())
    over = ground.site if hasattr(ground, "site") else site.site_desk()
    made = {}
    for kit, names, about in (
        (size, ("posture", "outlines"), desk("A")),
        (fill, ("layers", "logs", "work", "buying"), desk("B")),
        (walls, ("rim",), desk("B")),
        (cutting, ("kerf", "spots", "lengths"), desk("A")),
        (cost, ("bill", "doubt", "life", "builds"), desk("B")),
        (site, ("readings", "level", "plan", "ground", "sun", "storm"), over),
    ):
        for name in names:
            made[name] = getattr(kit, f"{name}_view")(about)
    made["tank"] = water.tank_view(desk("B"))
    made["ways_block"] = water.ways_block(desk("B"))
    made["parts"] = walls.parts_view(walls.trial(desk("B"), ties=1, base_ties=1))
    made["own"] = walls_own.own_view(desk("A"))
    made["rim-use"] = walls_own.rim_use_view(desk("B"))
    made["corners"] = site.corner_view(ground)
    made["blocks_table"] = walls.blocks_table(desk("B"))
    made["metals_table"] = walls.metals_table(desk("B"))
    made["preservatives"] = walls_own.preservatives()
    made["sheets_block"] = cutting.sheets_block(desk("A"))
    made["sheet_maker"] = cutting.sheet_maker(garden)
    for name in ("hose_block", "weight_block", "hill_block"):
        made[name] = getattr(site, name)(over)
    return made


@pytest.mark.parametrize("row", PLACES, ids=lambda row: row.key)
def test_a_hazard_is_named_where_it_is_met(row, shown):
    short = table("cautions")[row.hazard].short

    if row.kind in ("view", "block"):
        assert short in _plain(_texts(shown[row.place])), row.place
    elif row.kind == "step":
        assert row.place in table("work_order")
    else:
        assert row.kind == "paper"


@pytest.mark.parametrize("hazard", HAZARDS)
def test_each_hazard_has_a_place_on_the_screen_and_on_paper(hazard):
    kinds = {row.kind for row in PLACES if row.hazard == hazard}

    assert kinds & {"view", "block"}
    assert kinds & {"step", "paper"}


def test_every_view_named_is_in_a_workbook(shown):
    code = "".join(
        "".join(cell["source"])
        for path in WORKBOOKS.glob("*.ipynb")
        for cell in json.loads(path.read_text())["cells"]
        if cell["cell_type"] == "code"
    )
    called = {"rim-use": "rim_use_view", "corners": "corner_view"}

    for row in PLACES:
        if row.kind in ("view", "block"):
            name = row.place if row.kind == "block" else f"{row.place}_view"
            assert called.get(row.place, name) in code, row.place


def test_the_printed_sheet_names_each_hazard_of_its_beds():
    garden = demo_garden()
    words = _plain(build_sheet(garden))
    outcomes = [evaluate(bed, garden.place) for bed in garden]

    assert sheet_hazards(outcomes) == HAZARDS  # six beds of all kinds meet all of them
    for hazard in HAZARDS:
        assert table("cautions")[hazard].hazard in words
    for row in PLACES:
        if row.kind == "step":
            assert table("cautions")[row.hazard].short in words, row.key


def test_a_bed_of_blocks_is_not_told_of_saws():
    garden = demo_garden()
    hazards = sheet_hazards([evaluate(garden["E"], garden.place)])

    assert "silica" in hazards
    assert not {"saws", "wood_dust", "sheet_edges", "zinc_fume"} & set(hazards)


def test_posts_are_only_a_hazard_where_there_are_posts():
    assert "cables" in cautions_at("own", "boards")
    assert not cautions_at("own", "blocks")
