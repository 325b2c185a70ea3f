"""One workbook open in a real browser: look at it, move its controls, take pictures."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from urllib.parse import quote, urlsplit

from playwright.sync_api import Locator, Page

from tests.browser.lab import Lab

__all__ = ["SCREENSHOTS", "Sheet"]

#: Pictures for people; not part of the repository.
SCREENSHOTS = Path(__file__).parents[2] / "screenshots"

_FRONT = ".lm-DockPanel .lm-TabBar-tab.lm-mod-current .lm-TabBar-tabLabel"
#: JupyterLab 4.5 notes this while any notebook is run by a program; no reader sees it
_OF_LAB_45 = "Failed to update the table of contents"
_HERE = {"127.0.0.1", "localhost"}
_PLAIN = {"data", "blob", "about"}

_FIGURE = """figure => JSON.parse(JSON.stringify({
  data: figure.data.map(trace => Object.fromEntries(
    Object.entries(trace).filter(([name]) => !name.startsWith('_')))),
  shapes: figure.layout.shapes || [],
  annotations: (figure.layout.annotations || []).map(note => note.text),
  title: figure.layout.title && figure.layout.title.text,
}, (_, value) => ArrayBuffer.isView(value) ? Array.from(value) : value))"""


class Sheet:
    """A workbook in the browser.

    Parameters
    ----------
    page : playwright Page
        A fresh page; everything that goes wrong on it is noted in ``problems``.
    lab : Lab
        The server it talks to.
    """

    def __init__(self, page: Page, lab: Lab):
        self.page, self.lab = page, lab
        self.problems: list[str] = []
        self._forgiven = re.compile(r"(?!)")
        page.on("console", self._heard)
        page.on("pageerror", lambda error: self._note("page error", error.stack))
        page.on("request", lambda request: self._asked(request.url))
        page.on("websocket", self._connected)

    def _note(self, kind: str, text: str) -> None:
        if not self._forgiven.search(text):
            self.problems.append(f"{kind}: {text}")

    def forgive(self, *words: str) -> None:
        """From now on note no problem with one of these words: it is wanted."""
        self._forgiven = re.compile("|".join(words), re.IGNORECASE)

    def _heard(self, message) -> None:
        if message.type == "error" and not message.text.startswith(_OF_LAB_45):
            self._note("console error", f"{message.text} ({message.location})")

    def _connected(self, web_socket) -> None:
        self._asked(web_socket.url)
        web_socket.on("framereceived", self._received)

    def _received(self, frame: bytes | str) -> None:
        """Note what goes wrong in the kernel, where no cell shows it, either."""
        if isinstance(frame, bytes) and b'"msg_type": "error"' in frame:
            found = re.search(rb'"ename".*', frame, re.DOTALL)
            words = found[0] if found else frame[-300:]
            self._note("kernel error", words.decode(errors="replace"))

    def _asked(self, url: str) -> None:
        parts = urlsplit(url)
        if parts.scheme not in _PLAIN and parts.hostname not in _HERE:
            self._note("request leaving the machine", url)

    @property
    def panel(self) -> Locator:
        """The notebook in front (hidden ones stay in the page)."""
        return self.page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")

    def find(self, selector: str) -> Locator:
        """The first element of the notebook in front that fits, once it is there."""
        found = self.panel.locator(selector).first
        found.wait_for(state="attached", timeout=30_000)
        return found

    def open(self, workbook: str) -> Sheet:
        """Go to a workbook by its file name and wait until its cells show."""
        self.page.goto(self.lab.url(f"/lab/tree/{quote(workbook)}"))
        # JupyterLab brings the tabs of the last page back; one of them may be in front
        self.page.locator(_FRONT, has_text=Path(workbook).name).wait_for(timeout=90_000)
        self.find(".jp-Cell").wait_for(state="visible", timeout=60_000)
        return self

    def until(self, is_so: Callable[[], bool], seconds: float = 60) -> None:
        """Wait until something is so, as the page or the server tells it."""
        end = time.monotonic() + seconds
        while not is_so():
            if time.monotonic() > end:
                raise TimeoutError(f"{self.title()}: not so after {seconds} s")
            self.page.wait_for_timeout(60)

    def title(self) -> str:
        """The file name of the workbook in front."""
        return self.page.locator(_FRONT).first.inner_text()

    def wait_until_run(self, seconds: float = 120) -> Sheet:
        """Wait until a flagged workbook has run itself to its end."""
        front = ".jp-NotebookPanel:not(.lm-mod-hidden)"
        ended = ", ".join(
            f'{front}[data-bedcalc-run="{e}"]' for e in ("done", "foreign")
        )
        found = self.page.locator(ended)
        found.wait_for(state="attached", timeout=seconds * 1000)
        if found.get_attribute("data-bedcalc-run") == "foreign":
            raise AssertionError(
                f"{self.line()} (a lesson that was changed needs: "
                "python -m tests.workbooks.refresh --marks)"
            )
        return self.wait_until_idle(seconds)

    def line(self) -> str:
        """The words in the line above the notebook in front, or nothing."""
        line = self.panel.locator(".bedcalc-line:not(.lm-mod-hidden)")
        return line.inner_text() if line.count() else ""

    def wait_until_idle(self, seconds: float = 60) -> Sheet:
        """Wait until the kernel has nothing left to do and the page is painted."""
        end, calm = time.monotonic() + seconds, 0
        while calm < 3:
            if time.monotonic() > end:
                raise TimeoutError(f"{self.title()} was still busy after {seconds} s")
            self.page.wait_for_timeout(60)
            calm = calm + 1 if self.lab.is_idle(self.title()) else 0
        self.painted()
        return self

    def painted(self) -> None:
        """Let the browser paint two frames."""
        self.page.evaluate(
            "() => new Promise(done => requestAnimationFrame("
            "() => requestAnimationFrame(() => done())))"
        )

    def run_all(self) -> Sheet:
        """Run every cell from the menu, for a notebook that does not run itself."""
        self.page.locator('.lm-MenuBar-item:has-text("Run")').click()
        self.page.locator('.lm-Menu-item[data-command="runmenu:run-all"]').click()
        self.page.wait_for_timeout(300)
        return self.wait_until_idle()

    def executed(self) -> list[str]:
        """The prompts of the code cells' results, such as ``[3]:``."""
        return self.panel.locator(".jp-OutputPrompt").all_text_contents()

    def errors(self) -> list[str]:
        """What cells printed as an error."""
        return self.panel.locator(
            '.jp-OutputArea-output[data-mime-type="application/vnd.jupyter.stderr"],'
            '.jp-OutputArea-output[data-mime-type="application/vnd.jupyter.error"]'
        ).all_text_contents()

    def press(self, selector: str, key: str, times: int = 1) -> None:
        """Focus a control and press a key, waiting for the answer after each press."""
        control = self.find(selector)
        if "noUi-handle" not in (control.get_attribute("class") or ""):
            handle = control.locator(".noUi-handle, input, button, select").first
            control = handle if handle.count() else control
        for _ in range(times):
            control.focus()
            self.page.keyboard.press(key)
            self.wait_until_idle()

    def drag(self, selector: str, by: float, steps: int = 12) -> None:
        """Drag the handle of the slider that fits sideways by some pixels."""
        handle = self.find(f"{selector} .noUi-handle")
        handle.scroll_into_view_if_needed()
        box = handle.bounding_box()
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        self.page.mouse.move(x + by, y, steps=steps)
        self.page.mouse.up()
        self.wait_until_idle()

    def figure(self, selector: str = "", index: int = 0) -> dict:
        """What a Plotly figure shows: ``data`` as lists, shapes, annotations, title."""
        figure = self.panel.locator(f"{selector} .js-plotly-plot".strip()).nth(index)
        figure.locator(".main-svg").first.wait_for(state="attached", timeout=30_000)
        return figure.evaluate(_FIGURE)

    def scroll_to(self, selector: str) -> None:
        """Bring what fits to the top of the view and let it be painted."""
        self.find(selector).evaluate("e => e.scrollIntoView({block: 'start'})")
        self.page.wait_for_timeout(400)
        self.painted()

    @property
    def scroller(self) -> Locator:
        """The part of the notebook that scrolls."""
        return self.find(".jp-WindowedPanel-outer")

    def screenshot(self, name: str, selector: str = "") -> Path:
        """Take a picture once all is calm: of the view, or of one element.

        ``name`` is a file in ``screenshots/``, or a whole path.
        """
        self.wait_until_idle()
        path = (SCREENSHOTS / name).with_suffix(".png")
        path.parent.mkdir(parents=True, exist_ok=True)
        shown = self.find(selector) if selector else self.page
        shown.screenshot(path=path, animations="disabled")
        return path

    def screenshots(self, name: str, most: int = 40) -> Iterator[Path]:
        """Take pictures of the whole workbook from top to end, a screen at a time."""
        self.scroller.evaluate("e => e.scrollTo(0, 0)")
        for number in range(1, most + 1):
            self.page.wait_for_timeout(400)
            yield self.screenshot(f"{name}_{number:02d}")
            last = self.panel.locator(".jp-Cell").last.bounding_box()
            view = self.scroller.bounding_box()
            if last["y"] + last["height"] <= view["y"] + view["height"]:
                return
            self.scroller.evaluate("e => e.scrollBy(0, e.clientHeight - 40)")
