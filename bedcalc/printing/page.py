"""The print shop: templates, one style sheet, escaped text.

Every paper is a template in ``templates/`` that gets plain data. Text is escaped
there, and a number keeps its unit on the same line.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import Any, NamedTuple

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

__all__ = ["PAPERS", "SheetError", "PaperTable", "plain", "render"]

#: paper to (width, height) in mm
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
#: what is drawn is never wider than this, mm on paper
ROOM = 182.0
_NO_BREAK = "\N{NO-BREAK SPACE}"
_UNITS = "mm|cm|m²|m³|m|in|ft²|ft³|ft|yd³|kg|lb|kN|N|N·m|kPa|h|L|%|€|°C"
_NUMBER_UNIT = re.compile(rf"(\d) (?=(?:{_UNITS})(?![\w²³]))")


class SheetError(ValueError):
    """The sheet cannot be made as asked: the message says what would do."""


class PaperTable(NamedTuple):
    """A table for a template; ``numbers`` are the columns set to the right."""

    heads: Sequence[str]
    rows: Sequence[Sequence[str]]
    numbers: Sequence[int] = ()
    kind: str = ""


def _together(value: Any) -> Any:
    """Text with its numbers tied to their units; markup as it is."""
    if isinstance(value, Markup):
        return value
    return _NUMBER_UNIT.sub(rf"\1{_NO_BREAK}", str(value))


def plain(text: Any) -> Markup:
    """Text made safe for a page; a number keeps its unit on the same line."""
    return Markup.escape(_together(text))


@lru_cache(maxsize=1)
def _templates() -> Environment:
    return Environment(
        loader=PackageLoader("bedcalc.printing"),
        autoescape=True,
        finalize=_together,
        undefined=StrictUndefined,  # a field that nobody filled in is an error
        trim_blocks=True,
        lstrip_blocks=True,
    )


def check_paper(paper: str) -> None:
    """Refuse a paper that we do not know."""
    if paper not in PAPERS:
        raise SheetError(
            f"paper: needs one of {', '.join(PAPERS)}; given {paper!r}; "
            "for example 'A4'"
        )


def render(
    template: str, title: str, paper: str = "A4", *, landscape: bool = False, **data
) -> str:
    """A whole document for one paper.

    Parameters
    ----------
    template : str
        Name of a file in ``templates/``, without its ending.
    title : str
    paper : str
        ``"A4"`` or ``"Letter"``.
    landscape : bool
        One page across, set smaller.
    **data
        What the template asks for.
    """
    check_paper(paper)
    wide, high = PAPERS[paper]
    margin = "8mm" if landscape else f"14mm {(wide - ROOM) / 2:.1f}mm 15mm"
    size = f"{paper} landscape" if landscape else f"{wide}mm {high}mm"
    return (
        _templates()
        .get_template(f"{template}.html.j2")
        .render(title=title, size=size, margin=margin, landscape=landscape, **data)
    )


def once(lines: Iterable[str]) -> list[str]:
    """Lines that say something, each once, in their order."""
    return [line for line in dict.fromkeys(lines) if line]
