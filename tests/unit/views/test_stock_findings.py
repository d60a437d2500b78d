"""The findings of a stock, counted by severity, by rule and by property."""

from generator.findings.finding import Severity
from generator.pages.findings_page import findings_page
from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, TODAY, change, without
from generator.rules.rules import ALL
from generator.views.property import PropertyView, property_view
from generator.views.stock_findings import stock_findings


def view(text: str, reference: str) -> PropertyView:
    return property_view(examine_text(text, today=TODAY, file=f"properties/{reference}.yaml"), stem=reference)


TWO = change(
    without(HOUSE, "- { to: pump.E, core: GNYE }"),
    ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, settings: { set_c: 50 } }"),
)
STOCK = stock_findings(
    [
        view(HOUSE, "A-1"),
        view(TWO, "A-2"),
        view(without(HOUSE, "- { to: pump.E, core: GNYE }"), "A-3"),
        view(change(HOUSE, ("to: pump.L", "to: nowhere.L")), "A-4"),
    ]
)


def test_counts() -> None:
    assert STOCK.properties_checked == 4
    assert [(severity, len(found)) for severity, found in STOCK.by_severity] == [
        (Severity.DANGER, 2),
        (Severity.ERROR, 1),
        (Severity.WARNING, 1),
        (Severity.NOTE, 0),
    ]


def test_by_rule_worst_and_commonest_first() -> None:
    assert [(one.rule, one.count, [where.reference for where in one.where]) for one in STOCK.rules] == [
        ("class-one-without-earth", 2, ["A-2", "A-3"]),
        ("unknown-device", 1, ["A-4"]),
        ("stored-water-too-cool", 1, ["A-2"]),
    ]


def test_by_property() -> None:
    assert [(one.where.reference, one.counts) for one in STOCK.properties] == [
        ("A-2", (1, 0, 1, 0)),
        ("A-3", (1, 0, 0, 0)),
        ("A-4", (0, 1, 0, 0)),
    ]


def test_page() -> None:
    page = findings_page(STOCK, rules=frozenset(rule.name for rule in ALL))
    assert page.count("<h1>") == 1
    assert '<a href="../rules/class-one-without-earth/">' in page
    assert '<a href="../p/A-2/">' in page
    assert "findings.csv" in page
    assert "4 findings in 3 of 4 properties" in page
