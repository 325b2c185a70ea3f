"""``python -m bedcalc.printing my_garden.toml --out sheet.pdf``."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from ..garden.garden import GardenError, demo_garden, load
from .page import PAPERS, SheetError
from .sheet import PAPERS_OF, write_sheet

__all__ = ["main"]


def main(arguments: list[str] | None = None) -> None:
    """Read the command line and write the sheet."""
    parser = argparse.ArgumentParser(
        prog="python -m bedcalc.printing",
        description="Make the build sheet of a garden: HTML that prints, or PDF.",
    )
    add = parser.add_argument
    add("garden", nargs="?", help="garden file (default: the demo garden)")
    add("--bed", action="append", default=[], help="only this bed; may be repeated")
    add("--paper", choices=sorted(PAPERS), default="A4")
    add("--units", choices=("metric", "us"), default="metric", dest="system")
    add("--date", default="", help="date to stand on the sheet")
    add("--title", default="")
    add("--out", type=Path, default=Path("build_sheet.html"), help=".html or .pdf")
    add("--what", choices=list(PAPERS_OF), default="sheet", help="which paper")
    add("--pdf", action="store_true", help="write a PDF beside the HTML as well")
    o = parser.parse_args(arguments)
    try:
        garden = load(o.garden) if o.garden else demo_garden()
        wanted = [o.out, o.out.with_suffix(".pdf")] if o.pdf else [o.out]
        for path in dict.fromkeys(wanted):
            made = write_sheet(
                garden,
                path,
                o.bed,
                paper=o.paper,
                system=o.system,
                date=o.date,
                title=o.title,
                what=o.what,
            )
            print(made)
    except (GardenError, SheetError, OSError) as error:
        sys.exit(f"bedcalc: {error}")


if __name__ == "__main__":
    main()
