"""What no property shows by itself: two records with one number or one reference, told at the later of them.

Made from the rows of the whole stock; knows no record.
"""

from collections.abc import Callable, Iterable

from generator.findings.finding import Severity
from generator.record.wording import quote
from generator.views.stock_lines import finished
from generator.views.stock_model import StockFinding, StockRow

_SHARED: tuple[tuple[str, str, Callable[[StockRow], str], Callable[[StockRow], str]], ...] = (
    ("reference-twice", "reference", lambda row: row.reference, lambda row: row.reference.lower()),
    (
        "uprn-twice",
        "unique property reference number",
        lambda row: row.uprn,
        lambda row: row.uprn.strip().lstrip("0"),
    ),
)
"""For each: the rule's name, what it is in words, how it is written in a row, and what of it is compared."""


def with_shared(rows: Iterable[StockRow]) -> tuple[StockRow, ...]:
    """The rows, with a finding more in each that has a reference or a number which an earlier one has already."""
    first: dict[tuple[str, str], str] = {}
    result = []
    for row in rows:
        more = []
        for rule, what, written, compared in _SHARED:
            value = compared(row)
            if not value:
                continue
            earlier = first.setdefault((rule, value), row.reference)
            if earlier != row.reference:
                more.append(_twice(rule, what, written(row), row, earlier))
        result.append(finished(row._replace(findings=(*row.findings, *more))) if more else row)
    return tuple(result)


def _twice(rule: str, what: str, written: str, row: StockRow, earlier: str) -> StockFinding:
    return StockFinding(
        rule=rule,
        severity=Severity.ERROR,
        message=f"another record, {quote(earlier)}, has the {what} {quote(written)} already",
        fix="Correct one of them; of one property there is one record.",
        file=f"{row.reference}.yaml",
        line=1,
        column=1,
        holds="",
        subject="",
        cure="",
        example="",
    )
