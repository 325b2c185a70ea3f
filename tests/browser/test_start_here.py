"""Workbook 00 as a stranger meets it: guess, move, mend, fill, save, come back tomorrow."""

from __future__ import annotations

import json
import time
import urllib.request

import pytest

BOOK = "00_start_here.ipynb"


@pytest.fixture
def sheet(open_workbook, lab):
    (lab.workbooks / "my_garden.toml").unlink(missing_ok=True)
    return open_workbook(BOOK).wait_until_run()


def skip_the_guess(sheet):
    sheet.find(".bc-predict button:has-text('Skip')").click()
    sheet.wait_until_idle()
    sheet.find(".bc-bench .js-plotly-plot .gl-container")


def said(sheet) -> str:
    return sheet.find(".bc-live").inner_text()


def strip(sheet) -> str:
    return sheet.find(".bc-strip").inner_text()


def verdicts(sheet) -> str:
    return sheet.find(".bc-verdicts").inner_text()


def choose(sheet, row: str, text: str):
    sheet.find(f".bc-row-{row} label:has-text('{text}')").click()
    sheet.wait_until_idle()


def pick(sheet, row: str, label: str):
    sheet.find(f".bc-row-{row} select").select_option(label=label)
    sheet.wait_until_idle()


def field(sheet, row: str) -> str:
    return sheet.find(f".bc-row-{row} .bc-input").input_value()


def test_a_guess_opens_the_bench_and_is_answered_in_words(sheet):
    assert sheet.errors() == []
    assert not sheet.panel.locator(".bc-bench").first.is_visible()

    sheet.find(".bc-predict .bc-input").fill("10 mm")
    sheet.page.keyboard.press("Enter")
    sheet.wait_until_idle()

    assert sheet.find(".bc-bench").is_visible()
    answer = sheet.find(".bc-predict").inner_text()
    assert "50" in answer and "10" in answer
    sheet.screenshot("00_after_guess")


def test_keys_and_mouse_move_picture_numbers_and_verdicts(sheet):
    skip_the_guess(sheet)
    scene, words = sheet.figure(".bc-figure-scene"), said(sheet)
    assert "2.70 m long" in words

    sheet.press(".bc-row-length .widget-hslider", "ArrowRight", times=4)
    longer = sheet.figure(".bc-figure-scene")
    assert "2.90 m long" in said(sheet)
    assert longer["data"] != scene["data"]

    before = strip(sheet)
    sheet.drag(".bc-row-height", by=-40)
    assert said(sheet) != words
    assert strip(sheet) != before
    assert sheet.figure(".bc-figure-scene")["data"] != longer["data"]
    sheet.screenshot("00_moved")


def test_the_number_box_says_what_it_needs_and_keeps_the_last_good_value(sheet):
    skip_the_guess(sheet)
    box = sheet.find(".bc-row-length .bc-input")
    box.fill("9000")
    box.press("Enter")
    sheet.wait_until_idle()

    assert "9000" in sheet.find(".bc-row-length .bc-says").inner_text()
    assert field(sheet, "length") == "270"
    assert "2.70 m long" in said(sheet)

    box.fill("8 ft 6 in")
    box.press("Enter")
    sheet.wait_until_idle()
    assert "2.59 m long" in said(sheet)


def test_the_mend_that_a_verdict_proposes_mends(sheet):
    skip_the_guess(sheet)
    wall = sheet.figure(".bc-figure-wall")
    assert "Add one tie at mid-length, 11" in verdicts(sheet)
    sheet.screenshot("00_bed_B_untied")

    sheet.find(".bc-verdict button:has-text('Add one tie')").click()
    sheet.wait_until_idle()
    assert "Add one tie" not in verdicts(sheet)
    assert "1–1" in strip(sheet) or "0–1" in strip(sheet)
    tied = sheet.figure(".bc-figure-wall")
    assert tied["data"] != wall["data"]
    assert any("before" in (note or "") for note in tied["annotations"])

    sheet.find(".bc-verdict button:has-text('Tie the foot')").click()
    sheet.wait_until_idle()
    assert "Everything checked holds" in said(sheet)
    sheet.screenshot("00_bed_B_mended")


