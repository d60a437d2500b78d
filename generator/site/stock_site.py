"""What the engineers' site has of the whole stock: its pages, its tables for spreadsheets, and the finder's index.

Made from the stock's rows alone. It must not know what is on a page or in a table.
"""

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from generator.pages.stock_index import index_script
from generator.pages.stock_pages import INDEX, stock_pages
from generator.rules.rules import ALL
from generator.site.page import SiteAsset, SitePage
from generator.site.stock_files import stock_files
from generator.views.stock_tables import Rows


def pages_of_stock(rows: Rows, *, firm: str, day: date) -> Iterator[SitePage]:
    """Every page about the whole stock, the first page of the site among them.

    Args:
        rows: the stock, in the order in which properties are listed.
        firm: the firm's name.
        day: the day by which ages are told.
    """
    rules = frozenset(rule.name for rule in ALL)
    for page in stock_pages(rows, firm=firm, rules=rules, day=day):
        yield SitePage(
            url=page.url,
            title=page.title,
            kind="stock",
            body=page.html,
            description=page.description,
            head=page.head,
        )


def assets_of_stock(rows: Rows, *, day: date, kept: Path | None = None) -> Iterator[SiteAsset]:
    """The files of the whole stock; for ``kept`` see `stock_files`."""
    yield SiteAsset(path=INDEX, data=index_script(rows, day=day))
    yield from stock_files(rows, day=day, kept=kept)
