"""Building blocks of a lesson, in the order in which a workbook uses them.

Each function returns a widget to be shown as the last line of a cell. Texts come in as
plain words (``**strong**``, ``*soft*``, blank lines between paragraphs) and are
escaped; the kit's own words stand in data/phrases.csv.

    title_card · aims · recall · predict · (the bench) · formula · going_deeper ·
    check_yourself · caution_box · five_lines · glossary · where_next · sources
"""

from __future__ import annotations

from collections.abc import Sequence

import ipywidgets

from ..tables import table
from .bar import garden_bar
from .kit.inputs import Message
from .kit.predict import Predict, predict
from .kit.question import CheckItem, check, check_yourself, recall
from .kit.style import html, paper
from .kit.words import (
    cautions_html,
    glossary_html,
    inline,
    markup,
    phrase,
    plain,
    source_line,
    sources_html,
)
from .signposts import where_next

__all__ = [
    "CheckItem", "Predict", "Message", "aims", "caution_box", "check", "check_yourself",
    "five_lines", "formula", "garden_bar", "glossary", "going_deeper", "outside_checks",
    "predict", "recall", "sources", "title_card", "where_next",
]  # fmt: skip  # a list of names


def _block(text: str, *classes: str) -> ipywidgets.VBox:
    return paper(html(text, *classes))


def _list(lines: Sequence[str], tag: str = "ul") -> str:
    return f"<{tag}>{''.join(f'<li>{inline(line)}</li>' for line in lines)}</{tag}>"


def _few(name: str, lines: Sequence[str], least: int, most: int) -> None:
    if not least <= len(lines) <= most:
        raise ValueError(
            f"{name}: needs {least} to {most} lines, given {len(lines)}; "
            "keep what matters most"
        )


def title_card(
    question: str, minutes: int, bring: str, leave_with: str
) -> ipywidgets.VBox:
    """The head of a workbook: its question, and what it takes and gives.

    Parameters
    ----------
    question : str
        The title, as a question a builder asks.
    minutes : int
        About how long it takes.
    bring : str
        What one needs at hand.
    leave_with : str
        The number or drawing one has afterwards.
    """
    pairs = (
        ("card_time", phrase("card_minutes", minutes=minutes)),
        ("card_bring", bring),
        ("card_leave", leave_with),
    )
    rows = "".join(
        f"<div><dt>{plain(phrase(key))}</dt><dd>{inline(text)}</dd></div>"
        for key, text in pairs
    )
    return _block(f"<h1>{inline(question)}</h1><dl>{rows}</dl>", "bc-card")


def aims(*lines: str) -> ipywidgets.VBox:
    """What one can do afterwards: up to three lines, each with a verb one can see."""
    _few("aims", lines, 1, 3)
    return _block(f"<h2>{plain(phrase('aims'))}</h2>{_list(lines)}", "bc-aims")


def five_lines(*lines: str) -> ipywidgets.VBox:
    """What to remember: up to five lines, to be copied or printed."""
    _few("five lines", lines, 3, 5)
    text = f"<h2>{plain(phrase('five'))}</h2>{_list(lines, 'ol')}"
    return _block(text, "bc-five")


def going_deeper(title: str, text: str) -> ipywidgets.VBox:
    """More for those who want it, folded away."""
    head = plain(phrase("deeper", title=title))
    return _block(f"<details><summary>{head}</summary>{markup(text)}</details>")


def glossary(*words: str) -> ipywidgets.VBox:
    """Trade words in plain ones, folded; keys of data/glossary.csv, or all of them."""
    head = plain(phrase("glossary"))
    return _block(
        f"<details><summary>{head}</summary>{glossary_html(*words)}</details>",
        "bc-glossary",
    )


def caution_box(*keys: str) -> ipywidgets.VBox:
    """Hazards of the job, from data/cautions.csv, with the standing sentence."""
    text = (
        f'<section aria-label="{plain(phrase("caution"))}">'
        f"<h2>{plain(phrase('caution'))}</h2>{cautions_html(*keys)}"
        f'<p class="bc-standing">{plain(phrase("standing"))}</p></section>'
    )
    return _block(text, "bc-caution")


def sources(*keys: str) -> ipywidgets.VBox:
    """Sources of data/sources.csv; what has no published source says so."""
    text = f"<h2>{plain(phrase('sources'))}</h2>"
    text += f'<p class="bc-soft">{plain(phrase("sources_why"))}</p>'
    return _block(text + sources_html(*keys), "bc-sources")


def outside_checks() -> ipywidgets.VBox:
    """How the sums were checked against the outside: facts by chapter and kind."""
    rows = list(table("outside_checks"))
    kinds = ("printed", "library", "from_memory", "own_derivation")
    head = "".join(
        f'<th scope="col">{plain(phrase(f"outside_{kind}"))}</th>' for kind in kinds
    )

    def line(name: str, numbers) -> str:
        cells = "".join(f"<td>{number:.0f}</td>" for number in numbers)
        return f'<tr><th scope="row">{plain(name)}</th>{cells}</tr>'

    body = "".join(
        line(row.key, [getattr(row, kind) for kind in kinds]) for row in rows
    )
    body += line(
        phrase("outside_all"), [sum(getattr(r, kind) for r in rows) for kind in kinds]
    )
    text = (
        f"<h2>{plain(phrase('outside'))}</h2>{markup(phrase('outside_why'))}"
        f'<table class="bc-numbers"><thead><tr><td></td>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table>"
    )
    return _block(text, "bc-sources")


def formula(
    words: str,
    latex: str,
    symbols: Sequence[tuple[str, str, str]],
    source: str,
    where: str = "",
) -> ipywidgets.VBox:
    """A formula: in words first, then in signs, each sign with meaning and unit.

    Parameters
    ----------
    words : str
        The same in words.
    latex : str
        Without the dollar signs.
    symbols : sequence of (sign in LaTeX, meaning, unit)
        In the order of the formula.
    source : str
        Key of data/sources.csv.
    where : str
        Page, table or clause.
    """
    headings = ("formula_symbol", "formula_meaning", "formula_unit")
    head = "".join(f'<th scope="col">{plain(phrase(key))}</th>' for key in headings)
    rows = "".join(
        f'<tr><th scope="row">${plain(sign)}$</th><td>{inline(meaning)}</td>'
        f"<td>{plain(unit) or '–'}</td></tr>"
        for sign, meaning, unit in symbols
    )
    said = phrase("caution_source", source=source_line(source, where))
    text = (
        f"<h2>{plain(phrase('formula'))}</h2>{markup(words)}"
        f'<div class="bc-math">$${plain(latex)}$$</div>'
        f'<table class="bc-numbers"><thead><tr>{head}</tr></thead>'
        f'<tbody>{rows}</tbody></table><p class="bc-source">{plain(said)}</p>'
    )
    return paper(ipywidgets.HTMLMath(text).add_class("bc-formula"))
