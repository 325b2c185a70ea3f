"""Lists as text: all readings, and what stands on the plot, one line each."""

from __future__ import annotations

from collections.abc import Callable
from math import isfinite

import ipywidgets

from ...model.place import PlaceError
from ...model.plot import KINDS, Plot, Thing, rectangle
from ..kit.inputs import Message
from ..kit.style import button, button_row, html, paper
from ..kit.words import plain
from .desk import SiteDesk

__all__ = ["readings_text", "yard_text"]


class _LineError(ValueError):
    """A line cannot be read: the message says which and what would do."""


def _block(
    desk: SiteDesk,
    head: str,
    more: str,
    press: str,
    lines: Callable[[], list[str]],
    take: Callable[[list[tuple[int, str]]], str],
) -> ipywidgets.VBox:
    """A text field that follows the desk, and a button that reads it."""
    box = ipywidgets.Textarea(layout={"width": "100%", "height": "190px"})
    box.add_class("bc-readings")
    said = Message()

    def write(_=None) -> None:
        box.value = "\n".join(lines())

    def read() -> None:
        given = [
            (number, line.strip())
            for number, line in enumerate(box.value.splitlines(), start=1)
            if line.strip()
        ]
        try:
            words = take(given)
        except (_LineError, PlaceError) as error:
            said.html, said.tone = f"<p>{plain(error)}</p>", "refused"
            return
        said.html, said.tone = f"<p>{plain(words)}</p>", "kept"

    desk.observe(write)
    words = html(
        f'<details class="bc-more"><summary>{plain(head)}</summary><p>{plain(more)}</p>'
        "</details>"
    )
    return paper(words, box, button_row(button(press, read)), said)


def _numbers(line: str, count: int) -> list[float]:
    words = line.replace(";", " ").replace(",", ".").split()
    if len(words) < count:
        raise ValueError
    found = [float(word) for word in words[:count]]
    if not all(map(isfinite, found)):  # "nan" and "inf" are numbers to Python
        raise ValueError
    return found


def readings_text(desk: SiteDesk) -> ipywidgets.VBox:
    """All readings as lines of text, to be typed or pasted."""

    def lines() -> list[str]:
        return [f"{x:.6g} {y:.6g} {d:.6g}" for x, y, d in desk.plan.points]

    def take(given) -> str:
        rows = []
        for number, line in given:
            try:
                if len(line.replace(";", " ").split()) != 3:
                    raise ValueError
                rows.append(_numbers(line, 3))
            except ValueError:
                raise _LineError(
                    f"Line {number}: needs three numbers in metres (x, y, down); you "
                    f"wrote “{line}”; for example 4.8 0 0.281."
                ) from None
        desk.read(rows)
        return f"{len(rows)} readings taken."

    return _block(
        desk,
        "All readings as text: one line each, x, y and down, in metres",
        "Type or paste your own here, then press the button. Three corners are enough "
        "for a slope, four check it, more find a mistake.",
        "Take these readings",
        lines,
        take,
    )


def yard_text(desk: SiteDesk) -> ipywidgets.VBox:
    """The plot and what stands on it as lines of text."""

    def lines() -> list[str]:
        plot = desk.place.plot
        if plot is None:
            return []
        found = [f"corner {x:g} {y:g}" for x, y in plot.outline]
        turn = plot.downhill
        if plot.is_box and plot.bounds[::2] == (0, 0) and turn is not None:
            found = [f"plot {plot.length:g} {plot.width:g} {turn:g}"]
        elif turn is not None:
            found.append(f"downhill {turn:g}")
        return found + [
            f"{t.kind} {t.x:g} {t.y:g} {t.length:g} {t.width:g} {t.height:g} {t.name}"
            for t in plot.things
        ]

    def take(given) -> str:
        box, corners, turn, things = None, [], None, []
        for number, line in given:
            kind, _, rest = line.partition(" ")
            try:
                if kind == "plot":
                    box = _numbers(rest, 3)
                elif kind == "corner":
                    corners.append(tuple(_numbers(rest, 2)))
                elif kind == "downhill":
                    (turn,) = _numbers(rest, 1)
                elif kind in KINDS:
                    things.append(_thing(kind, rest))
            except ValueError as error:
                if isinstance(error, PlaceError):
                    raise
                raise _LineError(
                    f"Line {number}: “{line}” needs {_WANTED.get(kind, _OF_THINGS)}."
                ) from None
            if kind not in (*_WANTED, *KINDS):
                raise _LineError(
                    f"Line {number}: begins with {', '.join((*_WANTED, *KINDS))}; you "
                    f"wrote “{kind}”; for example tap 14.2 0.3 0 0 0 tap."
                )
        if box is None and not corners:
            raise _LineError(
                "The plot: needs a line with its size and the bearing of its lower "
                "edge, for example plot 14.4 9.6 180, or a line for each corner."
            )
        if corners:
            plot = Plot(outline=tuple(corners), downhill=turn, things=tuple(things))
        else:
            plot = rectangle(*box[:2], downhill=box[2] % 360, things=tuple(things))
        desk.take(place=desk.place.change(plot=plot))
        return f"The plot and {len(things)} things taken."

    return _block(
        desk,
        "The plot and what stands on it, one line each, in metres",
        "plot: length to the right, width down the page, and towards which point of "
        "the compass the page runs down (180 is south, 270 west). Of another shape? "
        "Write a line “corner x y” for each corner in turn, and “downhill 180”. "
        "Then kind, x, y, length, width, height, name. "
        f"Kinds: {', '.join(KINDS)}. Things outside the plot still throw shade.",
        "Take this plot",
        lines,
        take,
    )


_WANTED = {
    "plot": "length, width and the bearing of the lower edge; for example plot 14.4 "
    "9.6 180",
    "corner": "x and y; for example corner 14.4 0",
    "downhill": "a bearing in degrees; for example downhill 180",
}
_OF_THINGS = (
    "x, y, length, width, height in metres, no size below 0, and a name; for example "
    "tree 12 7 2.4 2.4 4.5 plum"
)


def _thing(kind: str, rest: str) -> Thing:
    x, y, length, width, height = _numbers(rest, 5)
    if min(length, width, height) < 0:
        raise ValueError
    name = " ".join(rest.replace(";", " ").split()[5:]) or kind
    return Thing(
        name=name, kind=kind, x=x, y=y, length=length, width=width, height=height
    )
