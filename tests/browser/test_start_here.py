"""Workbook 00 as a stranger meets it: guess, move, fix, fill, save, come back."""

from __future__ import annotations

import time
from collections.abc import Callable

import pytest

BOOK = "00_start_here.ipynb"


@pytest.fixture
def sheet(open_workbook, lab):
    lab.restart_kernels()  # a kernel keeps the garden it had open
    (lab.workbooks / "my_garden.toml").unlink(missing_ok=True)
    return open_workbook(BOOK).wait_until_run()


def until(sheet, holds: Callable[[], bool], what: str, seconds: float = 30) -> None:
    """Wait until the page shows something, however slow the machine is."""
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, f"{what}: not after {seconds} s"
        sheet.page.wait_for_timeout(100)
    sheet.wait_until_idle()


def skip_the_guess(sheet):
    sheet.find(".bc-predict button:has-text('Skip')").click()
    until(sheet, lambda: sheet.find(".bc-bench").is_visible(), "the bench opens")
    sheet.find(".bc-figure-scene svg.bc-svg")
    sheet.page.wait_for_timeout(500)  # the bench measures its width
    sheet.wait_until_idle()


def text(sheet, selector: str) -> str:
    """What is written there, no-break spaces as plain ones."""
    words = sheet.find(selector).inner_text()
    return words.replace("\N{NO-BREAK SPACE}", " ")


def shows(sheet, selector: str, words: str, gone: bool = False) -> None:
    """Wait until these words stand there (or are gone)."""
    try:
        until(sheet, lambda: (words in text(sheet, selector)) != gone, repr(words))
    except AssertionError as late:
        seen, errors = text(sheet, selector), sheet.errors()
        sheet.screenshot("stuck")
        raise AssertionError(
            f"{words!r} {'gone from' if gone else 'in'} {selector}: {late}; "
            f"there stands {seen!r}; errors on the page: {errors}"
        ) from late


SENTENCE, STRIP, VERDICTS = ".bc-sentence", ".bc-strip", ".bc-verdicts"


def figure(sheet, name: str) -> dict:
    if name == "scene":  # one SVG, swapped whole
        return {"data": sheet.find(".bc-figure-scene .bc-picture").inner_html()}
    return sheet.figure(f".bc-figure-{name}")


def moves(sheet, name: str, before: dict) -> dict:
    """Wait until a figure shows other data."""
    until(sheet, lambda: figure(sheet, name)["data"] != before["data"], f"{name} moves")
    return figure(sheet, name)


def choose(sheet, row: str, words: str):
    """Press one of a row's buttons, until it is pressed: the page may have moved."""
    label = sheet.find(f".bc-row-{row} label:has-text('{words}')")
    for _ in range(5):
        label.click()
        sheet.wait_until_idle()
        if label.locator("input").is_checked():
            return
    raise AssertionError(f"{words!r} in row {row} stays unpressed")


def pick(sheet, row: str, label: str):
    sheet.find(f".bc-row-{row} select").select_option(label=label)
    sheet.wait_until_idle()


def typed(sheet, row: str, words: str):
    box = sheet.find(f".bc-row-{row} .bc-input")
    box.fill(words)
    box.press("Enter")


def field(sheet, row: str) -> str:
    return sheet.find(f".bc-row-{row} .bc-input").input_value()


def start_a_garden(sheet, name: str):
    """Start an empty garden in the bar."""
    sheet.scroll_to(".bc-view-bar")
    sheet.find(".bc-view-bar button:has-text('Start my garden')").click()
    box = sheet.find(".bc-bar-ask .bc-input")
    box.fill(name)
    box.press("Enter")
    shows(sheet, ".bc-view-bar", "It has no bed yet")


def press(sheet, words: str):
    sheet.find(f".bc-bench button:has-text('{words}')").click()


def test_a_guess_opens_the_bench_and_is_answered_in_words(sheet):
    assert sheet.errors() == []
    assert not sheet.find(".bc-bench").is_visible()

    sheet.find(".bc-predict .bc-input").fill("10 mm")
    sheet.page.keyboard.press("Enter")
    until(sheet, lambda: sheet.find(".bc-bench").is_visible(), "the bench opens")

    answer = text(sheet, ".bc-predict")
    assert "50 mm" in answer and "10 mm" in answer
    sheet.screenshot("00_after_guess")


