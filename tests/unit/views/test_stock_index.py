"""The finder's index: nothing is lost on the way, and it stays small at ten thousand properties."""

import gzip
import json
from typing import Any

from generator.pages.stock_index import NAME, index_script
from generator.views.stock_index import FACETS, stock_index
from generator.views.stock_model import StockRow
from tests.stock_rows import DAY, made_rows

ROWS = made_rows(300)
INDEX = stock_index(ROWS, day=DAY)


def address(index: dict[str, Any], at: int) -> str:
    number = index["numbers"].split("\n")[at]
    street = index["streets"][index["street"][at]]
    postcode = index["postcodes"].split("\n")[at]
    return f"{number + ' ' if number else ''}{street}{', ' + postcode if postcode else ''}"


def values(index: dict[str, Any], key: str, at: int) -> list[str]:
    (facet,) = [each for each in index["facets"] if each["key"] == key]
    found = [facet["values"][place] for place in facet["sets"][facet["of"][at]]]
    return [each if isinstance(each, str) else each[0] for each in found]


def test_every_property_can_be_put_together_again() -> None:
    for at, row in enumerate(ROWS):
        assert INDEX["refs"].split("\n")[at] == row.reference
        assert INDEX["uprns"].split("\n")[at] == row.uprn
        assert address(INDEX, at) == row.address
        assert set(values(INDEX, "kind", at)) == {name for name, _ in row.kinds}
        assert set(values(INDEX, "unusual", at)) == set(row.unusual)
        assert set(values(INDEX, "rule", at)) == {finding.rule for finding in row.findings}
        assert values(INDEX, "severity", at) == sorted(
            {str(finding.severity) for finding in row.findings} or {"none"},
            key=["danger", "error", "warning", "note", "none"].index,
        )
        assert values(INDEX, "nation", at) == [row.nation]


def test_addresses_without_number_or_postcode() -> None:
    rows = [
        StockRow(reference="A-1", address="The Forge, Nether Quern, QE4 3FG", postcode="QE4 3FG"),
        StockRow(reference="A-2", address="Flat 4, 30 Fuller's Walk, Embermere"),
        StockRow(reference="A-3", address="Address not read"),
        StockRow(reference="A-4", address="12"),
        StockRow(reference="A\n5", address="1 Kiln\nRow"),
    ]
    index = stock_index(rows, day=DAY)
    assert [address(index, at) for at in range(4)] == [row.address for row in rows[:4]]
    assert index["refs"].split("\n")[4] == "A 5"


def test_worst_severity_comes_first() -> None:
    (facet,) = [each for each in INDEX["facets"] if each["key"] == "severity"]
    assert [each[0] for each in facet["values"]] == ["danger", "error", "warning", "note", "none"]
    assert facet["ordered"]


def test_the_script_holds_the_index() -> None:
    script = index_script(ROWS, day=DAY).decode()
    assert script.startswith(f"window.{NAME}=")
    assert json.loads(script.removeprefix(f"window.{NAME}=").removesuffix(";\n")) == json.loads(
        json.dumps(INDEX)
    )
    assert len({facet.key for facet in FACETS}) == len(FACETS)


def test_ten_thousand_properties_under_300_kb_compressed() -> None:
    """Made at random, which is worse than any stock: real houses of one type have the same of everything."""
    script = index_script(made_rows(10_000), day=DAY)
    assert len(gzip.compress(script, 6, mtime=0)) < 300_000
