"""What a reader finds written on a page, and what must not be among it."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from typing import Any

import bedcalc as bc

__all__ = ["broken", "every", "foreign", "own_views", "text_of"]

#: broken numbers, gaps of a text, a currency without a sign, an error of the program
_BROKEN = re.compile(r"\b(nan|inf)\b|¤|\{\w+\}|Quantity\(|Traceback", re.I)
_SUMS = re.compile(r"\$\$?[^$\n]+\$\$?")  # formulas in the signs of mathematics


def every(widget: Any) -> Iterator[Any]:
    """A widget and all that lies in it."""
    yield widget
    for child in getattr(widget, "children", ()):
        yield from every(child)


def _said(widget: Any) -> Iterator[str]:
    names = ("description", "label", "says", "placeholder", "unit", "value", "html")
    for name in names:
        value = getattr(widget, name, "")
        if isinstance(value, str):
            yield value
    yield from getattr(widget, "texts", ())


def text_of(widget: Any) -> str:
    """All that can be read in a widget, without the signs of HTML."""
    if not hasattr(widget, "children") and hasattr(widget, "_repr_markdown_"):
        return widget._repr_markdown_()
    texts = (text for one in every(widget) for text in _said(one))
    return "\n".join(html.unescape(re.sub(r"<[^>]*>", " ", text)) for text in texts)


def own_views(shown: list) -> Iterator[Any]:
    """The views that are about the reader's own bed."""
    for view in (w for one in shown for w in every(one)):
        kinds = getattr(view, "_dom_classes", ())
        if any(kind.startswith("bc-view-") for kind in kinds):
            text = text_of(view)
            if "Your bed " in text and "of the demo garden" not in text:
                yield view


def _around(text: str, found: re.Match) -> str:
    return " ".join(text[max(0, found.start() - 60) : found.end() + 60].split())


def broken(text: str, garden: bc.Garden) -> list[str]:
    """Places of a text that no reader should meet; names of one's own may be odd."""
    names = [n for b in garden for n in (b.title, b.name) if n] + [garden.name]
    shown = {re.sub(r"<[^>]*>", " ", name) for name in names}  # as text_of reads lists
    for name in sorted({*names, *shown}, key=len, reverse=True):
        text = text.replace(name, "*")
    text = _SUMS.sub("", text)
    return [_around(text, found) for found in _BROKEN.finditer(text)]


def foreign(text: str, garden: bc.Garden) -> list[str]:
    """Places in a view of one's own that speak of the demo garden or its money."""
    signs = {"€": "EUR", "$": "USD"}
    wrong = [s for s, code in signs.items() if garden.place.currency.code != code]
    marks = "|".join(map(re.escape, ("Plumtrellis", *wrong)))
    text = _SUMS.sub("", text.replace(garden.name, "*"))
    return [_around(text, found) for found in re.finditer(marks, text)]
