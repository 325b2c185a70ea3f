"""A slip loses nothing: stray keys, double clicks, a stopped program, foreign code."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
from pathlib import Path

import nbformat
import pytest

from bedcalc.lab.lessons import FLAG, PANEL

FIRST = "00_start_here.ipynb"
_CELLS = """panel => ['.jp-Cell', '.jp-CodeCell', '.jp-MarkdownCell.jp-mod-rendered']
  .map(kind => panel.querySelectorAll(kind).length)"""


def cells(sheet) -> list[int]:
    """How many cells there are, of code, and of rendered text."""
    return sheet.panel.evaluate(_CELLS)


def test_no_key_and_no_double_click_takes_a_lesson_apart(open_workbook):
    sheet = open_workbook(FIRST).wait_until_run()
    before = cells(sheet)
    bench = sheet.panel.locator(".jp-CodeCell:has(.bc-bench)").first
    for target in (
        sheet.panel.locator(".jp-RenderedMarkdown").first,
        bench.locator(".jp-OutputArea").first,
    ):
        target.scroll_into_view_if_needed()
        target.dblclick(position={"x": 4, "y": 4}, force=True)
        for keys in ("x", "d d", "Enter", "x", "Escape", "Backspace", "Shift+M"):
            for key in keys.split():
                sheet.page.keyboard.press(key)
            sheet.painted()
            dialog = sheet.page.locator(".jp-Dialog .jp-mod-accept")
            if dialog.count():  # JupyterLab may say why it did nothing
                dialog.click()
            assert cells(sheet) == before, keys
    assert bench.locator(".bc-bench").count()
    text = sheet.panel.locator(".jp-CodeCell:not(:has(.bc)) .cm-content").first
    text.click()
    sheet.page.keyboard.type("# mine")  # worked examples may be tried out
    assert "# mine" in text.inner_text()


def save(sheet) -> None:
    """Save the notebook in front, as a person does who wants to be sure."""
    with sheet.page.expect_response(
        lambda r: r.request.method == "PUT" and "/api/contents/" in r.url
    ) as put:
        sheet.find('[data-command="docmanager:save"]').click()
    assert put.value.ok


def first_day(sheet, lab) -> None:
    """Open the first workbook as if nobody had worked here yet, past the guess."""
    lab.restart_kernels()
    for path in lab.workbooks.glob("my_garden*"):
        path.unlink()
    sheet.open(FIRST).wait_until_run()
    skip = sheet.panel.locator(".bc-predict button:has-text('Skip')")
    if skip.count() and skip.first.is_visible():
        skip.first.click()
        sheet.wait_until_idle()


def test_a_double_click_on_a_mend_applies_one_fix(open_workbook, lab):
    sheet = open_workbook("plain.ipynb")
    first_day(sheet, lab)
    rows = sheet.panel.locator(".bc-verdict:not(.bc-hide) button:not(.bc-hide)")
    words = rows.all_inner_texts()
    rows.first.dblclick()
    sheet.until(lambda: rows.all_inner_texts() != words)
    sheet.wait_until_idle()
    twice = rows.all_inner_texts()
    assert twice != words
    first_day(sheet, lab)
    assert rows.all_inner_texts() == words
    rows.first.click()
    sheet.until(lambda: rows.all_inner_texts() != words)
    sheet.wait_until_idle()
    assert rows.all_inner_texts() == twice


def kernel_process(lab, workbook: str) -> int:
    """The process that runs this workbook, found by the name of its connection file."""
    session = next(s for s in lab.ask("/api/sessions") if s["path"] == workbook)
    name = f"kernel-{session['kernel']['id']}".encode()
    for path in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            if name in path.read_bytes():
                return int(path.parent.name)
        except OSError:  # it ended meanwhile
            continue
    raise LookupError(f"no process for {workbook}")


def press_start_again(sheet) -> None:
    accept = sheet.page.locator(".jp-Dialog .jp-Dialog-button").last
    sheet.page.add_locator_handler(
        accept, lambda: accept.click()
    )  # JupyterLab asks too
    button = sheet.panel.locator(".bedcalc-line button:has-text('Start again')")
    line = sheet.panel.locator(".bedcalc-line")

    def uncut() -> bool:  # once the page has measured its line
        return line.bounding_box()["height"] >= button.bounding_box()["height"] + 8

    sheet.until(uncut)
    button.click()
    sheet.wait_until_run()
    assert sheet.line() == ""
    assert sheet.errors() == []
    sheet.press(".t-slider", "ArrowRight")
    assert sheet.figure()["data"][0]["y"] == [0, 4, 8]


#: what the browser may note while the program behind the page is gone
BROKEN = ("websocket", "failed to load resource", "failed to fetch", "cannot send",
          "/api/", "kernel")  # fmt: skip

needs_proc = pytest.mark.skipif(
    not Path("/proc/self/stat").exists(), reason="finds processes in /proc"
)


@needs_proc
def test_after_its_kernel_was_killed_one_button_brings_a_lesson_back(
    open_workbook, lab
):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    sheet.forgive(*BROKEN)
    os.kill(kernel_process(lab, "flagged.ipynb"), signal.SIGKILL)
    line = sheet.panel.locator(".bedcalc-line:has-text('has stopped')")
    line.wait_for(timeout=90_000)
    assert sheet.line().startswith("The program behind this page has stopped.")
    press_start_again(sheet)


def test_after_a_restart_from_the_menu_one_button_brings_a_lesson_back(open_workbook):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    sheet.page.locator('.lm-MenuBar-item:has-text("Kernel")').click()
    sheet.page.locator('.lm-Menu-item[data-command="kernelmenu:restart"]').click()
    sheet.page.locator(".jp-Dialog .jp-mod-accept").click()
    sheet.panel.locator(".bedcalc-line:has-text('has stopped')").wait_for()
    press_start_again(sheet)


@needs_proc
def test_a_sleeping_kernel_is_told_and_may_wake_or_be_started_again(open_workbook, lab):
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    process = kernel_process(lab, "flagged.ipynb")
    silent = sheet.panel.locator(".bedcalc-line:has-text('does not answer')")
    handle = sheet.find(".t-slider .noUi-handle")
    sheet.forgive(*BROKEN)
    os.kill(process, signal.SIGSTOP)
    handle.focus()
    sheet.page.keyboard.press("ArrowRight")
    silent.wait_for(timeout=90_000)
    os.kill(process, signal.SIGCONT)
    silent.wait_for(state="hidden", timeout=90_000)  # it was only asleep

    sheet.wait_until_idle()
    os.kill(process, signal.SIGSTOP)
    handle.focus()  # the page may have been drawn anew
    sheet.page.keyboard.press("ArrowRight")
    silent.wait_for(timeout=90_000)
    press_start_again(sheet)


def test_after_the_server_was_gone_one_button_brings_a_lesson_back(open_workbook, lab):
    """The terminal was closed; bedcalc is started again, the page is still open."""
    sheet = open_workbook("flagged.ipynb").wait_until_run()
    sheet.forgive(*BROKEN, "failed to", "networkerror", "err_connection")
    lab.stop()
    try:
        sheet.panel.locator(".bedcalc-line:has-text('cannot be reached')").wait_for(
            timeout=40_000
        )
    finally:
        lab.start()
    press_start_again(sheet)


def test_the_page_says_that_it_is_loading(open_workbook, lab):
    shutil.copyfile(lab.workbooks / "flagged.ipynb", lab.workbooks / "slow.ipynb")
    book = nbformat.read(lab.workbooks / "slow.ipynb", as_version=4)
    book.cells.insert(0, nbformat.v4.new_code_cell("import time; time.sleep(4)"))
    nbformat.write(book, lab.workbooks / "slow.ipynb")
    lab.trust("slow.ipynb")
    sheet = open_workbook("slow.ipynb")
    assert sheet.line() == "Loading the lesson …"
    sheet.wait_until_run()
    assert sheet.line() == ""


@pytest.mark.parametrize("where", ["", "sub folder/"])
def test_a_foreign_notebook_with_our_flag_is_not_run(open_workbook, lab, where):
    """Its code writes a file, but only when the reader presses the button."""
    name = f"{where}foreign.ipynb"
    path = lab.workbooks / name
    path.parent.mkdir(exist_ok=True)
    trace = path.with_name("trace.txt")
    code = f"open({str(trace)!r}, 'a').write('ran')"
    first = nbformat.read(lab.workbooks / FIRST, as_version=4)
    cells = [
        first.cells[0],
        nbformat.v4.new_code_cell(code, metadata={"tags": [PANEL]}),
    ]
    # another version of the language: JupyterLab notes it, and may save the notebook
    meta = first.metadata | {"language_info": {"name": "python", "version": "3.1"}}
    assert meta[FLAG] is True
    nbformat.write(nbformat.v4.new_notebook(cells=cells, metadata=meta), path)

    for _ in range(2):
        sheet = open_workbook(name)
        sheet.panel.locator(".bedcalc-line:has-text('was not run')").wait_for()
        assert "did not come with bedcalc" in sheet.line()
        sheet.wait_until_idle()  # its kernel is up and was asked nothing
        assert not trace.exists()
        save(sheet)  # without running it: that is no sign of trust
        sheet.page.goto("about:blank")
    sheet = open_workbook(name)
    button = sheet.panel.locator(".bedcalc-line button:has-text('Run it')")
    line = sheet.panel.locator(".bedcalc-line")

    def uncut() -> bool:  # once the page has measured its line
        return line.bounding_box()["height"] >= button.bounding_box()["height"] + 8

    sheet.until(uncut)
    button.click()
    sheet.wait_until_run()
    assert trace.read_text() == "ran"
    save(sheet)  # what the reader has run and saved, their Jupyter trusts
    sheet.page.goto("about:blank")
    sheet.open(name).wait_until_run()
    assert trace.read_text() == "ranran"


def test_a_lesson_in_which_a_number_cell_was_changed_waits_for_trust(
    open_workbook, lab
):
    book = nbformat.read(lab.workbooks / FIRST, as_version=4)
    code = [c for c in book.cells if c.cell_type == "code"]
    number = next(i for i, c in enumerate(code) if not c.metadata.get("tags"))
    for name in ("changed.ipynb", "signed.ipynb"):
        code[number].source += f"\nprint({name!r})"
        nbformat.write(book, lab.workbooks / name)
    lab.trust("signed.ipynb")
    sheet = open_workbook("changed.ipynb")
    sheet.panel.locator(".bedcalc-line:has-text('was not run')").wait_for()
    assert f"code cell {number + 1} did not come" in sheet.line()
    sheet.page.goto("about:blank")
    assert sheet.open("signed.ipynb").wait_until_run().errors() == []


def test_reading_all_lessons_changes_no_file(open_workbook, lab):
    """Opened, run, and saved by hand: git sees nothing."""

    def git(*words: str) -> str:
        command = ["git", "-c", "user.name=a", "-c", "user.email=a@example.org", *words]
        return subprocess.run(
            command, cwd=lab.workbooks, check=True, capture_output=True, text=True
        ).stdout

    for path in lab.workbooks.glob("my_*"):
        path.unlink()
    lessons = sorted(p.name for p in lab.workbooks.glob("0[0-9]_*.ipynb"))
    assert len(lessons) == 9
    git("init", "--quiet")
    git("add", *lessons)
    git("commit", "--quiet", "-m", "as they came")
    for name in lessons:
        came = (lab.workbooks / name).stat().st_mtime_ns
        sheet = open_workbook(name).wait_until_run()
        save(sheet)
        assert (lab.workbooks / name).stat().st_mtime_ns > came  # it was really written
        sheet.page.goto("about:blank")
    assert git("status", "--porcelain", "--untracked-files=no") == ""