def test_keys_mouse_and_numbers_move_picture_and_verdicts(sheet):
    skip_the_guess(sheet)
    scene, wall = figure(sheet, "scene"), figure(sheet, "wall")
    shows(sheet, SENTENCE, "2.70 m long")

    sheet.press(".bc-row-length .widget-hslider", "ArrowRight", times=4)
    shows(sheet, SENTENCE, "2.90 m long")
    scene = moves(sheet, "scene", scene)
    wall = moves(sheet, "wall", wall)

    numbers, said, verdicts = (text(sheet, s) for s in (STRIP, SENTENCE, VERDICTS))
    sheet.drag(".bc-row-height", by=-40)
    until(
        sheet, lambda: text(sheet, SENTENCE) != said, "the sentence follows the mouse"
    )
    until(sheet, lambda: text(sheet, STRIP) != numbers, "the numbers follow")
    until(sheet, lambda: text(sheet, VERDICTS) != verdicts, "the verdicts follow")
    moves(sheet, "scene", scene)
    sheet.screenshot("00_moved")

    typed(sheet, "length", "9000")
    shows(sheet, ".bc-row-length .bc-says", "9000")
    until(sheet, lambda: field(sheet, "length") == "290", "the last good value is back")
    shows(sheet, SENTENCE, "2.90 m long")

    typed(sheet, "length", "8 ft 6 in")
    shows(sheet, SENTENCE, "2.59 m long")
    assert text(sheet, ".bc-row-length .bc-says") == ""

    bill = text(sheet, STRIP)
    choose(sheet, "rise", "+ 20 %")
    until(sheet, lambda: text(sheet, STRIP) != bill, "dearer prices, a dearer bill")
    choose(sheet, "rise", "as listed")
    until(sheet, lambda: text(sheet, STRIP) == bill, "the bill as before")

    choose(sheet, "garden_units", "feet")
    shows(sheet, SENTENCE, "8.50 ft long")
    assert sheet.find(".bc-row-length .bc-unit").inner_text() == "in"
    sheet.screenshot("00_us")
    choose(sheet, "garden_units", "metric")
    shows(sheet, SENTENCE, "2.59 m long")
    sheet.page.wait_for_timeout(500)
    shows(sheet, SENTENCE, "2.59 m long")  # and nothing is sent back by the page


def test_mend_fill_save_restart_and_be_where_one_was(sheet, lab):
    """Bed B, untied: the verdict proposes a tie; bow, bill, picture change at once."""
    skip_the_guess(sheet)
    wall = figure(sheet, "wall")
    shows(sheet, VERDICTS, "The long wall bows about 50 mm after years")
    sheet.screenshot("00_bed_B_untied")
    bill = text(sheet, STRIP)

    press(sheet, "Add one tie at mid-length, 11")
    shows(sheet, VERDICTS, "Add one tie", gone=True)
    until(sheet, lambda: text(sheet, STRIP) != bill, "the bill follows")
    tied = moves(sheet, "wall", wall)
    assert any("before" in (note or "") for note in tied["annotations"])
    press(sheet, "Tie the foot")
    shows(sheet, SENTENCE, "Everything checked holds")
    sheet.screenshot("00_bed_B_mended")

    pick(sheet, "strategy", "Logs, chips, mix on top")
    shows(sheet, SENTENCE, "saves")
    scene = figure(sheet, "scene")
    sheet.press(".bc-row-logs .widget-hslider", "ArrowRight", times=3)
    moves(sheet, "scene", scene)
    for name, words in (("fill", "the fill"), ("bill", "the bill")):
        choose(sheet, "close", words)
        assert figure(sheet, name)["data"]
        sheet.screenshot(f"00_close_{name}")

    sheet.press(".bc-row-length .widget-hslider", "ArrowRight", times=2)
    shows(sheet, SENTENCE, "2.80 m long")
    assert not (lab.workbooks / "my_garden.toml").exists(), "the demo is not saved"

    start_a_garden(sheet, "Our plot")
    sheet.find(".bc-view-bar button:has-text('Add a bed')").click()
    shows(sheet, SENTENCE, "2.40 m long")
    sheet.press(".bc-row-length .widget-hslider", "ArrowRight", times=2)
    shows(sheet, SENTENCE, "2.50 m long")
    shows(sheet, ".bc-view-bar", "Saved in my_garden.toml at")
    said = text(sheet, SENTENCE)
    assert 'length = "250 cm"' in (lab.workbooks / "my_garden.toml").read_text()

    lab.restart_kernels()
    sheet.open(BOOK).wait_until_run()
    skip_the_guess(sheet)
    until(sheet, lambda: text(sheet, SENTENCE) == said, "it goes on with the same bed")
    assert field(sheet, "length") == "250"
    sheet.screenshot("00_own_garden")
    assert sheet.errors() == []


