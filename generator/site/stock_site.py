"""What the engineers' site has of the whole stock: its pages, its tables for spreadsheets, and the finder's index.

Made from the stock's rows alone. It must not know what is on a page or in a table.
"""

from collections.abc import Iterator

from generator.kept.store import digest_of
from generator.pages.stock_index import index_script
from generator.pages.stock_pages import INDEX, stock_pages
from generator.rules.rules import ALL
from generator.site.late_pages import for_site
from generator.site.page import Later, SiteAsset, SitePage
from generator.site.stock_files import stock_files
from generator.views.stock_counts import looked
from generator.views.stock_lines import settled
from generator.views.stock_tables import Stock


def pages_of_stock(stock: Stock, *, firm: str) -> Iterator[SitePage | Later[SitePage]]:
    """Every page about the whole stock, the first page of the site among them.

    Args:
        stock: the stock.
        firm: the firm's name.
    """
    rules = frozenset(rule.name for rule in ALL)
    yield from map(for_site, stock_pages(stock, firm=firm, rules=rules))


def assets_of_stock(stock: Stock) -> Iterator[SiteAsset | Later[SiteAsset]]:
    """The files of the whole stock."""
    rows, day = stock.rows, stock.day
    ago = [str(looked(row, day)) for row in rows]
    yield Later(
        path=INDEX,
        made_from=digest_of(settled(rows), ago),
        make=lambda: SiteAsset(path=INDEX, data=index_script(rows, day=day)),
    )
    yield from stock_files(stock)
