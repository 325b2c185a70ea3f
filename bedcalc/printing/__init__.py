"""The build sheet: what two people need who never saw the workbook.

One call makes a page document that prints right on A4 or Letter: drawings to scale,
pieces, cut strips, labels, screws and holes, ties, order of work, square and level,
fill, shopping, checks, cautions, lines for notes. Its words and drawings are filled
into the templates of ``templates/``.
"""

from .facts import order_besides
from .joints import joint_picture
from .page import PAPERS, SheetError
from .pdf import write_pdf
from .sheet import PAPERS_OF, build_sheet, write_sheet

__all__ = [
    "PAPERS",
    "PAPERS_OF",
    "SheetError",
    "build_sheet",
    "joint_picture",
    "order_besides",
    "write_pdf",
    "write_sheet",
]