def test_logs_instead_of_mix_say_what_they_save(sheet):
    skip_the_guess(sheet)
    pick(sheet, "strategy", "Logs, chips, mix on top")
    assert "saves" in said(sheet)
    words = said(sheet)

    sheet.press(".bc-row-logs .widget-hslider", "ArrowRight", times=3)
    assert said(sheet) != words
    choose(sheet, "close", "the fill")
    assert sheet.figure(".bc-figure-fill")["data"]
    choose(sheet, "close", "the bill")
    assert sheet.figure(".bc-figure-bill")["data"]
    sheet.screenshot("00_logs")


def test_feet_and_inches(sheet):
    skip_the_guess(sheet)
    choose(sheet, "system", "feet")

    assert "8.86 ft long" in said(sheet)
    assert sheet.find(".bc-row-length .bc-unit").inner_text() == "in"
    sheet.screenshot("00_us")


@pytest.mark.parametrize("bed", "ABCDEF")
def test_every_demo_bed_shows(sheet, bed):
    skip_the_guess(sheet)
    choices = sheet.find(".bc-row-begin select").locator("option").all_inner_texts()
    pick(sheet, "begin", next(c for c in choices if c.startswith(f"bed {bed}:")))

    assert f"Bed {bed}" in said(sheet)
    assert sheet.errors() == []
    sheet.screenshot(f"00_bed_{bed}")


def test_saved_restarted_opened_and_where_one_was(sheet, lab):
    skip_the_guess(sheet)
    sheet.press(".bc-row-length .widget-hslider", "ArrowRight", times=2)
    choose(sheet, "ties", "1")
    pick(sheet, "strategy", "Logs, chips, mix on top")
    sheet.find("button:has-text('Save as my bed')").click()
    sheet.wait_until_idle()
    assert "Saved in my_garden.toml" in sheet.find(".bc-bench").inner_text()
    words = said(sheet).replace("Bed B", "My bed")
    assert 'name = "mine"' in (lab.workbooks / "my_garden.toml").read_text()

    for kernel in lab.ask("/api/kernels"):
        request = urllib.request.Request(
            f"{lab.address}/api/kernels/{kernel['id']}/restart",
            method="POST",
            headers={"Authorization": f"token {lab.token}"},
        )
        with urllib.request.urlopen(request, timeout=60) as answer:
            assert json.load(answer)["id"] == kernel["id"]
    time.sleep(1)
    sheet.open(BOOK).wait_until_run()
    skip_the_guess(sheet)
    assert "2.70 m long" in said(sheet)

    sheet.find("button:has-text('Open mine')").click()
    sheet.wait_until_idle()
    assert said(sheet) == words
    assert field(sheet, "length") == "280"


def test_checks_answer_and_name_the_mistake(sheet):
    skip_the_guess(sheet)
    sheet.scroll_to(".bc-item-order")
    item = sheet.find(".bc-item-order")
    assert "not tried yet" in item.inner_text().lower()

    item.locator(".bc-input").fill("2.07 m3")  # 1.80 x 1.15
    item.locator(".bc-input").press("Enter")
    sheet.wait_until_idle()
    assert "Divide by" in sheet.find(".bc-item-order").inner_text()

    item.locator(".bc-input").fill("2.12 m3")
    item.locator(".bc-input").press("Enter")
    sheet.wait_until_idle()
    assert "Divide by" not in sheet.find(".bc-item-order").inner_text()
    sheet.screenshot("00_checks")


def test_narrow_enough_for_reading_on_a_phone(open_workbook):
    sheet = open_workbook(BOOK, width=480, height=900).wait_until_run()
    skip_the_guess(sheet)
    sheet.page.wait_for_timeout(600)
    box = sheet.find(".bc-bench").bounding_box()
    figure = sheet.find(".bc-figure-scene .js-plotly-plot").bounding_box()

    assert figure["width"] <= box["width"] + 1
    sheet.screenshot("00_narrow")
