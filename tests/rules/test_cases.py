"""Houses beside the rules' own examples: what must be found there, where and in which states."""

from pathlib import Path

import pytest

from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, Severity
from generator.rules import rules
from generator.rules.example_house import HOUSE, IMMERSION, OVERRUN, UNVENTED, added, change, moved, without
from generator.rules.rule import Rule, Subject
from generator.rules.rules import ALL, RuleCrashed, rule_named
from tests.rules.examples import examined, rules_of


def found(text: str, rule: str, folder: Path) -> list[Finding]:
    return [finding for finding in examined(text, folder).findings if finding.rule == rule]


def line_of(text: str, part: str) -> int:
    (number,) = [number for number, line in enumerate(text.splitlines(), start=1) if part in line]
    return number


def test_crossed_zones_says_what_to_swap(tmp_path: Path) -> None:
    text = rule_wrong("crossed-zones")
    (finding,) = found(text, "crossed-zones", tmp_path)
    assert "brown core (BN) of cable `water-valve`" in finding.fix
    assert "brown core (BN) of cable `heating-valve`" in finding.fix
    assert finding.span.line == line_of(text, "to: water-thermostat.call")


def test_crossed_channels(tmp_path: Path) -> None:
    """Only the programmer's outputs are crossed: each zone then wants the other's time."""
    text = change(
        HOUSE,
        ("{ to: programmer.on-1, core: BK }", "{ to: programmer.on-2, core: GY }"),
        ("{ to: programmer.on-2, core: GY }", "{ to: programmer.on-1, core: BK }"),
    )
    assert rules_of(text, tmp_path) == {"crossed-zones"}
    (finding,) = found(text, "crossed-zones", tmp_path)
    assert "of cable `programmer`" in finding.fix


def test_back_feed_through_an_end_switch(tmp_path: Path) -> None:
    """An end switch fed from its own call holds its valve open by another zone's call."""
    text = moved(
        HOUSE, "- { to: heating-valve.switch-a, core: GY }", after="- { to: room-thermostat.call, core: BK }"
    )
    (finding,) = found(text, "valve-opens-without-its-call", tmp_path)
    assert finding.subject == "heating-valve"
    assert "`heating-valve.switch-b` > `heating-valve.switch-a`" in finding.message
    assert finding.holds.startswith("whenever hot water calls and heating does not call, if what came before")


@pytest.mark.parametrize("house", [HOUSE, OVERRUN], ids=["plain", "with overrun"])
def test_a_boiler_without_its_permanent_live_never_fires(house: str, tmp_path: Path) -> None:
    findings = examined(without(house, "- { to: boiler.L, core: BN }"), tmp_path).findings
    worst = {finding.rule for finding in findings if finding.severity is Severity.ERROR}
    assert {"terminal-left-empty", "call-does-not-reach-boiler"} <= worst
    assert ("overrun-without-permanent-live" in worst) is (house is OVERRUN)
    reached = [finding for finding in findings if finding.rule == "call-does-not-reach-boiler"]
    assert all(each.message.endswith("its permanent live, is dead") for each in reached)


def test_orange_fed_behaves_alike(tmp_path: Path) -> None:
    """Grey and orange are one contact: fed the other way round, nothing but the note is found."""
    text = HOUSE
    for valve in ("water-valve", "heating-valve"):
        text = change(
            text,
            (f"{{ to: {valve}.switch-a, core: GY }}", f"{{ to: {valve}.switch-b, core: OG }}"),
            (f"{{ to: {valve}.switch-b, core: OG }}", f"{{ to: {valve}.switch-a, core: GY }}"),
        )
    assert rules_of(text, tmp_path) == {"end-switch-fed-on-orange"}


def test_sleeved_blue_is_a_warning(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("{ to: room-thermostat.call, core: BK }", "{ to: room-thermostat.call, core: BU, sleeve: BN }"),
    )
    (finding,) = examined(text, tmp_path).findings
    assert (finding.rule, finding.severity) == ("blue-core-as-line", Severity.WARNING)


def test_sleeving_does_not_help_green_and_yellow(tmp_path: Path) -> None:
    (finding,) = examined(rule_wrong("green-yellow-not-earth"), tmp_path).findings
    assert finding.severity is Severity.ERROR