def test_every_demo_bed_shows_without_an_error(sheet):
    skip_the_guess(sheet)
    options = sheet.find(".bc-row-which select").locator("option")
    labels = [t.replace("\N{NO-BREAK SPACE}", " ") for t in options.all_text_contents()]
    scene = figure(sheet, "scene")
    sheet.scroll_to(".bc-bench")
    edge = sheet.find(".bc-strip").bounding_box()
    assert sheet.page.evaluate(
        "([x, y]) => Boolean(document.elementFromPoint(x, y).closest('.bc-bench'))",
        [edge["x"] + 4, edge["y"] + 4],
    ), "nothing lies over the left edge of the bench"
    for bed in "ACDEFB":
        pick(sheet, "which", next(t for t in labels if t.startswith(f"bed {bed}:")))
        shows(sheet, SENTENCE, f"Bed {bed}:")
        scene = moves(sheet, "scene", scene)
        sheet.screenshot(f"00_bed_{bed}")
    assert sheet.errors() == []


def test_checks_answer_and_name_the_mistake(sheet):
    skip_the_guess(sheet)
    sheet.scroll_to(".bc-item-order")
    item = sheet.find(".bc-item-order")
    assert "not tried yet" in item.inner_text().lower()

    item.locator(".bc-input").fill("2.07 m3")  # 1.80 x 1.15
    item.locator(".bc-input").press("Enter")
    shows(sheet, ".bc-item-order", "Divide by")
    item.locator(".bc-input").fill("2.12 m3")
    item.locator(".bc-input").press("Enter")
    shows(sheet, ".bc-item-order", "Divide by", gone=True)
    sheet.screenshot("00_checks")


def test_narrow_enough_for_reading_on_a_phone(open_workbook):
    sheet = open_workbook(BOOK, width=480, height=900).wait_until_run()
    skip_the_guess(sheet)

    def fits() -> bool:
        box = sheet.find(".bc-bench").bounding_box()
        plot = sheet.find(".bc-figure-scene svg.bc-svg").bounding_box()
        return plot["width"] <= box["width"] + 1

    until(sheet, fits, "the scene is as narrow as the sheet")
    sheet.screenshot("00_narrow")


@pytest.mark.parametrize(
    ("group", "place", "book"),
    [
        ("Cut", "What the saw takes away", "04_cutting.ipynb"),
        ("Decide", "What does it cost a year?", "05_cost.ipynb"),
    ],
)
def test_signposts_lead_to_the_answer(sheet, group, place, book):
    fold = sheet.find(f".jp-RenderedMarkdown details:has-text('{group} (')")
    fold.locator("summary").click()
    sheet.scroll_to(".jp-RenderedMarkdown details")
    sheet.screenshot(f"00_signposts_{group}")
    fold.locator(f"a:has-text('{place}')").first.click()
    until(sheet, lambda: sheet.title() == book, "the workbook opens")
    sheet.wait_until_run()
    assert sheet.errors() == []

    def at_the_heading() -> bool:
        heading = sheet.find(f":is(h2, h3):has-text('{place}')")
        top, bottom = heading.bounding_box()["y"], sheet.page.viewport_size["height"]
        return 0 < top < bottom - 100

    until(sheet, at_the_heading, "the answer is in view")
