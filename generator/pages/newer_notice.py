"""The notice above the last good pages of a record that no longer can be read.

Knows its template only.
"""

from collections.abc import Mapping, Sequence

from generator.pages.environment import environment
from generator.rules.rule import Rule
from generator.views.stock_model import StockFinding


def newer_notice(findings: Sequence[StockFinding], *, rules: Mapping[str, Rule], root: str) -> str:
    """Render the notice.

    Args:
        findings: What is wrong with the file now.
        rules: The rules that findings may link to, by name.
        root: The way from the page to the site's root, ending in a slash.
    """
    template = environment().get_template("pages/newer.html.j2")
    return template.render(findings=findings, rules=rules, root=root)