def test_black_is_neutral_only_beside_red(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("{ to: room-thermostat.call, core: BK }", "{ to: room-thermostat.call, core: BK }"),
        ("{ to: room-thermostat.common, core: BN }", "{ to: room-thermostat.common, core: RD }"),
    )
    (finding,) = examined(text, tmp_path).findings
    assert finding.rule == "blue-core-as-line"
    assert finding.subject == "room-thermostat BK"


def test_black_is_a_line_where_the_cable_has_a_blue_core_too(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("{ to: programmer.on-2, core: GY }", "{ to: programmer.on-2, core: RD }"),
    )
    assert rules_of(text, tmp_path) == set()


def test_short_blames_the_conductor_out_of_place(tmp_path: Path) -> None:
    (finding,) = examined(rule_wrong("line-joined-to-neutral"), tmp_path).findings
    assert finding.subject == "water-valve OG"
    assert finding.holds == "whenever hot water calls"


@pytest.mark.parametrize("lever", ["makes", "unknown"])
def test_short_only_with_the_lever_latched(lever: str, tmp_path: Path) -> None:
    """A valve whose lever makes its switch, and whose motor is fed through a switch that is never made with it."""
    text = moved(
        change(
            HOUSE,
            (
                "water-valve: { kind: two-port-valve }",
                f"water-valve: {{ kind: two-port-valve, settings: {{ lever: {lever} }} }}",
            ),
        ),
        "- { to: water-valve.switch-b, core: OG }",
        after="- { to: spur.N, core: BU }",
    )
    text = without(text, "- { to: water-valve.motor, core: BN }")
    text = change(
        text,
        (
            "serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: water-valve",
            "serves: hot water",
        ),
    )
    (finding,) = found(text, "line-joined-to-neutral", tmp_path)
    assert finding.holds == "with the manual lever of the water valve latched open, in every state"


def test_metal_box_wants_an_earth(tmp_path: Path) -> None:
    boxed = change(HOUSE, ("F, G, H] }", "F, G, H], metal_box: true }"))
    assert "centre" in {each.subject for each in found(boxed, "class-one-without-earth", tmp_path)}
    earthed = change(boxed, ("wiring:\n", "wiring:\n  links: [{ ends: [centre.case, centre.F] }]\n"))
    assert rules_of(earthed, tmp_path) == set()


def test_spur_on_its_own_is_no_second_supply(tmp_path: Path) -> None:
    assert rules_of(IMMERSION, tmp_path) == set()


def test_joined_lines_of_two_spurs(tmp_path: Path) -> None:
    text = added(
        IMMERSION,
        "- { ends: [water-spur.L, programmer.L], core: BN, cable: water-timer }",
        after="- { ends: [water-spur.E, immersion.E], core: GNYE, cable: immersion }",
    )
    (finding,) = found(text, "live-with-isolator-open", tmp_path)
    assert finding.severity is Severity.DANGER
    assert finding.subject == "centre"
    assert "neutral-borrowed" not in rules_of(text, tmp_path)


def test_relay_on_two_supplies_is_an_error(tmp_path: Path) -> None:
    text = change(
        IMMERSION,
        (
            "  immersion: { kind: immersion-heater }\n",
            "  immersion: { kind: immersion-heater }\n  relay: { kind: relay }\n",
        ),
        (
            "[water-spur.L, immersion.L], core: BN, cable: immersion }",
            (
                "[relay.14, immersion.L], core: BN, cable: immersion }\n"
                "    - { ends: [water-spur.L, relay.11], core: BN, cable: relay-feed }"
            ),
        ),
        (
            "        - { to: pump.L, core: BN }\n",
            "        - { to: pump.L, core: BN }\n        - { to: relay.A1, core: BN }\n",
        ),
        (
            "        - { to: pump.N, core: BU }\n",
            "        - { to: pump.N, core: BU }\n        - { to: relay.A2, core: BU }\n",
        ),
    )
    (finding,) = found(text, "live-with-isolator-open", tmp_path)
    assert (finding.subject, finding.severity) == ("relay", Severity.ERROR)


def test_bypass_not_seen(tmp_path: Path) -> None:
    text = change(OVERRUN, ("  bypass: bypass\n", ""), ("  bypass: { kind: automatic-bypass }\n", ""))
    (finding,) = examined(text, tmp_path).findings
    assert (finding.rule, finding.severity) == ("overrun-without-path", Severity.NOTE)


