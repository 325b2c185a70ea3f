"""The paper of the build sheet: escaped text, tables, style that prints.

Black on white, greys and hatches only; what a person wrote is escaped here.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from html import escape

__all__ = [
    "PAPERS", "SheetError", "blanks", "items", "page", "plain", "section", "table_of",
]  # fmt: skip

#: paper to (width, height) in mm
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
#: what is drawn is never wider than this, mm on paper
ROOM = 180.0
_NO_BREAK = "\N{NO-BREAK SPACE}"
_UNITS = "mm|cm|m²|m³|m|in|ft²|ft³|ft|yd³|kg|lb|kN|N|N·m|kPa|h|L|%|€|°C"
_NUMBER_UNIT = re.compile(rf"(\d) (?=(?:{_UNITS})(?![\w²³]))")


class SheetError(ValueError):
    """The sheet cannot be made as asked: the message says what would do."""


def plain(text) -> str:
    """Text made safe for a page; a number keeps its unit on the same line."""
    return _NUMBER_UNIT.sub(rf"\1{_NO_BREAK}", escape(str(text)))


def table_of(
    headings: Sequence[str],
    rows: Iterable[Sequence[str]],
    *,
    numbers: Sequence[int] = (),
    kind: str = "",
    safe: bool = False,
) -> str:
    """A table with header cells; ``numbers`` are the columns set to the right.

    ``safe`` cells are HTML already; else they are escaped here.
    """
    clean = (lambda cell: cell) if safe else plain

    def cells(row):
        for n, cell in enumerate(row):
            right = ' class="n"' if n in numbers else ""
            tag = 'th scope="row"' if n == 0 else "td"
            yield f"<{tag}{right}>{clean(cell)}</{tag.split()[0]}>"

    head = "".join(
        f'<th scope="col"{" class=n" if n in numbers else ""}>{plain(h)}</th>'
        for n, h in enumerate(headings)
    )
    body = "".join(f"<tr>{''.join(cells(row))}</tr>" for row in rows)
    return (
        f'<table class="{kind}"><thead><tr>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table>"
    )


def items(lines: Iterable[str], tag: str = "ul", kind: str = "") -> str:
    """A list of escaped lines."""
    inner = "".join(f"<li>{plain(line)}</li>" for line in lines)
    return f'<{tag} class="{kind}">{inner}</{tag}>'


def section(title: str, *inner: str, kind: str = "", note: str = "") -> str:
    """A part of the sheet under a heading; ``note`` is the line below it."""
    said = f'<p class="under">{plain(note)}</p>' if note else ""
    return (
        f'<section class="{kind}"><h2>{plain(title)}</h2>{said}'
        f"{''.join(inner)}</section>"
    )


def blanks(number: int) -> str:
    """Lines to write on."""
    return '<div class="line"></div>' * number


def page(title: str, body: str, paper: str, *, landscape: bool = False) -> str:
    """A whole document for one paper; ``body`` is HTML already."""
    name = "wide" if landscape else "tall"
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<title>{plain(title)}</title><meta name="viewport" '
        f'content="width=device-width"><style>{_style(paper, landscape)}</style></head>'
        f'\n<body class="{name}">{body}</body></html>\n'
    )


def _style(paper: str, landscape: bool) -> str:
    """The style sheet for one paper."""
    if paper not in PAPERS:
        raise SheetError(
            f"paper: needs one of {', '.join(PAPERS)}; given {paper!r}; "
            "for example 'A4'"
        )
    wide, high = PAPERS[paper]
    size = f"{paper} landscape" if landscape else f"{wide}mm {high}mm"
    margin = "8mm" if landscape else f"16mm {(wide - ROOM) / 2}mm 17mm"
    return _CSS.replace("{size}", size).replace("{margin}", margin)


_CSS = """
@page { size: {size}; margin: {margin};
  @top-left { content: string(place); font: 9pt 'Liberation Sans', Arial; }
  @top-right { content: string(date); font: 9pt 'Liberation Sans', Arial; }
  @bottom-left { content: string(foot); font: 9pt 'Liberation Sans', Arial; }
  @bottom-right { content: "page " counter(page) " of " counter(pages);
    font: 9pt 'Liberation Sans', Arial; } }
