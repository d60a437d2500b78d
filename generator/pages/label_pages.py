"""Sheets of labels for the printer, each with the codes of its property's two pages. The one module that knows QR codes.

The codes are drawings in the page itself, so a sheet is one file. Knows nothing of how addresses are made.
"""

from collections.abc import Sequence

import segno
from markupsafe import Markup

from generator.pages.tenant_pages import filled
from generator.views.tenant_label import Label

A_PAGE = 8
"""Labels on a sheet of A4: two beside each other, four below."""
_QUIET = 4
"""Empty modules around a code: ISO/IEC 18004, quiet zone."""


def label_sheet_html(labels: Sequence[Label]) -> str:
    """The labels as a whole document to print: one alone on its sheet, or eight a page."""
    pages = [labels[start : start + A_PAGE] for start in range(0, len(labels), A_PAGE)]
    return filled("tenant/labels.html.j2", pages=pages, code=qr_code, wording=labels[0].wording)


def qr_code(address: str) -> Markup:
    """A QR code as a drawing to be put into a page. A seventh of it may be dirty or torn (level M)."""
    made = segno.make(address, error="m", micro=False)
    return Markup(  # noqa: S704  # a drawing by the library, made of numbers only
        made.svg_inline(border=_QUIET, omitsize=True, svgclass="code", lineclass=None, light="#fff")
    )