def test_circuit_without_valve_is_a_path(tmp_path: Path) -> None:
    text = change(
        OVERRUN,
        ("  bypass: bypass\n", "  bypass: none\n"),
        ("  bypass: { kind: automatic-bypass }\n", ""),
        ("  pump: on the flow\n", "    towel: { feeds: towel rail }\n  pump: on the flow\n"),
    )
    assert rules_of(text, tmp_path) == set()


def test_cut_out_on_the_boiler(tmp_path: Path) -> None:
    """Approved Document G, 3.21: on an indirect system the cut-out may be on the boiler."""
    text = change(
        HOUSE,
        ("{ system: vented }", "{ system: unvented, cut_out: on the boiler, relief_valve: seen }"),
    )
    assert rules_of(text, tmp_path) == set()


def test_relief_valve_not_seen_is_a_note(tmp_path: Path) -> None:
    (finding,) = examined(change(UNVENTED, (", relief_valve: seen", "")), tmp_path).findings
    assert (finding.rule, finding.severity) == ("unvented-without-relief-valve", Severity.NOTE)


def test_house_without_cylinder_is_not_asked_for_hot_water(tmp_path: Path) -> None:
    text = without(
        HOUSE,
        "water-thermostat: { kind: cylinder-thermostat }",
        "water-valve: { kind: two-port-valve }",
        "cylinder: { kind: cylinder, settings: { system: vented } }",
        "water-thermostat: { cores: [BK, BN], size_mm2: 0.75, length_m: 3 }",
        "A: # hot water on",
        "- { to: programmer.on-1, core: BK }",
        "- { to: water-thermostat.common, core: BN }",
        "B: # hot water calls",
        "- { to: water-thermostat.call, core: BK }",
        "- { to: water-valve.motor, core: BN }",
        "- { to: water-valve.switch-b, core: OG }",
        "- { to: water-valve.E, core: GNYE }",
        "- { to: water-valve.N, core: BU }",
        "- { to: water-valve.switch-a, core: GY }",
        "hot-water: { serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: water-valve }",
        "hot-water: { valve: water-valve, feeds: cylinder coil }",
    )
    assert rules_of(text, tmp_path) == set()


def test_shared_times_in_an_old_house_are_a_note(tmp_path: Path) -> None:
    text = change(rule_wrong("hot-water-time-not-independent"), (", status: new", ""))
    (finding,) = examined(text, tmp_path).findings
    assert finding.severity is Severity.NOTE


@pytest.mark.parametrize("nation", ["scotland", "wales", "northern ireland"])
def test_englands_document_is_england_only(nation: str, tmp_path: Path) -> None:
    text = change(rule_wrong("one-circuit-in-large-new-dwelling"), ("nation: england", f"nation: {nation}"))
    assert rules_of(text, tmp_path) == set()


def test_assumed_for_a_year_is_not_too_long(tmp_path: Path) -> None:
    text = change(HOUSE, ("how: tested, on: 2026-03-14", "how: assumed, on: 2025-03-20"))
    assert rules_of(text, tmp_path) == set()
    text = change(HOUSE, ("how: tested, on: 2026-03-14", "how: assumed, on: 2025-03-19"))
    assert rules_of(text, tmp_path) == {"assumed-over-a-year"}


def test_one_assumed_conductor(tmp_path: Path) -> None:
    sure = "sure: { how: assumed, on: 2024-01-01, by: surveyor }"
    text = change(HOUSE, ("{ to: boiler.call, core: BK }", f"{{ to: boiler.call, core: BK, {sure} }}"))
    (finding,) = examined(text, tmp_path).findings
    assert finding.span.line == line_of(text, "to: boiler.call")


def test_secret_is_not_repeated(tmp_path: Path) -> None:
    (finding,) = examined(rule_wrong("secret-in-record"), tmp_path).findings
    assert "4821" not in finding.message + finding.fix


def test_looped_supply_is_a_note(tmp_path: Path) -> None:
    text = change(
        HOUSE,
        ("        - { to: programmer.N, core: BU }\n", ""),
        ("\nzones:\n", "  direct:\n    - { ends: [programmer.N, boiler.N], core: BU }\n\nzones:\n"),
    )
    (finding,) = examined(text, tmp_path).findings
    assert (finding.rule, finding.severity) == ("terminal-landed-twice", Severity.NOTE)


