"""Opening a workbook: it runs itself if flagged, is calm, and stays on this machine."""

from __future__ import annotations

import nbformat
import pytest


def test_a_flagged_workbook_runs_itself_and_answers_its_slider(open_workbook):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    assert sheet.errors() == []
    assert "[2]:" in sheet.executed()
    assert sheet.figure()["data"][0]["y"] == [0, 3, 6]
    sheet.press(".t-slider", "ArrowRight", times=2)
    assert sheet.figure()["data"][0]["y"] == [0, 5, 10]
    sheet.drag(".t-slider", by=-400)
    assert sheet.figure()["data"][0]["y"] == [0, 0, 0]
    sheet.screenshot("opening_flagged")


def test_opening_leaves_the_reader_at_the_top_with_the_whole_width(open_workbook):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    sheet.page.wait_for_timeout(500)
    assert sheet.scroller.evaluate("e => e.scrollTop") == 0
    # 1280 less the two narrow bars of icons: both side panels are closed
    assert sheet.panel.bounding_box()["width"] > 1180


def test_the_printed_address_opens_the_workbook(open_workbook, lab):
    sheet = open_workbook("plain.ipynb")
    sheet.page.goto(lab.url("/"))
    sheet.wait_until_run()
    assert sheet.page.url == f"{lab.address}/lab/tree/flagged.ipynb"


def test_folded_code_is_one_click_away(open_workbook):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    bar = sheet.find(".jp-InputPlaceholder")
    assert bar.bounding_box()["height"] <= 20
    bar.locator(".jp-Placeholder-content").click()
    assert "figure = Plot" in sheet.find(".jp-CodeCell .cm-content").inner_text()


def test_a_reload_brings_a_live_bench_again(open_workbook):
    """The kernel still holds the figures of the first time; they must do no harm."""
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    sheet.open("flagged.ipynb").wait_until_run()
    sheet.press(".t-slider", "ArrowRight")
    assert sheet.figure()["data"][0]["y"] == [0, 4, 8]


def test_all_figures_share_one_copy_of_plotly(open_workbook):
    """Two figures: had each its own copy, the socket would carry 5 MB for each."""
    received, fetched = [], []
    sheet = open_workbook("plain.ipynb")
    sheet.page.goto("about:blank")  # nothing of this page is counted
    sheet.page.on("response", lambda answer: fetched.append(answer.url))
    sheet.page.on(
        "websocket",
        lambda socket: socket.on("framereceived", lambda f: received.append(len(f))),
    )
    sheet.open("flagged.ipynb").wait_until_run()
    sheet.figure(index=1)
    assert sum("plotly.min.js" in url for url in fetched) == 1
    assert sum(received) < 2_000_000


@pytest.mark.parametrize("name", ["plain.ipynb", "other_flag.ipynb"])
def test_a_notebook_without_our_flag_is_left_alone(open_workbook, name):
    sheet = open_workbook(name)
    sheet.find('.jp-Notebook-ExecutionIndicator[data-status="idle"]')
    sheet.wait_until_idle()
    assert sheet.executed() == []
    assert sheet.panel.get_attribute("data-bedcalc-run") is None
    assert "bedcalc-workbook" not in sheet.panel.get_attribute("class")
    sheet.run_all()  # and a person can still run it
    assert sheet.figure()["data"][0]["y"] == [0, 3, 6]


def test_the_guard_sees_what_goes_wrong(open_workbook, lab):
    """The fixture's own check, turned round: each kind of trouble must be noted."""
    sheet = open_workbook("plain.ipynb")
    sheet.page.evaluate("() => console.error('a word')")
    sheet.page.evaluate("() => { setTimeout(() => { throw new Error('a fall') }) }")
    sheet.page.evaluate("() => fetch('http://192.0.2.1/').catch(() => 0)")
    sheet.page.wait_for_timeout(200)
    text = "\n".join(sheet.problems)
    assert "console error: a word" in text
    assert "page error" in text and "a fall" in text
    assert "request leaving the machine: http://192.0.2.1/" in text
    sheet.page.close()
    sheet.problems.clear()


def test_no_news_and_no_update_questions(open_workbook, lab):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    assert sheet.page.locator(".Toastify__toast").count() == 0
    log = lab.server_log.read_text()
    assert "bedcalc.lab.shared_plotly | extension was successfully loaded" in log
    assert "/lab/api/news" not in log and "/lab/api/update" not in log


def test_a_saved_workbook_still_passes_as_it_came(open_workbook, lab):
    """JupyterLab saves by itself; a checkout that was read in must stay as it was."""
    path = lab.workbooks / "00_start_here.ipynb"
    came = nbformat.read(path, as_version=4)
    sheet = open_workbook(path.name).wait_until_run()
    with sheet.page.expect_response(
        lambda r: r.request.method == "PUT" and "/api/contents/" in r.url
    ) as put:
        sheet.find('[data-command="docmanager:save"]').click()
    assert put.value.ok
    sheet.wait_until_idle()

    saved = nbformat.read(path, as_version=4)
    assert [c.source for c in saved.cells] == [c.source for c in came.cells]
    for was, now in zip(came.cells, saved.cells, strict=True):
        assert now.get("outputs") == was.get("outputs")
        assert now.get("execution_count") == was.get("execution_count")
    assert saved.metadata.bedcalc_run_on_open is True
    assert "widgets" not in saved.metadata