* { box-sizing: border-box; }
html { color: #000; background: #fff; }
body { font: 11pt/1.32 'Liberation Sans', Arial, system-ui, sans-serif; margin: 0 auto;
  max-width: 180mm; font-variant-numeric: tabular-nums; }
.place { string-set: place content(); } .date { string-set: date content(); }
.foot { string-set: foot content(); font-size: 9pt; margin: 0 0 2mm; }
h1 { font-size: 22pt; line-height: 1.15; margin: 0 0 1mm; }
h2 { font-size: 14pt; margin: 6mm 0 1.5mm; border-bottom: 0.5mm solid #000;
  padding-bottom: 0.6mm; break-after: avoid; }
h3 { font-size: 11.5pt; margin: 4mm 0 1mm; break-after: avoid; }
p { margin: 0 0 1.5mm; } .under { margin-bottom: 2mm; break-after: avoid; }
section.keep, div.keep, table.keep { break-inside: avoid; }
section.new { break-before: page; } section.new h2 { margin-top: 0; }
figure { margin: 0 0 3mm; break-inside: avoid; } figcaption { font-size: 10pt; }
svg { display: block; overflow: visible; }
svg text { font-family: 'Liberation Sans', Arial, sans-serif; }
.row { display: flex; gap: 6mm; align-items: flex-start; }
table { border-collapse: collapse; width: 100%; margin: 0 0 2.5mm; }
thead { display: table-header-group; } tr { break-inside: avoid; }
th, td { border-bottom: 0.2mm solid #777; padding: 0.7mm 2mm 0.7mm 0; text-align: left;
  vertical-align: top; }
thead th { border-bottom: 0.4mm solid #000; font-weight: 700; vertical-align: bottom; }
tbody th { font-weight: 600; } .n { text-align: right; white-space: nowrap; }
table.pieces tbody th, table.order tbody th { white-space: nowrap; }
table.whole td { white-space: nowrap; }
table.whole td:nth-child(2) { white-space: normal; }
table.shop { table-layout: fixed; } table.shop :is(th, td):nth-child(1) { width: 7mm; }
table.shop :is(th, td):nth-child(3) { width: 38mm; }
table.shop :is(th, td):nth-child(4) { width: 26mm; }
table.shop :is(th, td) { padding-top: 0.4mm; padding-bottom: 0.4mm; }
.small { font-size: 9.5pt; } .box { border: 0.6mm solid #000; padding: 2mm 3mm;
  margin: 2mm 0 3mm; break-inside: avoid; }
.box h3 { margin-top: 0; } .box ul { margin: 0; }
ul, ol { margin: 0 0 2mm; padding-left: 5.5mm; } li { margin-bottom: 0.8mm; }
ul.bare { list-style: none; padding-left: 0; }
ul.tick { list-style: none; padding-left: 0; }
ul.tick li { padding-left: 7mm; text-indent: -7mm; margin-bottom: 1.4mm; }
ul.tick li::before { content: "\\2610"; display: inline-block; width: 7mm;
  text-indent: 0; font-family: 'DejaVu Sans', sans-serif; }
.tickbox { font-family: 'DejaVu Sans', sans-serif; }
.line { border-bottom: 0.2mm solid #000; height: 8.5mm; }
.sign { margin-top: 6mm; line-height: 2.2; }
.board { break-inside: avoid; margin: 0 0 3.5mm; }
.board p { margin: 0 0 0.6mm; } .names { font-size: 10pt; }
.labels { font-size: 0; }
.label { display: inline-block; vertical-align: top; width: 44.9mm;
  height: 17mm; border: 0.2mm dashed #000; padding: 1.6mm 2mm;
  break-inside: avoid; overflow: hidden; }
.label b { display: block; font-size: 12pt; line-height: 1.15; }
.label span { font-size: 9.5pt; }
/* the setting-out sheet: one page across, smaller */
.wide { font-size: 9pt; line-height: 1.22; max-width: 281mm; }
.wide h1 { font-size: 14pt; margin: 0; } .wide header p { margin: 0 0 1mm; }
.wide .row { gap: 4mm; } .wide figure { margin: 0; flex: none; }
.wide figcaption { font-size: 8pt; max-width: 182mm; }
.wide .box { padding: 0.8mm 2mm; margin: 1mm 0; font-size: 8.5pt; }
.wide .sign { margin: 2mm 0 0; line-height: 1.3; }
table.grid { margin: 1.2mm 0; font-size: 8.5pt; }
table.grid :is(th, td) { border: 0.2mm solid #000; padding: 0.3mm 1.2mm;
  text-align: right; vertical-align: middle; }
table.grid tbody :is(th, td) { white-space: nowrap; }
table.grid :is(th, td):first-child { text-align: left; }
@media screen { body { padding: 8mm; } section { margin-top: 8mm; } }
"""