def test_three_kilowatt_on_thirteen_ampere(tmp_path: Path) -> None:
    """Common practice, no source: 13.04 A through 13 A is let pass, 3.1 kW is not."""
    assert rules_of(IMMERSION, tmp_path) == set()
    text = change(
        IMMERSION, ("{ kind: immersion-heater }", "{ kind: immersion-heater, settings: { watts: 3100 } }")
    )
    assert rules_of(text, tmp_path) == {"load-over-fuse"}


def rule_wrong(name: str) -> str:
    rule = rule_named(name)
    assert rule is not None
    return rule.wrong


def test_crash_names_rule_and_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(subject: Subject) -> None:
        raise ZeroDivisionError(subject.record.property.reference)

    rule = ALL[0]
    crashing = Rule(
        name=rule.name,
        family=rule.family,
        severity=rule.severity,
        summary=rule.summary,
        why=rule.why,
        fix=rule.fix,
        source=rule.source,
        right=rule.right,
        wrong=rule.wrong,
        look=broken,  # type: ignore[arg-type]
    )
    monkeypatch.setattr(rules, "ALL", (crashing,))
    with pytest.raises(RuleCrashed) as caught:
        examined(HOUSE, tmp_path)
    assert isinstance(caught.value, HearthbookError)
    assert rule.name in caught.value.message
    assert "EX-0001" in caught.value.message
    assert isinstance(caught.value.__cause__, ZeroDivisionError)


@pytest.mark.parametrize(
    ("zone", "severity"),
    [("zone 0", Severity.DANGER), ("zone 1", Severity.DANGER), ("zone 2", Severity.ERROR), ("outside", None)],
)
def test_severity_by_the_zone_of_the_bath(zone: str, severity: Severity | None, tmp_path: Path) -> None:
    text = change(rule_wrong("mains-control-by-the-bath"), ("bath_zone: zone 1", f"bath_zone: {zone}"))
    findings = found(text, "mains-control-by-the-bath", tmp_path)
    assert [finding.severity for finding in findings] == ([severity] if severity else [])
    assert all("`common` and `call`" in finding.message for finding in findings)


def test_a_pump_by_the_bath_is_not_judged(tmp_path: Path) -> None:
    """How well it keeps water out is not recorded."""
    text = change(HOUSE, ("pump: { kind: pump }", "pump: { kind: pump, bath_zone: zone 2 }"))
    assert rules_of(text, tmp_path) == set()


@pytest.mark.parametrize(
    ("cores", "sort", "wanted"),
    [
        ("BK, BN", "flat cable", True),
        ("BK, BN", "armoured cable", True),
        ("BK, BN", "flexible cord", False),
        ("BK, BN", "unknown", False),
    ],
)
def test_protective_conductor_in_fixed_cables_only(
    cores: str, sort: str, wanted: bool, tmp_path: Path
) -> None:
    text = change(
        HOUSE,
        ("water-thermostat: { cores: [BK, BN],", f"water-thermostat: {{ cores: [{cores}], type: {sort},"),
    )
    assert ("point-without-protective-conductor" in rules_of(text, tmp_path)) is wanted


def test_a_box_that_says_nothing_does_not_hide_the_next(tmp_path: Path) -> None:
    """Of two boxes only the second says how many conductors a terminal takes."""
    text = change(
        HOUSE,
        (
            "  programmer: { kind: programmer",
            (
                "  second: { kind: wiring-centre, settings: { count: 2, conductors_per_terminal: 1 } }\n"
                "  programmer: { kind: programmer"
            ),
        ),
        (
            "\nzones:\n",
            (
                "  direct:\n"
                "    - { ends: [centre.H, second.1], core: BN, cable: riser }\n"
                "    - { ends: [centre.G, second.2], core: BU, cable: riser }\n"
                "    - { ends: [second.2, second.1], core: BK, cable: loose }\n\nzones:\n"
            ),
        ),
    )
    assert [finding.subject for finding in found(text, "too-many-conductors", tmp_path)] == [
        "second.1",
        "second.2",
    ]
