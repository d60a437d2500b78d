"""A site of a stock made at random: the real pages of the stock, and for each property one page that says next to nothing."""

from collections.abc import Iterator
from html import escape
from itertools import chain
from pathlib import Path

from generator.site.config import FirmConfig
from generator.site.page import SiteAsset, SiteContent, SitePage
from generator.site.stock_site import assets_of_stock, pages_of_stock
from generator.views.stock_model import StockRow
from generator.views.stock_tables import Stock
from tests.stock_rows import DAY, made_rows

COUNT = 450
"""Enough for lists of several pages, and more than are listed on the first page."""


def made_content(properties: Path, config: FirmConfig) -> SiteContent:
    """The content of such a site; whatever is in the folder of records."""
    del properties
    rows = made_rows(COUNT)
    stock = Stock(rows, DAY)
    return SiteContent(
        pages=chain(pages_of_stock(stock, firm=config.firm.name), _properties(rows)),
        assets=(
            *assets_of_stock(stock),
            SiteAsset(path="assets/drawings.css", data=b"svg.hb-drawing{max-width:100%}"),
        ),
    )


def _properties(rows: list[StockRow]) -> Iterator[SitePage]:
    for row in rows:
        yield SitePage(
            url=f"p/{row.folder}/",
            title=row.reference,
            kind="property-glance",
            body=f"<h1>{escape(row.address)}</h1>",
            description="A property.",
        )
