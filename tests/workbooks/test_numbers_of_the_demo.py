"""What a lesson says of the demo garden in numbers is what its beds have.

Every number in a text about a bed of the demo garden is computed here from the garden
itself, or stands in a list of numbers that belong to no bed (habits of the trade, sums
of paper and pencil). A sentence with a number in neither list fails.
"""

from __future__ import annotations

import ast
import csv
import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

import bedcalc as bc
from bedcalc import Q_
from bedcalc.questions import site_plan as site
from bedcalc.questions.cut_garden import cut_garden
from bedcalc.questions.shopping import shopping
from bedcalc.tables import data_folder, table

WORKBOOKS = sorted((Path(__file__).parents[2] / "workbooks").glob("0*.ipynb"))
MARK = re.compile(r"\b[Bb]ed [A-F]\b|demo garden|€")
_SENTENCE = re.compile(r"(?<=[.?!:])\s+|\n+")
_ORDER = re.compile(
    r"^(- )?(#+ )?\d\.( |$)"
)  # a number in front of a step or a heading


# ---- what the demo garden has


@cache
def demo() -> bc.Garden:
    return bc.demo_garden()


@cache
def outcome(name: str, **change) -> bc.Outcome:
    return bc.evaluate(demo()[name].change(**change), demo().place)


@cache
def plan():
    return site.plan_site(demo().beds, demo().place)


@cache
def cut():
    return cut_garden(demo())


def length(name: str, unit: str, digits: int = 0) -> str:
    return f"{demo()[name].length.m_as(unit):.{digits}f}"


def width(name: str, unit: str, digits: int = 0) -> str:
    return f"{demo()[name].width.m_as(unit):.{digits}f}"


def rail(part: str) -> str:
    size = getattr(demo()["B"].wall, part)
    return f"{size.m_as('mm'):.0f}"


def room(name: str) -> str:
    return f"{outcome(name).size.inside_volume.m_as('m^3'):.2f}"


def divided() -> str:
    once, tied = (outcome("B", ties=n).walls.bow_years for n in (0, 1))
    return f"{float(once / tied):.1f}"


def coins(value: float) -> str:
    return f"{float(value):.2f}"


def posts(which: str) -> float:
    return getattr(cut()["post_70x70"], which).cost / 1000


def pooled() -> str:
    alone = sum(cut_garden([bed], demo().place).cost.m for bed in demo())
    return coins(alone - cut().cost.m)


def pieces(millimetres: int) -> int:
    found = cut()["post_70x70"].plan.boards
    return sum(round(size / 10) == millimetres for b in found for _, size in b.pieces)


_NUMBERS = {4: "four", 6: "six", 8: "eight"}


def block_length() -> float:
    return table("blocks")["solid_400x200x150"].q("length").m_as("m")


def blocks() -> str:
    bed = demo()["E"]
    thick = Q_(bed.si.wall_thickness, "m")
    round_it = 2 * bed.length + 2 * (bed.width - 2 * thick)
    return f"{float(round_it.m_as('m') / block_length()) * courses():.1f}"


def courses() -> int:
    bed = demo()["E"]
    return round(bed.si.height / bed.wall.si.course)


def block_price(pallet: bool) -> float:
    rows = [r for r in demo().place.prices.rows if r.goods == demo()["E"].wall.goods]
    row = max(rows, key=lambda r: r.content) if pallet else min(
        rows, key=lambda r: r.content
    )  # fmt: skip
    return row.price


def pallet_saves() -> str:
    by_one, by_pallet = (shopping(demo(), pallets=p).walls for p in (False, True))
    return coins(by_one.m - by_pallet.m)


def falls(axis: str) -> str:
    return f"{abs(getattr(plan().si, axis)) * 100:.3f}"


