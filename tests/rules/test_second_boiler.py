"""Two boilers in one property, each with a loop, a supply and a pump of its own. Common practice, no source."""

from pathlib import Path

from generator.rules.example_house import change
from tests.odd_heat_houses import TWO_BOILERS
from tests.rules.examples import rules_of


def test_the_pump_of_one_boiler_need_not_run_for_the_other(tmp_path: Path) -> None:
    assert rules_of(TWO_BOILERS, tmp_path) == set()


def test_a_boiler_whose_own_pump_does_not_run(tmp_path: Path) -> None:
    """The pump outside the first boiler has no line."""
    text = change(
        TWO_BOILERS,
        (
            "  boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }",
            "  boiler: { kind: boiler }\n  pump: { kind: pump }",
        ),
        (
            "{ to: boiler.N, core: BU }]\n      3: [{ to: spur.E, core: GNYE }, { to: boiler.E",
            "{ to: boiler.N, core: BU }, { to: pump.N, core: BU }]\n      3: [{ to: spur.E, core: GNYE }, { to: pump.E, core: GNYE }, { to: boiler.E",
        ),
        ("  pump: in the boiler", "  pump: on the flow"),
    )
    assert "boiler-on-without-pump" in rules_of(text, tmp_path)
