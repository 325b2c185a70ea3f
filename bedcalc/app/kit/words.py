"""Words every lesson shares: phrases of the kit, the glossary, cautions and sources.

All texts stand in data/. What goes into a page is escaped here; a text may carry
``**strong**``, ``*soft*``, paragraphs (a blank line) and lists (lines with ``- ``).
"""

from __future__ import annotations

import re
from functools import cache
from html import escape

from ...evaluate import Outcome
from ...garden.garden import demo_garden
from ...model.bed import Bed
from ...model.place import Place
from ...parsing.typed import phrase
from ...questions.basis import Basis, edition, source_line
from ...tables import Row, table
from ...units import Q_, show

__all__ = [
    "asked_of", "called", "cautions_at", "cautions_html", "glossary_html", "inline",
    "literal", "markup", "measured", "phrase", "plain", "source_line", "sources_html",
    "unpriced", "why_html",
]  # fmt: skip  # a list of names

_NO_BREAK = "\N{NO-BREAK SPACE}"
_UNITS = (
    "mm cm m² m³ m km in ft² ft³ ft yd³ kg lb lbs t kN N kPa psf MPa h min L % € °C"
)
_NUMBER_UNIT = re.compile(rf"(\d) (?=(?:{'|'.join(_UNITS.split())})(?![\w²³]))")
#: kinds of source that are no publication, in the order they are listed
HONEST = ("computed", "from memory", "common practice", "assumption", "invented")


def called(bed: Bed) -> str:
    """What a sentence calls a bed: ``bed B``, ``Bed 2``, ``bed Tomatoes``."""
    return bed.name if bed.name.lower().startswith("bed") else f"bed {bed.name}"


@cache
def _demo_name() -> str:
    return demo_garden().name


def asked_of(bed: Bed, place: Place) -> str:
    """What a question calls a bed; one of the demo garden is said to be of it."""
    demo = " of the demo garden" if place.name == _demo_name() else ""
    return called(bed) + demo


def unpriced(outcome: Outcome) -> str:
    """Why the sums of a bed cannot be said, and what to do; empty if they can."""
    if outcome.place.prices is None:
        return phrase("no_prices")
    missing = outcome.cost.missing
    return phrase("not_priced", missing=missing[0]) if missing else ""


def plain(text: str) -> str:
    """Any text made safe for a page; a number and its unit stay on one line."""
    return _NUMBER_UNIT.sub(rf"\1{_NO_BREAK}", escape(str(text)))


_STAR = "\ue000"  # a star that is only a star, while the others are read as markup


def literal(name: str) -> str:
    """A name that a reader gave, to be put into a text for :func:`inline`."""
    return name.replace("*", _STAR)


def inline(text: str) -> str:
    """Safe text with ``**strong**`` and ``*soft*`` inside a line."""
    safe = plain(text)
    safe = re.sub(r"\*\*(.+?)\*\*", r"<strong>\1</strong>", safe)
    safe = re.sub(r"(?<![\w*])\*([^*\s][^*]*)\*(?!\w)", r"<em>\1</em>", safe)
    return safe.replace(_STAR, "*")


def markup(text: str) -> str:
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


_MEASURE = re.compile(r"\[(\d[\d.]*) (mm|cm|m|m³)\]")
_SHOWN = {"mm": "stock", "cm": "depth", "m": "size", "m³": "volume"}


def measured(text: str, system: str) -> str:
    """A text whose measures in brackets, ``[72 cm]``, are put in the reader's units."""

    def put(found: re.Match) -> str:
        number, unit = found.groups()
        if system == "metric":
            return f"{number}{_NO_BREAK}{unit}"
        kind, unit = _SHOWN[unit], unit.replace("³", "^3")
        return show(Q_(float(number), unit), kind, system)

    return _MEASURE.sub(put, text)


def glossary_html(*words: str) -> str:
    """Trade words and what they mean, as a list of terms in the order of the alphabet.

    Parameters
    ----------
    *words : str
        Keys of data/glossary.csv; all of them if none is given.
    """
    rows = [table("glossary")[word] for word in words] or list(table("glossary"))
    rows.sort(key=lambda row: row.word.lower())
    return "".join(
        f"<dt>{plain(row.word)}</dt><dd>{inline(row.meaning)}</dd>" for row in rows
    ).join(("<dl>", "</dl>"))


def cautions_html(*keys: str) -> str:
    """Hazards: what it is, what to do, who decides, and the source, as a list."""
    return "".join(_caution(table("cautions")[key]) for key in keys).join(
        ("<ul>", "</ul>")
    )


def cautions_at(place: str, family: str = "") -> str:
    """What to take care of at one place of a screen, in short sentences.

    Parameters
    ----------
    place : str
        A view or a block, as in data/caution_places.csv.
    family : str
        The kind of wall; some cautions are only for some kinds. None given: all.
    """
    rows = [
        table("cautions")[row.hazard].short
        for row in table("caution_places")
        if row.kind in ("view", "block")
        and row.place == place
        and (not family or row.families == "all" or family in row.families.split())
    ]
    told = f"<strong>{plain(phrase('take_care'))}</strong> {plain(' '.join(rows))}"
    return f'<p class="bc-care">{told}</p>' if rows else ""


def _caution(row: Row) -> str:
    who = phrase("caution_who", who=row.who)
    source = phrase("caution_source", source=source_line(row.source, row.where))
    return (
        f"<li><strong>{plain(row.hazard)}.</strong> {inline(row.control)}"
        f'<span class="bc-who">{plain(who)}</span>'
        f'<span class="bc-source">{plain(source)}</span></li>'
    )


def why_html(basis: Basis) -> str:
    """Formula in words, the numbers that go in, the sources with their labels."""
    rows = "".join(
        f'<tr><th scope="row">{plain(meaning)}</th><td>{plain(value)}</td></tr>'
        for meaning, value in basis.inputs
    )
    sources = "".join(
        f'<li><span class="bc-kind">{plain(one.label)}</span> {plain(one.line)}</li>'
        for one in basis.sources
    )
    table_ = f'<table class="bc-numbers">{rows}</table>' if rows else ""
    return (
        f"<h4>{plain(basis.title)}</h4><p>{plain(basis.words)}</p>{table_}"
        f"<ul>{sources}</ul>"
    )


def sources_html(*keys: str) -> str:
    """The sources named, published ones first, each of the others under its kind."""
    rows = [table("sources")[key] for key in keys]
    published = [row for row in rows if row.kind not in HONEST]
    published.sort(key=lambda row: (row.author, row.year))
    found = "".join(f"<li>{_published(row)}</li>" for row in published)
    for kind in HONEST:
        for row in rows:
            if row.kind == kind:
                own = "" if row.key == kind.replace(" ", "_") else f"{row.title}. "
                found += f"<li>{inline(own + phrase(f'kind_{kind}'))}</li>"
    return f"<ul>{found}</ul>"


def _published(row: Row) -> str:
    which = "" if row.edition == row.year else f", {edition(row)}"
    made = ", ".join(filter(None, (row.publisher, row.year)))
    note = f"{row.note[:1].upper()}{row.note[1:]}." if row.note else ""
    return (
        f"{plain(row.author)}: <em>{plain(row.title)}</em>{plain(which)}. "
        f"{plain(made)}{'.' if made else ''} "
        f'<span class="bc-kind">{plain(row.kind)}</span> {plain(note)}'
    ).strip()
