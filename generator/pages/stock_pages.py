"""The pages about the whole stock as finished HTML bodies: the first page, findings, and what people ask for.

Made from the stock's rows alone. Long lists are cut into pages, and counts lead to the finder, so that no page grows
with the stock. Knows its templates and views; not where a site stands.
"""

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from functools import partial
from itertools import groupby, islice
from typing import Any, TypeVar
from urllib.parse import quote, urlencode

from markupsafe import Markup

from generator.findings.finding import Severity
from generator.pages.environment import environment, ticks
from generator.pages.late_page import LatePage
from generator.views.stock_counts import OVERDUE, StockCounts, stock_counts
from generator.views.stock_findings import stock_findings
from generator.views.stock_lines import WORST_FIRST, overview_line
from generator.views.stock_model import StockFinding, StockRow
from generator.views.stock_parts import AGES, part_counts
from generator.views.stock_table import Cell, Line
from generator.views.stock_tables import (
    ALL,
    ARRANGEMENTS,
    FINDINGS,
    FITTED,
    NOT_LOOKED_AT,
    ORANGE,
    PARTS,
    UNVENTED_CYLINDERS,
    Report,
    Rows,
    Stock,
)
from generator.views.wording import capital

Item = TypeVar("Item")

HOME = "./"
INDEX = "find/index.js"
"""Where the finder's index is below the site's root."""
PAGE_LINES = 200
"""How many lines of a list stand on one page."""
MOST_PAGES = 5
"""How many pages one list has at most, but for the list of all properties: what comes after is in the finder and the table."""
AT_HOME = 100
"""A stock of so many properties or fewer is listed on its first page."""
SORTS_SHOWN = 500
"""How many sorts of a thing one page counts; the table for a spreadsheet has all."""
_LISTED = (NOT_LOOKED_AT, ORANGE, UNVENTED_CYLINDERS)
_SHOWN: dict[str, tuple[str, ...]] = {
    ALL.name: (
        "reference",
        "address",
        "arrangement",
        *(str(severity) for severity in WORST_FIRST),
        "last_looked_at",
    )
}
"""Which columns of a report its page has, where those are not all but the postcode, which ends the address."""


def _page(
    url: str, title: str, description: str, make: Callable[[], str], made_from: str | None = None
) -> LatePage:
    root = "" if url == HOME else "../" * url.count("/")
    head = f'<link rel="stylesheet" href="{root}assets/hearthbook-stock.css">'
    if url == HOME:
        head += '<script src="assets/finder.js" defer></script>'
    return LatePage(
        url=url,
        kind="stock",
        title=title,
        description=description,
        make=make,
        made_from=made_from,
        head=head,
    )


def stock_pages(stock: Stock, *, firm: str, rules: frozenset[str]) -> Iterator[LatePage]:
    """Every page about the whole stock.

    Args:
        stock: the stock.
        firm: the firm's name.
        rules: names of the rules that have a page to link to.
    """
    rows = stock.rows
    counts = stock_counts(rows, day=stock.day)
    found = f"{len(rows)} {stock.made_from(FINDINGS)}"
    yield _home(stock, counts, firm)
    yield _findings(rows, rules, found)
    for severity in WORST_FIRST:
        yield from _findings_lists(rows, severity, counts.findings[severity], rules, found)
    yield _arrangements(counts, stock.made_from(ARRANGEMENTS))
    yield _parts(rows, stock.day, stock.made_from(PARTS))
    yield from _all(rows)
    for report in _LISTED:
        yield from _list(report, stock)


def find(root: str, **facets: str) -> str:
    """A link to the finder with these filters, from a page whose way to the site's root is ``root``."""
    return f"{root or './'}#find?{urlencode(facets, quote_via=quote)}"


def _render(template: str, url: str, **given: Any) -> str:
    root = "" if url == HOME else "../" * url.count("/")
    return (
        environment()
        .get_template(f"pages/{template}.html.j2")
        .render(root=root, find=partial(find, root), **given)
    )


