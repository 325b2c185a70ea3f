"""Signposts: which workbook comes next, and where a question is answered.

They are Markdown, not widgets, so that JupyterLab opens a link in the same window.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from ..tables import Row, table
from .kit.words import phrase

__all__ = ["Signpost", "where_next"]

_FOLDER = "workbooks/"


@dataclass(frozen=True)
class Signpost:
    """A piece of Markdown that a cell shows."""

    text: str

    def _repr_markdown_(self) -> str:
        return self.text


def where_next(here: str, questions: bool = False) -> Signpost:
    """All workbooks as links, and on demand every question with its place.

    Parameters
    ----------
    here : str
        Number of this workbook, such as ``"00"``.
    questions : bool
        Whether to list the questions of data/questions.csv that have an answer.
    """
    if here not in table("workbooks"):
        known = ", ".join(table("workbooks").rows)
        raise ValueError(f"here: needs one of {known}; given {here!r}")
    lines = [f"## {phrase('next')}", "", phrase("next_how"), ""]
    for row in table("workbooks"):
        words = f"**{row.key}** {_link(row.question, row.file)}"
        if row.key == here:
            words = f"**{row.key}** {row.question} *({phrase('next_here')})*"
        lines.append(f"- {words}, {phrase('card_minutes', minutes=row.minutes)}")
    if questions:
        lines += _questions(here)
    return Signpost("\n".join(lines))


def _questions(here: str) -> list[str]:
    """The answered questions, a fold for each group."""
    groups: dict[str, list[str]] = {}
    for row in table("questions"):
        if row.answered_by:
            found = " · ".join(_places(row, here))
            groups.setdefault(row.group, []).append(f"- {row.question} {found}")
    count = sum(map(len, groups.values()))
    lines = [
        "",
        f"### {phrase('next_ask')}",
        "",
        phrase("next_ask_how", answered=count),
    ]
    for group, found in groups.items():
        head = f"<details><summary>{group} ({len(found)})</summary>"
        lines += ["", head, "", *found, "", "</details>"]
    return lines


def _places(row: Row, here: str) -> list[str]:
    """Links to the workbooks that answer a question."""
    found = []
    for place in row.answered_by.split(";"):
        path, _, heading = place.strip().removeprefix(_FOLDER).partition("#")
        number = path[:2]
        anchor = "#" + re.sub(r"\s", "-", heading) if heading else ""
        if number != here or anchor:
            found.append(_link(f"{number} {heading}".strip(), path + anchor))
        else:
            found.append(f"{number} ({phrase('next_here')})")
    return found


def _link(text: str, target: str) -> str:
    return f"[{text}]({target})"
