"""Words every lesson shares: phrases of the kit, the glossary, cautions and sources.

All texts stand in data/. What goes into a page is escaped here; a text may carry
``**strong**``, ``*soft*``, paragraphs (a blank line) and lists (lines with ``- ``).
"""

from __future__ import annotations

import re
from html import escape

from ..tables import table

__all__ = ["inline", "markup", "phrase", "plain"]

_NO_BREAK = "\N{NO-BREAK SPACE}"
_UNITS = (
    "mm|cm|m²|m³|m|km|in|ft²|ft³|ft|yd³|kg|lb|lbs|t|kN|N|kPa|psf|MPa|h|min|L|%|¤|°C"
)
_NUMBER_UNIT = re.compile(rf"(\d) (?=(?:{_UNITS})(?![\w²³]))")


def phrase(key: str, **given) -> str:
    """A phrase of the kit from data/phrases.csv, as plain text with its gaps filled."""
    return table("phrases")[key].text.format(**given)


def plain(text) -> str:
    """Any text made safe for a page; a number and its unit stay on one line."""
    return _NUMBER_UNIT.sub(rf"\1{_NO_BREAK}", escape(str(text)))


def inline(text) -> str:
    """Safe text with ``**strong**`` and ``*soft*`` inside a line."""
    safe = plain(text)
    safe = re.sub(r"\*\*(.+?)\*\*", r"<strong>\1</strong>", safe)
    return re.sub(r"(?<![\w*])\*([^*\s][^*]*)\*(?!\w)", r"<em>\1</em>", safe)


def markup(text) -> str:
    """Safe paragraphs and lists."""
    found = []
    for block in re.split(r"\n\s*\n", str(text).strip()):
        lines = block.strip().splitlines()
        if all(line.lstrip().startswith("- ") for line in lines):
            items = "".join(f"<li>{inline(line.lstrip()[2:])}</li>" for line in lines)
            found.append(f"<ul>{items}</ul>")
        else:
            found.append(f"<p>{inline(' '.join(lines))}</p>")
    return "".join(found)
