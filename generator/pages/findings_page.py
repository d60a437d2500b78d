"""The page of all findings of the stock, as a finished HTML body.

Knows its template and view; not where a site puts it.
"""

from generator.pages.environment import environment
from generator.views.stock_findings import StockFindings


def findings_page(stock: StockFindings, *, rules: frozenset[str]) -> str:
    """Render the page, which stands one folder deep.

    Args:
        stock: what it shows.
        rules: names of the rules that have a page to link to.
    """
    return environment().get_template("pages/findings.html.j2").render(stock=stock, root="../", rules=rules)
