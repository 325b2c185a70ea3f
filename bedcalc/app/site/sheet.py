"""The setting-out sheet: written beside the workbook, and shown as it will print."""

from __future__ import annotations

import ipywidgets

from ...printing.setting_out import setting_out_sheet
from ..kit.controls import choice_row
from ..kit.inputs import Message
from ..kit.style import button, button_row, html, paper
from ..kit.words import plain
from .desk import SiteDesk

__all__ = ["sheet_block"]

SHEET = "setting_out_sheet.html"


def sheet_block(desk: SiteDesk) -> ipywidgets.VBox:
    """The setting-out sheet: write it, and a link that opens it for printing."""
    said, link = Message(), html("")
    papers = choice_row(
        "Paper", [("A4", "A4"), ("Letter", "Letter")], "A4", name="paper"
    )

    def write() -> None:
        page = setting_out_sheet(
            desk.plan, desk.place.name, paper=papers.value, system=desk.system
        )
        path = desk.file.parent / SHEET
        try:
            path.write_text(page, encoding="utf-8")
        except OSError as error:
            said.html, said.tone = f"<p>{plain(f'Not written: {error}')}</p>", "refused"
            return
        said.html, said.tone = f"<p>{SHEET} lies beside this workbook.</p>", "kept"
        link.value = (
            f"<p>Open <b>{SHEET}</b> in the list of files at the left and print it at "
            f"100 %. It looks like this:</p>{_preview(page)}"
        )

    return paper(
        papers.widget,
        button_row(button("Write the sheet", write, strong=True)),
        said,
        link,
        kind="bench",
    )


def _preview(page: str) -> str:
    """The sheet inside the workbook, in a frame of its own style."""
    from html import escape

    return (
        f'<iframe title="Setting-out sheet" srcdoc="{escape(page, quote=True)}" '
        'style="width:100%;height:730px;border:1px solid #8A948F;background:#fff">'
        "</iframe>"
    )
