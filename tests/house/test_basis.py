"""Why, and from where: every verdict and every headline is explained, with sources."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.app.kit.why import parts_on
from bedcalc.app.site.desk import SiteDesk
from bedcalc.model.bed import Wall
from bedcalc.model.outcome import Check
from bedcalc.questions.basis import basis_of, because, parts_of, sources_of
from bedcalc.questions.size_plan import posture_at
from bedcalc.tables import LABELS, table

ROOT = Path(bc.__file__).parent
MAKERS = ("Check", "_check", "_watch")


def names_in_code() -> set[str]:
    """Every name that a chapter gives to a check, read from its text."""
    found = set()
    for path in ROOT.rglob("*.py"):
        if path.parent.name not in ("walls", "site", "size", "fill", "cost"):
            continue
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for call in (n for n in ast.walk(tree) if isinstance(n, ast.Call)):
            if getattr(call.func, "id", "") not in MAKERS:
                continue
            given = [k.value for k in call.keywords if k.arg == "name"]
            for value in given or call.args[:1]:
                if isinstance(value, ast.Constant):
                    found.add(value.value)
    return found


@pytest.fixture(scope="module")
def checks() -> list[tuple[Check, dict]]:
    """Checks of many beds and of the plot, with the parts they are read from."""
    garden = bc.demo_garden()
    beds = [*garden]
    beds += [bed.change(ties=1, base_ties=1, open_base=False) for bed in garden]
    beds += [garden[n].change(post_depth=Q_(600, "mm")) for n in "ABC"]
    beds.append(garden["B"].change(ribs_lying=True))
    found = []
    for bed in beds:
        outcome = bc.evaluate(bed, garden.place)
        posture = posture_at(bed, Q_(1.65, "m"))
        parts = parts_of(outcome, posture=posture)
        found += [(check, parts) for check in (*outcome.checks, *posture.checks)]
    desk = SiteDesk()
    return [*found, *((check, parts_on(desk)) for check in desk.checks)]


def test_every_check_in_the_code_has_a_row():
    assert len(names_in_code()) > 25
    assert names_in_code() - set(table("basis").rows) == set()


def test_every_check_is_explained(checks):
    """Words, numbers, sources; the source the check names is among them."""
    assert len({check.name for check, _ in checks}) >= 28
    for check, parts in checks:
        for system in ("metric", "us"):
            told = because(check, parts, system)
            assert told.words and told.sources, check.name
            assert check.source in {one.key for one in told.sources}, (
                f"{check.name}: {check.source} is not among its sources"
            )
            assert all(value.strip() for _, value in told.inputs), check.name


def test_inputs_are_the_numbers_of_the_outcome():
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"], garden.place)
    told = dict(because(outcome.check("foot"), parts_of(outcome), "metric").inputs)

    assert told["Height"] == bc.units.show(garden["B"].height, "size")
    assert told["What holds the foot of the wall"] == bc.units.show(
        outcome.walls.foot_sliding_resistance, "line load"
    )
    assert told["Ties at the foot"] == "0"
    us = dict(because(outcome.check("foot"), parts_of(outcome), "us").inputs)
    assert us["Height"].endswith("ft")


@pytest.mark.parametrize("row", list(table("basis")), ids=lambda r: r.key)
def test_every_row_names_known_sources_with_their_place_and_label(row):
    known = table("sources")
    for entry in row.sources.split("|"):
        key, _, where = entry.partition("@")
        assert key.lstrip("*~") in known, entry
        assert where, f"{row.key}: where in {key}?"
    assert row.title and row.words.endswith((".", "?")), row.key
    assert not re.search(r"\b(correction|reference|scenario)", row.sources)


def test_headlines_and_views_are_explained():
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"], garden.place)
    desk = SiteDesk()
    parts = parts_of(outcome) | parts_on(desk)
    rows = [row for row in table("basis") if "." in row.key]

    assert len(rows) >= 25
    for row in rows:
        told = basis_of(row.key, parts)
        assert told.sources, row.key
        assert {one.label for one in told.sources} <= set(LABELS)
        assert len(told.inputs) >= 1 or not row.reads, row.key


def test_a_number_that_a_bed_lacks_is_left_out():
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["E"], garden.place)
    told = because(outcome.check("tipping"), parts_of(outcome))

    assert "Ties on top" not in dict(told.inputs)
    assert sources_of(table("basis")["corner"], "nds_2018")[-1].key == "nds_2018"


@pytest.mark.parametrize(
    ("wall", "rules"), [("sheet", "en1995"), ("sheet_us", "nds_2018")]
)
def test_creep_of_a_bow_is_that_of_the_rules_of_the_wood(wall, rules):
    garden = bc.demo_garden()
    outcome = bc.evaluate(garden["B"].change(wall=Wall.named(wall)), garden.place)
    keys = [one.key for one in because(outcome.check("bow"), parts_of(outcome)).sources]

    assert rules in keys and ("en1995" in keys) != ("nds_2018" in keys)


def test_the_panel_opens_and_closes_and_is_made_only_while_open():
    from bedcalc.app.kit.why import Why

    asked = []

    def make():
        asked.append(1)
        return [basis_of("view.bulge", {})]

    why = Why("the bulge")
    why.show(make)
    assert not asked and "bc-hide" in why.page._dom_classes
    why.button.click()
    assert len(asked) == 1 and "bc-hide" not in why.page._dom_classes
    assert "assumption" in why.page.value and "<h4>" in why.page.value
    why.show(make)
    assert len(asked) == 2
    why.button.click()
    why.show(make)
    assert len(asked) == 2 and why.button.description == "why?"


@pytest.mark.parametrize("beds", [("B",), ("E",), ()])
@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_build_sheet_carries_a_page_of_notes(beds, system):
    """Each verdict of the beds stands there once, with formula, sources and labels."""
    from bedcalc.printing.why_page import why_page

    garden = bc.demo_garden()
    chosen = [garden[name] for name in beds] or list(garden)
    outcomes = [bc.evaluate(bed, garden.place) for bed in chosen]
    page = why_page(outcomes, garden.place.units(system))

    for outcome in outcomes:
        for check in outcome.checks:
            title = table("basis")[check.name].title
            assert page.count(f">{title}<") == 1, title
    assert "from memory: " in page and "printed: " in page
    assert ("The bill" in page) == (len(chosen) == 1)


def test_the_setting_out_sheet_carries_a_page_of_notes():
    from bedcalc.printing.setting_out import setting_out_sheet

    desk = SiteDesk()
    page = setting_out_sheet(desk.plan, "Plumtrellis Yard")
    notes = page.split('<section class="why new">')[1]

    for check in desk.plan.checks:
        title = table("basis")[check.name].title
        assert notes.count(f">{title}<") == 1, title
    assert "computed: least squares" in notes


def test_the_bill_names_the_price_list_that_it_was_made_with():
    """Somebody's own list, the demo's, or none at all."""
    garden = bc.demo_garden()
    rows = garden.place.prices.rows
    mine = bc.PriceList(name="spring", rows=rows, date="3 March")
    for prices, says in (
        (garden.place.prices, "example price list"),
        (mine, "price list spring, prices of 3 March"),
        (None, ""),
    ):
        out = bc.evaluate(garden["B"], garden.place.change(prices=prices))
        cited = [s.cited for s in basis_of("headline.bill", parts_of(out)).sources]
        lists = [one for one in cited if "price list" in one]
        assert len(lists) == bool(says)
        assert not lists or says in lists[0]
