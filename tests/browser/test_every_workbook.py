"""Workbooks 01 to 06 in the browser: every control that shows is moved once.

Whatever goes wrong on the page or, unseen, in the kernel fails the test (see
``open_workbook``). So does a slider without an answer: its number box at least is
written by the kernel.
"""

from __future__ import annotations

from pathlib import Path

import pytest

BOOKS = sorted(
    path.name
    for path in (Path(__file__).parents[2] / "workbooks").glob("*.ipynb")
    if not path.name.startswith("00")  # has a file of tests of its own
)

#: all that panels show: words, numbers in boxes, what figures draw
_SEEN = """() => {
  const panel = document.querySelector('.jp-NotebookPanel:not(.lm-mod-hidden)');
  const words = [...panel.querySelectorAll('.bc')].map(e => e.innerText);
  const boxes = [...panel.querySelectorAll('.bc input')].map(e => e.value);
  const drawn = [...panel.querySelectorAll('.js-plotly-plot')].map(e => JSON.stringify(
    [e.data, e.layout.shapes, (e.layout.annotations || []).map(note => note.text)],
    (name, value) => name.startsWith('_') ? undefined
      : ArrayBuffer.isView(value) ? Array.from(value) : value));
  return words.concat(boxes, drawn).join('|');
}"""


def seen(sheet) -> str:
    return sheet.page.evaluate(_SEEN)


def settled(sheet) -> None:
    """Let the answer to a move begin, and end."""
    sheet.page.wait_for_timeout(80)
    sheet.wait_until_idle()


def answered(sheet, before: str, seconds: float = 5) -> bool:
    """Whether something changes; a busy machine may take its time."""
    for _ in range(int(seconds / 0.1)):
        if seen(sheet) != before:
            return True
        sheet.page.wait_for_timeout(100)
    return False


def guesses_skipped(sheet) -> None:
    """Skip every guess that shows; one may open another."""
    skip = sheet.panel.locator(".bc-predict button:has-text('Skip')")
    assert skip.count()
    while showing := [button for button in skip.all() if button.is_visible()]:
        showing[0].click()
        settled(sheet)


@pytest.mark.parametrize("name", BOOKS)
def test_every_control_answers(open_workbook, name):
    sheet = open_workbook(name).wait_until_run()
    assert sheet.errors() == []
    guesses_skipped(sheet)

    still = []
    for slider in sheet.panel.locator(".bc-row:has(.noUi-handle)").all():
        if slider.is_visible():
            before = seen(sheet)
            handle = slider.locator(".noUi-handle").first
            handle.focus()
            stands = handle.get_attribute("aria-valuenow")
            for key in ("ArrowRight", "ArrowLeft"):  # one of them, at an end
                sheet.page.keyboard.press(key)
                settled(sheet)
                if handle.get_attribute("aria-valuenow") != stands:
                    break
            if not answered(sheet, before):
                still.append(slider.get_attribute("class"))
    assert still == []

    for choice in sheet.panel.locator(".bc-row .bc-choice").all():
        if choice.is_visible():
            choice.locator("label").last.click()
            settled(sheet)
            assert choice.locator("input").last.is_checked()

    for box in sheet.panel.locator(".bc-row select").all():
        if box.is_visible():
            last = box.locator("option").count() - 1
            box.select_option(index=last)
            settled(sheet)

    assert sheet.errors() == []
    sheet.screenshot(f"{Path(name).stem}_moved")
