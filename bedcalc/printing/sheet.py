"""Put the sheet together."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from ..evaluate import evaluate
from ..garden.garden import Garden
from ..questions.cut_garden import CutList, cut_garden, sections
from ..questions.site_plan import SitePlan, plan_site
from ..tables import table
from .bed_pages import bed_pages
from .garden_pages import (
    caution_pages,
    cover,
    cutting_pages,
    labels_page,
    shopping_page,
)
from .joints import own_splices
from .page import SheetError, check_paper, render
from .pdf import write_pdf
from .plot import plot_section
from .why_page import why_page

__all__ = ["PAPERS_OF", "build_sheet", "write_sheet"]

#: what can be printed of some beds, and what its file is called
PAPERS_OF = {
    "sheet": "build_sheet",
    "summary": "shed_wall",
    "labels": "labels",
    "why": "why",
}


def build_sheet(
    garden: Garden,
    beds: Sequence[str] = (),
    *,
    what: str = "sheet",
    paper: str = "A4",
    system: str = "metric",
    date: str = "",
    title: str = "",
    notes: str = "",
    seconds: float = 3.0,
    cut: CutList | None = None,
) -> str:
    """The build sheet of a garden, or of some of its beds, as an HTML page.

    Parameters
    ----------
    garden : Garden
    beds : sequence of str
        Names of the beds; all of them if empty.
    what : str
        One of :data:`PAPERS_OF`: the sheet itself, one page a bed for the shed wall,
        the labels, or why each number is as it is.
    paper : str
        ``"A4"`` or ``"Letter"``.
    system : str
        ``"metric"`` or ``"us"``.
    date : str
        As it shall stand on the sheet; a blank line if empty.
    title, notes : str
        Your own words; they are escaped.
    seconds : float
        Time budget of the cut plan for each section.
    cut : CutList, optional
        A cut plan made already for the same beds.
    """
    check_paper(paper)
    if what not in PAPERS_OF:
        names = ", ".join(PAPERS_OF)
        raise SheetError(f"what: needs one of {names}; given {what!r}")
    system, outcomes = _asked(garden, beds, system)
    chosen = [o.bed for o in outcomes]
    cut = cut or cut_garden(chosen, garden.place, seconds=seconds)
    if what == "labels":
        labels = labels_page(cut, system)
        return render("labels", f"Labels, {garden.place.name}", paper, labels=labels)
    if what == "why":
        return why_page(outcomes, system, paper=paper)
    plan = _site(garden)
    names = sections(chosen, garden.place)
    pages = [
        bed_pages(
            o, cut.of(o.bed), plan, names, system, own_splices(cut.splices, o.bed.name)
        )
        for o in outcomes
    ]
    return render(
        "summary" if what == "summary" else "build_sheet",
        title or f"Build sheet, {garden.place.name}",
        paper,
        single=len(outcomes) == 1,
        cover=cover(garden, outcomes, date, title, system),
        shopping=shopping_page(garden, outcomes, cut, system),
        plot=plot_section(plan, [bed.name for bed in chosen], system),
        cutting=cutting_pages(cut, system),
        beds=pages,
        cautions=caution_pages(outcomes),
        standing=table("phrases")["standing"].text,
        notes=notes,
    )


def _asked(garden: Garden, beds: Sequence[str], system: str):
    """Units with the currency, and the outcomes of the beds that somebody asks for."""
    if system not in ("metric", "us"):
        raise SheetError(f"system: needs 'metric' or 'us'; given {system!r}")
    known = [bed.name for bed in garden]
    unknown = [name for name in beds if name not in known]
    if unknown or not known:
        raise SheetError(
            f"beds: needs names among {', '.join(known) or 'none'}; given "
            f"{', '.join(unknown) or 'a garden without beds'}; for example {known[:1]}"
        )
    chosen = [garden[name] for name in beds] or list(garden)
    units = garden.place.units(system)
    return units, [evaluate(bed, garden.place) for bed in chosen]


def _site(garden: Garden) -> SitePlan | None:
    """Levels of the whole plot, where the readings give them."""
    try:
        return plan_site(garden.beds, garden.place)
    except (ValueError, TypeError, KeyError):
        return None


def write_sheet(
    garden: Garden,
    path: str | Path,
    beds: Sequence[str] = (),
    **options: Any,
) -> Path:
    """Write the sheet to a file: HTML, or PDF if the name ends in ``.pdf``.

    Parameters
    ----------
    garden : Garden
    path : str or Path
    beds : sequence of str
    **options
        As for :func:`build_sheet`.
    """
    path = Path(path)
    if path.suffix not in (".html", ".pdf"):
        raise SheetError(
            f"file: needs a name that ends in .html or .pdf; given {path.name!r}; "
            "for example 'bed_B.pdf'"
        )
    html = build_sheet(garden, beds, **options)
    if path.suffix == ".pdf":
        return write_pdf(html, path)
    path.write_text(html, encoding="utf-8")
    return path