#: (workbook or table, words with gaps, what fills them)
SAID = [
    ("00", "is [{} m] long and [{} cm] high",
     lambda: (length("B", "m", 2), f"{demo()['B'].height.m_as('cm'):.0f}")),
    ("00", "360 cm in place of {}", lambda: (length("B", "cm"),)),
    ("00", "The rail is {} mm high and {} mm thick; the cap is {} mm high and {} mm "
     "thick.", lambda: (rail("rail_wide"), rail("rail_thin"), rail("cap_thick"),
                        rail("cap_wide"))),
    ("00", "The end walls stand {} m apart",
     lambda: (f"{outcome('B').walls.span.m_as('m'):.3f}",)),
    ("00", "the bow of bed B of the demo garden is divided by {}",
     lambda: (divided(),)),
    ("00", "has {} m³ of room", lambda: (room("B"),)),
    ("00", "need {} m³ of mix", lambda: (room("B"),)),
    ("00", "It needs {} ÷ {}", lambda: (room("B"), left())),
    ("00", "sinks by about {} %", lambda: (f"{settles():.0f}",)),
    ("01", "They reach [{} mm]",
     lambda: (f"{table('people')['child_9_12'].q('reach').m_as('mm'):.0f}",)),
    ("01", "the cap stands out [{} mm]",
     lambda: (f"{outcome('A').size.overhang.m_as('mm'):.0f}",)),
    ("01", "Bed A of the demo garden is [{} cm] wide", lambda: (width("A", "cm"),)),
    ("01", "The rim of bed D of the demo garden is at {} mm",
     lambda: (f"{demo()['D'].height.m_as('mm'):.0f}",)),
    ("02", "has [{} m³] of room", lambda: (room("B"),)),
    ("02", "the order for bed B is {} m³",
     lambda: (f"{outcome('B').fill.order_volume.m_as('m^3'):.2f}",)),
    ("03", "what posts of {} mm do",
     lambda: (f"{demo()['B'].wall.post.m_as('mm'):.0f}",)),
    ("03", "in the demo garden it costs {} €", lambda: (f"{tie_price():.0f}",)),
    ("04", "The demo garden needs {} posts",
     lambda: (sum(pieces(n) for n in (800, 720, 560)),)),
    ("04", "{} of 800, {} of 720 and {} of 560 mm",
     lambda: (*(_NUMBERS[pieces(n)] for n in (800, 720, 560)),)),
    ("04", "The yard sells {} m and {} m and {} m",
     lambda: (*(f"{r.length:.1f}" for r in demo().place.goods["post_70x70"]),)),
    ("04", "you pay {} € too much", lambda: (coins(posts("hand") - posts("plan")),)),
    ("04", "it saves {} €", lambda: (pooled(),)),
    ("04", "four pieces of {} mm", lambda: (f"{demo()['B'].height.m_as('mm'):.0f}",)),
    ("05", "(2 × {} m + 2 × {} m) ÷ {} m × {} courses = {}",
     lambda: (length("E", "m", 1), f"{between():.1f}",
              f"{block_length():.1f}", courses(), blocks())),
    ("05", "pallet of {} blocks costs {} € less than {} single ones",
     lambda: (pallet_of(), pallet_saves(), singles())),
    ("05", "{} m³ ÷ {} = {}, so {} m³",
     lambda: (f"{mix():.2f}", left(), f"{mix() / float(left()):.2f}",
              f"{-(-mix() / float(left()) // 0.5) * 0.5:.1f}")),
    ("06", "falls about {} in 100", lambda: (f"{plan().si.slope * 100:.0f}",)),
    ("06", "is [{} m] wide and [{} m] long",
     lambda: (width("B", "m", 2), length("B", "m", 2))),
    ("06", "is let [{} cm] into",
     lambda: (f"{plan()['B'].depths.min().m_as('cm'):.0f}",)),
    ("06", "falls {} % along bed B and {} % across it",
     lambda: (falls("slope_x"), falls("slope_y"))),
    ("06", "it meets {} m of slope instead of {} m",
     lambda: (length("B", "m", 2), width("B", "m", 2))),
    ("06", "beds of [{} m] by [{} m]",
     lambda: (length("B", "m", 2), width("B", "m", 2))),
    ("07", "uses about {} mm in the climate of the demo garden",
     lambda: (f"{outcome('B').water.reference[6].m:.0f}",)),
    ("07", "That is {} litres on each square metre",
     lambda: (f"{outcome('B').water.reference[6].m:.0f}",)),
    ("06", "The demo garden falls 1 in {}", lambda: (f"{plan().one_in:.0f}",)),
    ("checks_04", "The demo garden saves {} € that way", lambda: (pooled(),)),
    ("checks_04", "it pays {} €, and {} € do",
     lambda: (coins(posts("hand")), coins(posts("plan")))),
    ("checks_04", "you pay {} € too much",
     lambda: (coins(posts("hand") - posts("plan")),)),
    ("checks_05", "the wall of bed E takes {} blocks", lambda: (blocks(),)),
    ("checks_05", "one block costs {} €, and a pallet of {} costs {} €",
     lambda: (coins(block_price(False)), pallet_of(), f"{block_price(True):.0f}")),
    ("checks_05", "{} single blocks × {}",
     lambda: (singles(), coins(block_price(False)))),
    ("checks_05", "{} × {} = {} €",
     lambda: (singles(), coins(block_price(False)),
              coins(singles() * block_price(False)))),
]  # fmt: skip

