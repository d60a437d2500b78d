"""Two records with one number, or one reference: on the pages and in the tables of the stock as `check` tells it."""

import pytest

from generator.views.stock_findings import stock_findings
from generator.views.stock_lines import finished
from generator.views.stock_shared import with_shared
from tests.stock_rows import made_rows

ROWS = [
    row._replace(reference=f"EX-{number}", uprn=str(100000 + number), findings=())
    for number, row in enumerate(made_rows(4))
]


def test_nothing_shared_changes_nothing() -> None:
    assert with_shared(ROWS) == tuple(ROWS)
    assert with_shared(row._replace(uprn="") for row in ROWS) == tuple(row._replace(uprn="") for row in ROWS)


@pytest.mark.parametrize("written", ["100001", "000100001", " 100001 "])
def test_a_number_twice_is_told_at_the_later(written: str) -> None:
    rows = with_shared([*ROWS[:3], ROWS[3]._replace(uprn=written)])
    assert [len(row.findings) for row in rows] == [0, 0, 0, 1]
    (finding,) = rows[3].findings
    assert finding.rule == "uprn-twice"
    assert "`EX-1`" in finding.message
    assert finding.file == "EX-3.yaml"
    assert rows[3] == finished(rows[3])
    counted = stock_findings(rows)
    assert [(each.rule, each.count) for each in counted.rules] == [("uprn-twice", 1)]
    assert [each.reference for each in counted.worst] == ["EX-3"]


def test_a_reference_twice_but_for_capitals() -> None:
    rows = with_shared([*ROWS[:3], ROWS[3]._replace(reference="ex-0", uprn="")])
    assert [finding.rule for finding in rows[3].findings] == ["reference-twice"]


def test_a_third_names_the_first() -> None:
    rows = with_shared(row._replace(uprn="100000") for row in ROWS)
    assert ["`EX-0`" in finding.message for row in rows for finding in row.findings] == [True] * 3
