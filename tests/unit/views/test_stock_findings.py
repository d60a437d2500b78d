"""The findings of a stock, counted by severity, by rule and by property."""

from generator.findings.finding import Severity
from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, TODAY, change, without
from generator.views.stock_findings import WORST_PROPERTIES, stock_findings
from generator.views.stock_model import StockRow
from generator.views.stock_row import stock_row
from generator.views.worked_out import worked_out


def row(text: str, reference: str) -> StockRow:
    examination = examine_text(text, today=TODAY, file=f"properties/{reference}.yaml")
    return stock_row(examination, worked_out(examination), stem=reference)


TWO = change(
    without(HOUSE, "- { to: pump.E, core: GNYE }"),
    ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, settings: { set_c: 50 } }"),
)
ROWS = [
    row(HOUSE, "A-1"),
    row(change(HOUSE, ("to: pump.L", "to: nowhere.L")), "A-4"),
    row(without(HOUSE, "- { to: pump.E, core: GNYE }"), "A-3"),
    row(TWO, "A-2"),
]
STOCK = stock_findings(ROWS)


def test_counts() -> None:
    assert (STOCK.properties_checked, STOCK.properties, STOCK.count) == (4, 3, 4)
    assert [(one.severity, one.count, one.properties) for one in STOCK.by_severity] == [
        (Severity.DANGER, 2, 2),
        (Severity.ERROR, 1, 1),
        (Severity.WARNING, 1, 1),
        (Severity.NOTE, 0, 0),
    ]


def test_by_rule_worst_and_commonest_first() -> None:
    assert [(one.rule, one.count, one.properties) for one in STOCK.rules] == [
        ("class-one-without-earth", 2, 2),
        ("unknown-device", 1, 1),
        ("stored-water-too-cool", 1, 1),
    ]


def test_by_property_worst_first() -> None:
    assert [(one.reference, one.counts) for one in STOCK.worst] == [
        ("A-2", (1, 0, 1, 0)),
        ("A-3", (1, 0, 0, 0)),
        ("A-4", (0, 1, 0, 0)),
    ]


def test_no_more_properties_are_named_than_there_is_room_for() -> None:
    many = [ROWS[1 + n % 2]._replace(reference=f"B-{n}") for n in range(10 * WORST_PROPERTIES)]
    counted = stock_findings(many)
    assert counted.properties == 10 * WORST_PROPERTIES
    assert [one.reference for one in counted.worst] == [f"B-{1 + 2 * n}" for n in range(WORST_PROPERTIES)]
