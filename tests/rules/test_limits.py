"""Numbers at which a rule begins to speak: one house just inside each limit, one just outside, worked out by hand."""

from datetime import date
from pathlib import Path

import pytest

from generator.rules.dwellings import COMBINATION
from generator.rules.example_house import HOUSE, IMMERSION, change
from generator.rules.record_itself import next_judged_otherwise
from generator.rules.rules import ALL
from tests.rules.examples import examined, rules_of


@pytest.mark.parametrize(
    ("set_c", "found"),
    [(59, {"stored-water-too-cool"}), (60, set()), (65, set()), (66, {"stored-water-too-hot"})],
)
def test_stored_water(set_c: int, found: set[str], tmp_path: Path) -> None:
    """Stored at 60 C or more (HSE, Legionnaires' disease: hot and cold water systems); 65 C: common practice, no source."""
    setting = f"{{ kind: cylinder-thermostat, settings: {{ set_c: {set_c} }} }}"
    assert rules_of(change(HOUSE, ("{ kind: cylinder-thermostat }", setting)), tmp_path) == found


@pytest.mark.parametrize(("area_m2", "one_too_few"), [(149, False), (150, True)])
def test_large_new_dwelling(area_m2: int, one_too_few: bool, tmp_path: Path) -> None:
    """Two circuits from 150 m2 on (Approved Document L, volume 1, 2021, 5.14)."""
    record = change(HOUSE, ("floor_area_m2: 82 }", f"floor_area_m2: {area_m2}, status: new }}"))
    assert ("one-circuit-in-large-new-dwelling" in rules_of(record, tmp_path)) is one_too_few


@pytest.mark.parametrize(("fitted", "found"), [("2018-04-05", False), ("2018-04-06", True)])
def test_combination_boiler_from_its_day(fitted: str, found: bool, tmp_path: Path) -> None:
    """Boilers fitted on or after 6 April 2018 (Approved Document L, volume 1, 2021, 6.2)."""
    record = change(
        COMBINATION,
        ("fitted: 2024-05-13", f"fitted: {fitted}"),
        ("combination_measure: load compensation", "combination_measure: none"),
    )
    assert ("combination-boiler-without-measure" in rules_of(record, tmp_path)) is found


@pytest.mark.parametrize(("day", "found"), [("2026-03-20", False), ("2026-03-21", True)])
def test_today_is_not_in_the_future(day: str, found: bool, tmp_path: Path) -> None:
    """The examples are examined on 20 March 2026."""
    record = change(HOUSE, ("how: tested, on: 2026-03-14", f"how: tested, on: {day}"))
    assert ("date-in-future" in rules_of(record, tmp_path)) is found


@pytest.mark.parametrize(("length_m", "found"), [(27, False), (28, True)])
def test_volts_lost(length_m: int, found: bool, tmp_path: Path) -> None:
    """3000 W / 230 V = 13.04 A; at 32 mV/A/m 0.417 V a metre: 11.27 V in 27 m, 11.69 V in 28 m; the limit is 11.5 V.

    BS 7671, Appendix 4, Table 4F3B (1.5 mm2) and Table 4Ab (5 % of 230 V).
    """
    record = change(
        IMMERSION, ("\nwiring:\n", f"  immersion: {{ size_mm2: 1.5, length_m: {length_m} }}\n\nwiring:\n")
    )
    assert ("volt-drop-over-limit" in rules_of(record, tmp_path)) is found


@pytest.mark.parametrize("set_c", [50, 75])
def test_a_thermal_store_holds_no_tap_water(set_c: int, tmp_path: Path) -> None:
    """It holds heating water, which has neither limit (common practice, no source)."""
    record = change(
        HOUSE,
        ("{ kind: cylinder-thermostat }", f"{{ kind: cylinder-thermostat, settings: {{ set_c: {set_c} }} }}"),
        ("settings: { system: vented }", "settings: { system: thermal store }"),
        ("feeds: cylinder coil", "feeds: thermal store"),
    )
    assert rules_of(record, tmp_path).isdisjoint({"stored-water-too-cool", "stored-water-too-hot"})


@pytest.mark.parametrize(("watts", "found"), [(3019, False), (3021, True)])
def test_a_hundredth_over_the_fuse(watts: int, found: bool, tmp_path: Path) -> None:
    """13 A and a hundredth are 13.13 A, at 230 V 3019.9 W (common practice, no source)."""
    record = change(
        IMMERSION,
        ("{ kind: immersion-heater }", f"{{ kind: immersion-heater, settings: {{ watts: {watts} }} }}"),
    )
    assert ("load-over-fuse" in rules_of(record, tmp_path)) is found


@pytest.mark.parametrize(
    ("size", "fuse_a", "found"),
    [("0.5", 3, False), ("0.5", 5, True), ("1.0", 13, True), ("1.25", 13, False)],
)
def test_fuse_and_core(size: str, fuse_a: int, found: bool, tmp_path: Path) -> None:
    """A cord of 0.5 mm2 may carry 3 A, of 1 mm2 10 A, of 1.25 mm2 13 A (BS 7671, Table 4F3A)."""
    record = change(
        IMMERSION,
        ("settings: { fuse_a: 13, feeds", f"settings: {{ fuse_a: {fuse_a}, feeds"),
        ("\nwiring:\n", f"  immersion: {{ size_mm2: {size}, length_m: 3 }}\n\nwiring:\n"),
    )
    assert ("fuse-larger-than-core" in rules_of(record, tmp_path)) is found