#: numbers that belong to no bed: habits, sizes to try, sums by hand
OF_NO_BED = [
    ("00", "face × thickness³ ÷ 12"),
    ("00", "Larch of class C24 has a stiffness *E* of 11 GPa"),
    ("00", "one part in 180"), ("00", "one in 120"),
    ("01", "children of 9 to 12"), ("01", "from 30 to 75 cm"),
    ("01", "30 to 45 cm"), ("01", "60 to 75 cm"), ("01", "685 mm of free height"),
    ("01", "Lettuce wants about [300 mm]"), ("01", "past 3 or 4 m"),
    ("01", "by 10 cm and more"), ("01", "its floor is 67 mm thick"),
    ("02", "until they lie [10 cm] deep"), ("02", "10 to 20 % for mix"),
    ("02", "10 to 25 % for compost"),
    ("03", "a wall 3.6 m long"),     ("03", "22 m/s"),
    ("04", "strips 240, 300 and 360 mm"), ("04", "already cost 0"),
    ("04", "workbook 05"), ("04", "a car cost that takes 2.5 m"),
    ("04", "a rotten knot 1.4 m from one end"), ("04", "come out of 3.0 m"),
    ("04", '"2.4 m" boards may measure 2395 to 2420 mm'),
    ("05", "Add 5 %"), ("05", "3 to 6 kg"),
    ("07", "about 0.2 litres"), ("07", "the upper 50 cm"), ("07", "up to 40 %"),
    ("07", "only 30 %"), ("07", "in workbook 06"),
    ("06", "more than 10 mm off"), ("06", "The ditch of 14 m"),
    ("06", "[60 cm] kept free"), ("06", "from [0.90 m] to [1.20 m]"),
    ("06", "good to 2 or 3 mm"), ("06", "3 mm in each metre"),
    ("06", "squares of 10 cm"), ("06", "1 in 48"), ("06", "below 12 mm of runoff"),
    ("checks_01", "with its rim at [865 mm]"), ("checks_05", "and 5 % more"),
]  # fmt: skip


def settles() -> float:
    return table("fills")["mix"].q("settle").m_as("percent")


def left() -> str:
    return f"{1 - settles() / 100:.2f}"


def tie_price() -> float:
    return outcome("B", ties=1).cost.total.m - outcome("B").cost.total.m


def between() -> float:
    bed = demo()["E"]
    return float(bed.si.width) - 2 * float(bed.si.wall_thickness)


def singles() -> int:
    return -(-float(blocks()) * 1.05 // 1).__int__()


def pallet_of() -> str:
    rows = [r for r in demo().place.prices.rows if r.goods == demo()["E"].wall.goods]
    return f"{max(r.content for r in rows):.0f}"


def mix() -> float:
    return sum(float(outcome(b.name).size.si.fill_volume) for b in demo())


# ---- the texts


def _cells(path: Path) -> Iterator[tuple[str, str]]:
    """Texts of a workbook with the heading that each stands under."""
    head = ""
    for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
        source = "".join(cell["source"])
        if cell["cell_type"] == "markdown":
            lines = source.splitlines()
            for block in "\n".join(lines).split("\n\n"):
                head = block if block.startswith("#") else head
                yield block, head
        elif "lesson." in source:
            for node in ast.walk(ast.parse(source)):
                if isinstance(node, ast.Constant) and isinstance(node.value, str):
                    yield node.value, ""


def _texts() -> Iterator[tuple[str, str, str]]:
    for path in WORKBOOKS:
        for text, head in _cells(path):
            yield path.stem[:2], text, head
    for path in sorted(data_folder().glob("checks_*.csv")):
        with path.open(encoding="utf-8") as file:
            for row in csv.DictReader(file):
                yield path.stem, f"{row['text']}\n{row['says']}", ""


def _plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def _filled() -> list[tuple[str, str]]:
    return [(where, words.format(*fills())) for where, words, fills in SAID]


@pytest.fixture(scope="module")
def known():
    return _filled()


def test_every_number_said_of_the_demo_is_what_the_demo_has(known):
    texts: dict[str, str] = {}
    for where, text, _ in _texts():
        texts[where] = texts.get(where, "") + "\n" + _plain(text)
    missing = [(w, words) for w, words in (*known, *OF_NO_BED) if words not in texts[w]]
    assert missing == []


def test_no_sentence_about_the_demo_has_a_number_that_nobody_computed(known):
    unknown = []
    for where, text, head in _texts():
        about = MARK.search(text) or MARK.search(head)
        for sentence in _SENTENCE.split(_plain(text)) if about else ():
            left_over = _ORDER.sub("", sentence)
            if not (MARK.search(sentence) or where.isdigit()):
                continue
            for at, words in (*known, *OF_NO_BED):
                if at == where:
                    left_over = left_over.replace(words, "")
            if re.search(r"\d", re.sub(r"\{\w+\}", "", left_over)):
                unknown.append((where, sentence))
    assert unknown == []


def test_a_sum_of_money_or_a_bed_of_the_demo_is_said_to_be_the_demos():
    nameless = [
        (where, text)
        for where, text, head in _texts()
        if re.search(r"\b[Bb]ed [A-F]\b|€", text)
        and "demo" not in (text + head).lower()
        and not re.search(r"\{\w+\}|^\*\*\{", text)
    ]
    assert nameless == []
