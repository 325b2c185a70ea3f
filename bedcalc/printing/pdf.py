"""The sheet as PDF, by a library that is loaded only when somebody asks."""

from __future__ import annotations

from pathlib import Path

from .page import SheetError

__all__ = ["write_pdf"]


def write_pdf(html: str, path: str | Path) -> Path:
    """Turn the sheet into a PDF file.

    Parameters
    ----------
    html : str
        From :func:`bedcalc.printing.build_sheet`.
    path : str or Path
        Where to.
    """
    try:
        from weasyprint import HTML
    except ImportError:
        raise SheetError(
            "PDF: needs the package weasyprint, which is not installed; install it, or "
            "open the HTML file in a browser and print it"
        ) from None
    except OSError:
        raise SheetError(
            "PDF: needs the library Pango, which this machine does not have (Debian "
            "and Ubuntu: apt install libpango-1.0-0 libpangoft2-1.0-0; macOS: brew "
            "install pango); or open the HTML file in a browser and print it"
        ) from None
    HTML(string=html).write_pdf(str(path), pdf_tags=True)
    return Path(path)