@pytest.mark.parametrize(
    ("today", "next_day"),
    [
        (date(2026, 3, 13), date(2026, 3, 14)),
        (date(2026, 3, 14), date(2027, 3, 15)),
        (date(2027, 3, 14), date(2027, 3, 15)),
        (date(2027, 3, 15), None),
    ],
)
def test_day_on_which_rules_find_otherwise(today: date, next_day: date | None, tmp_path: Path) -> None:
    """All that the record states is of 14 March 2026: no future date from then on, a year ago first on 15 March 2027."""
    record = examined(HOUSE, tmp_path).record
    assert record is not None
    assert next_judged_otherwise(record, today) == next_day


def test_a_day_at_the_end_of_the_calendar_is_judged_like_any_other(tmp_path: Path) -> None:
    record = examined(
        f"{HOUSE}visits:\n  - {{ on: 9999-12-31, by: electrician, found: Seen. }}\n", tmp_path
    ).record
    assert record is not None
    assert next_judged_otherwise(record, date(2027, 3, 15)) == date(9999, 12, 31)


@pytest.mark.parametrize(("most", "found"), [(6, False), (5, True)])
def test_conductors_in_a_terminal(most: int, found: bool, tmp_path: Path) -> None:
    """The neutral terminal of the house holds six; the sixth, the pump's, is the one too many for five."""
    record = change(
        HOUSE,
        (
            "terminals: [A, B, C, D, E, F, G, H] }",
            f"terminals: [A, B, C, D, E, F, G, H], conductors_per_terminal: {most} }}",
        ),
    )
    findings = [
        finding for finding in examined(record, tmp_path).findings if finding.rule == "too-many-conductors"
    ]
    assert bool(findings) is found
    for finding in findings:
        assert "holds 6 conductors; it may hold 5" in finding.message
        assert "pump.N" in record.splitlines()[finding.span.line - 1]


@pytest.mark.parametrize(
    ("more", "ending"),
    [(("pump",), ""), (("pump", "boiler"), " and 1 more"), (("pump", "boiler", "programmer"), " and 2 more")],
)
def test_three_thin_cables_are_named(more: tuple[str, ...], ending: str, tmp_path: Path) -> None:
    """Two cables of 0.75 mm2 are in the house already; on a fuse of 13 A each is too thin."""
    sized = "".join(f"  {name}: {{ size_mm2: 0.75, length_m: 2 }}\n" for name in more)
    record = change(
        HOUSE,
        (
            "spur: { kind: fused-spur }",
            "spur: { kind: fused-spur, settings: { fuse_a: 13, fuse_by_maker: true } }",
        ),
        ("\nwiring:\n", f"{sized}\nwiring:\n"),
    )
    (finding,) = [
        finding for finding in examined(record, tmp_path).findings if finding.rule == "fuse-larger-than-core"
    ]
    assert finding.message.count("cable `") == 3
    assert finding.message.endswith(f"may carry 6 A{ending}")


def test_one_circuit_is_counted(tmp_path: Path) -> None:
    """The house has one heating valve and one zone of heating: both are the same circuit."""
    record = change(HOUSE, ("floor_area_m2: 82 }", "floor_area_m2: 150, status: new }"))
    messages = {finding.rule: finding.message for finding in examined(record, tmp_path).findings}
    assert "has 1 heating circuit " in messages["one-circuit-in-large-new-dwelling"]


ONE_CIRCUIT = "one-circuit-in-large-new-dwelling"
NO_VALVES = "new-dwelling-without-room-control"
NO_MEASURE = "combination-boiler-without-measure"


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        (ONE_CIRCUIT, "nation: england", "nation: scotland"),
        (ONE_CIRCUIT, ", status: new", ", status: existing"),
        (NO_VALVES, "nation: england", "nation: wales"),
        (NO_VALVES, ", status: new", ", status: existing"),
        (NO_VALVES, "radiator_valves: false", "radiator_valves: true"),
        (NO_MEASURE, "nation: england", "nation: northern ireland"),
        (NO_MEASURE, "fuel: gas", "fuel: oil"),
        (NO_MEASURE, "floor_area_m2: 82 }", "floor_area_m2: 82, status: new }"),
        (NO_MEASURE, "combination: true, ", ""),
        (NO_MEASURE, ", fitted: 2024-05-13", ""),
    ],
)
def test_where_a_rule_does_not_apply(name: str, old: str, new: str, tmp_path: Path) -> None:
    """The document is England's, and each paragraph says for which dwellings (Approved Document L, volume 1, 2021)."""
    (wrong,) = (rule.wrong for rule in ALL if rule.name == name)
    assert name in rules_of(wrong, tmp_path)
    assert name not in rules_of(change(wrong, (old, new)), tmp_path)
