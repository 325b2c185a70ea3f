"""A garden of one's own, by hand: beds, an L-shaped plot, other money, the sheet."""

from __future__ import annotations

import re

import pytest

import bedcalc as bc
from bedcalc.questions.shopping import shopping
from tests.browser.test_start_here import (
    pick,
    press,
    shows,
    skip_the_guess,
    start_a_garden,
    text,
    typed,
    until,
)

#: name, length, width, height in cm, build
BEDS = (
    ("Beans", 240, 120, 42, "larch boards 140 × 33 on posts"),
    ("Leeks", 200, 100, 60, "blocks 400 × 200 × 150, stacked dry"),
    ("Herbs", 180, 90, 50, "sheet in a frame of 70 × 45"),
)
#: an L, measured from its top left corner, in the order one walks round it
ELL = ((0, 0), (12, 0), (12, 4), (6, 4), (6, 8), (0, 8))
#: x, y and down, in metres; with decimal commas, as many people type them
READINGS = "0 0 1,00\n12 0 1,30\n0 8 1,24\n6 8 1,39\n12 4 1,42"
PRICE = 61.5


@pytest.fixture
def begin(open_workbook, lab):
    """An empty folder, and the day before yesterday's kernels gone."""
    lab.restart_kernels()
    for path in lab.workbooks.glob("my_garden*.toml"):
        path.unlink()
    return open_workbook


def _add_bed(sheet, name, length, width, height, wall):
    sheet.scroll_to(".bc-view-bar")
    sheet.find(".bc-view-bar button:has-text('Add a bed')").click()
    shows(sheet, ".bc-sentence", "2.40 m long")
    sheet.find(".bc-view-bar button:has-text('Rename')").click()
    box = sheet.find(".bc-bar-ask .bc-input")
    box.fill(name)
    box.press("Enter")
    shows(sheet, ".bc-sentence", f"ed {name}:")
    pick(sheet, "wall", wall)
    for row, size in (("length", length), ("width", width), ("height", height)):
        typed(sheet, row, f"{size} cm")
        sheet.wait_until_idle()
    shows(sheet, ".bc-sentence", f"{height / 100:.2f} m high")


def _corner(sheet, number, **where):
    """Choose a corner and type where it is."""
    view = ".bc-view-corners"
    sheet.find(f"{view} .bc-row-corner select").select_option(label=str(number))
    sheet.wait_until_idle()
    for axis, metres in where.items():
        box = sheet.find(f"{view} .bc-row-{axis} .bc-input")
        box.fill(f"{metres} m")
        box.press("Enter")
        sheet.wait_until_idle()


def _act(sheet, view, words):
    sheet.find(f".bc-view-{view} button:has-text('{words}')").click()
    sheet.wait_until_idle()


def test_from_an_empty_garden_to_the_printed_sheet(begin, lab):
    file = lab.workbooks / "my_garden.toml"
    sheet = begin("00_start_here.ipynb").wait_until_run()
    skip_the_guess(sheet)
    start_a_garden(sheet, "Elm Lane")
    for bed in BEDS:
        _add_bed(sheet, *bed)
    until(sheet, lambda: [b.name for b in bc.load(file)] == [b[0] for b in BEDS],
          "three beds are saved")  # fmt: skip
    sheet.screenshot("own_00")
    press(sheet, "Look at the demo bed")
    shows(sheet, ".bc-sentence", "2.70 m long")
    press(sheet, "Back to my bed")

    sheet = begin_with(sheet, "06_site.ipynb")
    sheet.find("textarea").fill(READINGS)
    sheet.find("button:has-text('Take these readings')").click()
    until(sheet, lambda: bc.load(file).place.survey is not None, "readings are saved")
    _act(sheet, "corners", "Start a plot")
    _corner(sheet, 4, y=8)
    _corner(sheet, 3, y=8)
    _corner(sheet, 2, x=12)
    _act(sheet, "corners", "Add a corner")
    _corner(sheet, 3, x=12)
    _act(sheet, "corners", "Add a corner")
    _corner(sheet, 4, x=6, y=4)
    until(sheet, lambda: bc.load(file).place.plot.outline == ELL, "the L is saved")
    sheet.screenshot("own_06", ".bc-view-corners")

    sheet = begin_with(sheet, "05_cost.ipynb")
    pick(sheet, "code", "CHF, Swiss Franc")
    goods = sheet.find(".bc-view-own-prices .bc-row-goods select")
    names = [t.replace("\N{NO-BREAK SPACE}", " ")
             for t in goods.locator("option").all_text_contents()]  # fmt: skip
    mix = next(n for n, name in enumerate(names) if name.startswith("garden mix"))
    goods.select_option(index=mix)
    sheet.wait_until_idle()
    line = ".bc-view-own-prices .bc-price-row:not(.bc-hide)"
    for label, value in (("Amount", "1"), ("Price each", str(PRICE).replace(".", ","))):
        box = sheet.find(f"{line} .bc-entry:not(.bc-hide) label:has-text('{label}')")
        box = box.locator("xpath=..").locator(".bc-input")
        box.fill(value)
        box.press("Enter")
        sheet.wait_until_idle()
    until(sheet, lambda: bc.load(file).place.currency.code == "CHF", "francs are saved")
    until(sheet, lambda: "mix" in bc.load(file).place.prices.goods, "a price is saved")
    sheet.screenshot("own_05", ".bc-view-own-prices")

    for book in ("01_size", "02_fill", "03_walls"):
        sheet = begin_with(sheet, f"{book}.ipynb")
        assert "Elm Lane" in text(sheet, ".bc-view-bar"), book
        assert sheet.errors() == [], book

    sheet = begin_with(sheet, "04_cutting.ipynb")
    sheet.scroll_to(".bc-view-sheet")
    pick(sheet, "bed", "the whole garden")
    sheet.find(".bc-view-sheet button:has-text('Make the build sheet')").click()
    written = lambda: any(lab.workbooks.glob("*sheet*.html"))  # noqa: E731
    until(sheet, written, "the sheet is written", 120)
    (path,) = lab.workbooks.glob("*sheet*.html")
    _same_as_a_script(path.read_text(encoding="utf-8"), bc.load(file))
    assert sheet.errors() == []


def begin_with(sheet, book: str):
    """Open another workbook of the same reader."""
    sheet.open(book).wait_until_run()
    assert sheet.errors() == [], book
    return sheet


def _same_as_a_script(page: str, garden: bc.Garden) -> None:
    """What stands on paper is what a script computes from the saved file."""
    words = re.sub(r"<[^>]*>", " ", page).replace("\N{NO-BREAK SPACE}", " ")
    words = " ".join(words.split())
    assert "Elm Lane" in words
    assert "Plumtrellis" not in words and "€" not in words
    for bed in garden:
        site = bc.evaluate(bed, garden.place).site
        for depth in site.dig.m_as("mm"):
            assert f"{depth:.0f}" in words, f"{bed.name}: dig {depth:.0f} mm"
    mix = next(line for line in shopping(garden).lines if line.goods == "mix")
    assert mix.price == pytest.approx(PRICE)
    assert f"{mix.amount:.2f}" in words and "CHF" in words
