"""Two finished papers tell one depth: the build sheet and the setting-out sheet."""

from __future__ import annotations

import re
from html import unescape

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.model.plan_words import CORNERS
from bedcalc.printing import build_sheet
from bedcalc.printing.setting_out import setting_out_sheet
from bedcalc.questions.site_plan import plan_site
from tests.site.own_plots import BEDS, falling, place


def cells(page: str) -> list[list[str]]:
    """Rows of all tables of a page, as plain words."""
    return [
        [
            re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", "", cell))).strip()
            for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S)
        ]
        for row in re.findall(r"<tr[^>]*>(.*?)</tr>", page, re.S)
    ]


def from_build_sheet(page: str) -> list[dict[str, tuple[str, str]]]:
    """Corner to what is dug and what the stick reads, bed by bed in their order."""
    beds, now = [], {}
    for row in cells(page):
        corner = row[0].split(" (")[0]
        if corner in CORNERS:
            now[corner] = (row[1], row[2])
            if corner == CORNERS[-1]:
                beds.append(now)
                now = {}
    return beds


def from_setting_out_sheet(page: str) -> dict[str, dict[str, tuple[str, str]]]:
    """The same from the other paper, by the name of the bed."""
    head, *rows = cells(page.split('<section class="why new">')[0])
    at = {name: head.index(f"dig {name}") for name in CORNERS}
    (reads,) = [n for n, word in enumerate(head) if word.startswith("dig until")]
    return {
        row[0]: {corner: (row[n].rstrip(" ▲▼"), row[reads]) for corner, n in at.items()}
        for row in rows
    }


def gardens():
    demo = bc.demo_garden()
    yield "demo", demo.change(beds=(demo["B"], demo["D"], demo["E"]))
    for way in ("top left", "right"):
        here = place(survey=falling(way, 0.09), prices="demo", soil="clay")
        yield way, bc.Garden(place=here, beds=BEDS)
    flat = place(survey=falling("bottom", 0.0), prices="demo", plot=None)
    yield "flat", bc.Garden(place=flat, beds=BEDS[:2])


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize(
    "levelling",
    [
        bc.Levelling(),
        bc.Levelling(gravel=Q_(50, "mm")),
        bc.Levelling(rule="limited", limit=Q_(110, "mm"), gravel=Q_(35, "mm")),
        bc.Levelling(rule="balanced", gravel=Q_(2, "in")),
    ],
    ids=lambda one: f"{one.rule}-{one.gravel:~}",
)
@pytest.mark.parametrize("name", ["demo", "top left", "right", "flat"])
def test_both_papers_print_the_same_trench(name, levelling, system):
    garden = dict(gardens())[name]
    here = garden.place.change(levelling=levelling)
    garden = garden.change(place=here)
    one = from_build_sheet(build_sheet(garden, seconds=0.2, system=system))
    other = from_setting_out_sheet(
        setting_out_sheet(plan_site(garden.beds, here), garden.name, system=system)
    )

    assert len(one) == len(garden.beds) == len(other)
    for bed, ours in zip(garden.beds, one, strict=True):
        assert ours == other[bed.name]
        # and they are the numbers of the one evaluation, the gravel counted in
        site = bc.evaluate(bed, here).site.si
        if system == "metric":
            deep = site.corner_depths + levelling.si.gravel
            for (dig, reads), depth, box in zip(
                ours.values(), deep, site.corner_depths, strict=True
            ):
                found = float(re.sub(r"[^\d.]", "", dig)) / 1000
                assert found == pytest.approx(depth if box > -1e-9 else -box, abs=6e-4)
                assert dig.startswith("block") == (box < -1e-9)
                assert float(reads.split()[0]) == pytest.approx(
                    -site.underside + levelling.si.gravel, abs=6e-4
                )


def test_neither_paper_prints_a_depth_that_nobody_measured():
    here = place(prices="demo", levelling=bc.Levelling(gravel=Q_(50, "mm")))
    garden = bc.Garden(place=here, beds=BEDS)
    page = build_sheet(garden, seconds=0.2)
    other = setting_out_sheet(plan_site(BEDS, here), garden.name)

    for bed in from_build_sheet(page):
        assert set(bed.values()) == {("______", "______")}
    for bed in from_setting_out_sheet(other).values():
        assert {"".join(words) for words in bed.values()} == {"_" * 16}
    for paper in (page, other):
        assert "Not measured: taken as level" in paper
    demo = bc.demo_garden()
    for words in (demo.name, "144 mm", "120 mm", "169", demo.place.name):
        assert words not in other
    assert demo.name not in page


def test_gravel_is_a_step_of_the_order_and_a_line_of_the_list():
    demo = bc.demo_garden()
    for gravel, said in ((0, False), (50, True)):
        here = demo.place.change(levelling=bc.Levelling(gravel=Q_(gravel, "mm")))
        for name in ("A", "E"):
            page = build_sheet(demo.change(place=here), [name], seconds=0.2)
            page = page.replace("\N{NO-BREAK SPACE}", " ")
            assert ("Put 5 cm of gravel in and tamp it level" in page) == said
            assert ("5 cm deeper" in page) is False
            names = [row[1] for row in cells(page) if len(row) == 4 and row[0] == "☐"]
            assert any("gravel" in one for one in names) == said


def test_no_plot_outline_and_an_own_outline_on_the_printed_plot():
    here = place(survey=falling("left"), prices="demo")
    drawn = build_sheet(bc.Garden(place=here, beds=BEDS), seconds=0.2)
    bare = bc.Garden(place=here.change(plot=None), beds=BEDS)
    undrawn = build_sheet(bare, seconds=0.2)

    # 1 : 150 fits 8 m in 60 mm: the inner corner of the L at 4.5 and 4 m, mm on paper
    assert "30.00,26.67" in drawn and "30.00,53.33" in drawn
    assert "The ground falls to the left of the plan" in drawn
    assert "No plot outline given" in undrawn and "No plot outline" not in drawn