def _home(stock: Stock, counts: StockCounts, firm: str) -> LatePage:
    lists = (
        (ALL, "stock/all/", counts.properties),
        (ARRANGEMENTS, "stock/arrangements/", len(counts.arrangements)),
        (PARTS, "stock/parts/", counts.parts),
        (NOT_LOOKED_AT, "stock/not-looked-at/", counts.overdue),
        (ORANGE, "stock/orange/", counts.orange),
        (UNVENTED_CYLINDERS, "stock/unvented/", counts.unvented),
    )
    small = counts.properties <= AT_HOME
    make = partial(
        _render,
        "stock",
        HOME,
        firm=firm,
        counts=counts,
        severities=[(each, counts.with_severity[each], counts.findings[each]) for each in WORST_FIRST],
        findings=FINDINGS,
        lists=lists,
        index=INDEX,
        columns=_columns(ALL),
        lines=list(_lines(ALL, stock.lines(ALL))) if small else [],
        ranges=[] if small else list(_ranges(stock.rows)),
    )
    return _page(
        url=HOME,
        title="Properties",
        description="Every property, with what is fitted there, what is unusual and what is wrong.",
        make=make,
    )


def _ranges(rows: Rows) -> Iterator[tuple[str, str, str]]:
    """The pages that list all properties: address, first and last reference."""
    first = last = ""
    place = 0
    for place, row in enumerate(rows):
        if place % PAGE_LINES == 0:
            if place:
                yield _page_url("stock/all/", place // PAGE_LINES), first, last
            first = row.reference
        last = row.reference
    yield _page_url("stock/all/", place // PAGE_LINES + 1), first, last


def _page_url(url: str, number: int) -> str:
    return url if number == 1 else f"{url}{number}/"


def _findings(rows: Rows, rules: frozenset[str], known_by: str) -> LatePage:
    url = "findings/"
    return _page(
        url=url,
        title="Findings",
        description="What is wrong in the stock: by severity, by rule and by property.",
        made_from=known_by,
        make=lambda: _render("findings", url, stock=stock_findings(rows), report=FINDINGS, rules=rules),
    )


def _findings_lists(
    rows: Rows, severity: Severity, count: int, rules: frozenset[str], known_by: str
) -> Iterator[LatePage]:
    """The findings of one severity, by property."""
    title = f"{str(severity).capitalize()}: findings of the stock"
    pages = min(_pages_for(count), MOST_PAGES)
    for number in range(1, pages + 1):
        yield _page(
            url=_page_url(f"{FINDINGS.name}/{severity}/", number),
            title=title if number == 1 else f"{title}, page {number}",
            description=f"Findings of severity {severity}, by property.",
            made_from=known_by,
            make=partial(_findings_page, rows, severity, count, rules, number, pages),
        )


def _findings_page(
    rows: Rows, severity: Severity, count: int, rules: frozenset[str], number: int, pages: int
) -> str:
    base = f"{FINDINGS.name}/{severity}/"
    found = islice(_of_severity(rows, severity), (number - 1) * PAGE_LINES, number * PAGE_LINES)
    return _render(
        "findings_list",
        _page_url(base, number),
        severity=severity,
        title=f"{str(severity).capitalize()}: findings of the stock",
        count=count,
        listed=min(count, pages * PAGE_LINES),
        report=FINDINGS,
        groups=[
            (row, [finding for _, finding in some]) for row, some in groupby(found, key=lambda each: each[0])
        ],
        rules=rules,
        sentence=_sentence,
        base=base,
        number=number,
        pages=pages,
    )


def _of_severity(rows: Rows, severity: Severity) -> Iterator[tuple[StockRow, StockFinding]]:
    for row in rows:
        for finding in row.findings:
            if finding.severity is severity:
                yield row, finding


def _pages_for(count: int) -> int:
    return max(1, -(-count // PAGE_LINES))


def _arrangements(counts: StockCounts, known_by: str) -> LatePage:
    url = "stock/arrangements/"
    return _page(
        url=url,
        title=ARRANGEMENTS.title,
        description=ARRANGEMENTS.about,
        made_from=known_by,
        make=partial(
            _render,
            "stock_arrangements",
            url,
            report=ARRANGEMENTS,
            counts=counts,
            shown=counts.arrangements[:SORTS_SHOWN],
        ),
    )


def _parts(rows: Rows, day: date, known_by: str) -> LatePage:
    return _page(
        url="stock/parts/",
        title=PARTS.title,
        description=PARTS.about,
        made_from=known_by,
        make=partial(_parts_page, rows, day),
    )


def _parts_page(rows: Rows, day: date) -> str:
    counted = part_counts(rows, day=day)
    shown = counted[:SORTS_SHOWN]
    return _render(
        "stock_parts",
        "stock/parts/",
        report=PARTS,
        fitted=FITTED,
        ages=AGES,
        count=sum(one.count for one in counted),
        sorts=len(counted),
        shown=len(shown),
        groups=[(group, list(some)) for group, some in groupby(shown, key=lambda one: one.group)],
    )


def _columns(report: Report) -> list[str]:
    return [report.columns[at].words for at in _places(report)]


def _places(report: Report) -> list[int]:
    keys = [column.key for column in report.columns]
    shown = _SHOWN.get(report.name)
    return (
        [keys.index(key) for key in shown]
        if shown
        else [at for at, key in enumerate(keys) if key != "postcode"]
    )


def _lines(report: Report, lines: Iterable[Line]) -> Iterator[tuple[str, list[str]]]:
    """Lines of a report whose first cell is a reference: the property's folder, and the cells shown, as text."""
    places = _places(report)
    for line in lines:
        yield quote(str(line[0]), safe=""), [_shown(line[at]) for at in places]


def _shown(cell: Cell) -> str:
    if not cell:
        return "–"
    if isinstance(cell, date):
        return Markup(f'<span class="hb-date">{cell.isoformat()}</span>')  # noqa: S704  # a day, nothing else
    return f"{cell:,}" if isinstance(cell, int) else str(cell)


def _sentence(message: str) -> Markup:
    return ticks(capital(message))


def _all(rows: Rows) -> Iterator[LatePage]:
    """Every property."""
    return _paged(
        ALL,
        list(rows),
        pages=_pages_for(len(rows)),
        made_from=lambda some: repr([(row.settled.listed, row.visited_on, row.looked_on) for row in some]),
        lines=lambda some: [overview_line(row) for row in some],
    )


def _list(report: Report, stock: Stock) -> Iterator[LatePage]:
    lines = stock.lines(report)
    pages = min(_pages_for(len(lines)), MOST_PAGES)
    return _paged(report, lines, pages=pages, made_from=repr, lines=lambda some: some)


def _paged(
    report: Report,
    listed: list[Item],
    *,
    pages: int,
    made_from: Callable[[list[Item]], str],
    lines: Callable[[list[Item]], list[Line]],
) -> Iterator[LatePage]:
    """The pages of a list.

    Args:
        report: What is listed.
        listed: All of it.
        pages: On how many pages.
        made_from: Everything that the lines of some of it are made from, as text.
        lines: These lines.
    """
    for number in range(1, pages + 1):
        some = listed[(number - 1) * PAGE_LINES : number * PAGE_LINES]
        yield _page(
            url=_page_url(f"stock/{report.name}/", number),
            title=report.title if number == 1 else f"{report.title}, page {number}",
            description=report.about,
            made_from=f"{len(listed)} {pages} {made_from(some)}",
            make=partial(_list_page, report, len(listed), partial(lines, some), number, pages),
        )


def _list_page(report: Report, count: int, lines: Callable[[], list[Line]], number: int, pages: int) -> str:
    base = f"stock/{report.name}/"
    return _render(
        "stock_list",
        _page_url(base, number),
        report=report,
        count=count,
        listed=min(count, pages * PAGE_LINES),
        columns=_columns(report),
        lines=list(_lines(report, lines())),
        overdue=OVERDUE if report is NOT_LOOKED_AT else (),
        orange=report is ORANGE,
        unvented=report is UNVENTED_CYLINDERS,
        base=base,
        number=number,
        pages=pages,
    )
