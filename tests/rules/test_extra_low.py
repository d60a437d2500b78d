"""Extra-low voltage, frost, and cut-outs in a dual thermostat: whole houses with one thing changed, judged by hand."""

from pathlib import Path

from generator.findings.finding import Severity
from generator.rules.example_house import FROST, HOUSE, UNVENTED, VOLT_FREE, change
from tests.rules.examples import examined, rules_of

_DANGER = "mains-on-extra-low-voltage"


def _severities(record: str, folder: Path) -> dict[str, Severity]:
    return {finding.rule: finding.severity for finding in examined(record, folder).findings}


def test_mains_by_one_side_of_the_contact(tmp_path: Path) -> None:
    """A relay whose common takes the permanent live puts 230 V on a volt-free input (common practice, no source)."""
    record = change(
        VOLT_FREE,
        ("    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n", ""),
        (
            "        - { to: boiler.L, core: BN }\n",
            "        - { to: boiler.L, core: BN }\n        - { to: relay.11, core: WH }\n",
        ),
    )
    found = [item for item in examined(record, tmp_path).findings if item.rule == _DANGER]
    (finding,) = found
    assert finding.severity is Severity.DANGER
    assert "`call-b`" in finding.message
    assert finding.holds == "whenever anything calls"


def test_neutral_on_it_is_an_error(tmp_path: Path) -> None:
    record = change(
        VOLT_FREE,
        ("    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n", ""),
        (
            "        - { to: boiler.N, core: BU }\n",
            "        - { to: boiler.N, core: BU }\n        - { to: boiler.call-a, core: BK, cable: demand }\n",
        ),
    )
    assert _severities(record, tmp_path)[_DANGER] is Severity.ERROR


def test_mains_with_a_lever_latched(tmp_path: Path) -> None:
    """An end switch used as a volt-free contact, its other side on the permanent live by mistake: found by its lever."""
    record = change(
        VOLT_FREE,
        (
            "water-valve: { kind: two-port-valve }",
            "water-valve: { kind: two-port-valve, settings: { lever: makes } }",
        ),
        ("        - { to: water-valve.switch-b, core: OG }\n", ""),
        ("        - { to: water-valve.motor, core: BN }\n", ""),
        (
            "    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n",
            (
                "    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n"
                "    - { ends: [water-valve.switch-b, boiler.call-a], core: OG }\n"
            ),
        ),
    )
    (finding,) = [item for item in examined(record, tmp_path).findings if item.rule == _DANGER]
    assert finding.holds.startswith("with the manual lever of the water valve latched open")


def test_bus_through_the_box_and_mains_elsewhere_is_sound(tmp_path: Path) -> None:
    """Two-wire bus straight to the boiler: nothing to say but what the volt-free house says."""
    assert examined(VOLT_FREE, tmp_path).findings == ()


_BUS = change(
    VOLT_FREE,
    ("settings: { demand: volt-free }", "settings: { demand: bus }"),
    ("  relay: { kind: relay }\n", "  relay: { kind: relay }\n  unit: { kind: bus-thermostat }\n"),
    (
        "    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n",
        "    - { ends: [boiler.bus-a, unit.bus-a], core: BK }\n",
    ),
    (
        "    - { ends: [boiler.call-b, relay.14], core: WH, cable: demand }\n",
        "    - { ends: [boiler.bus-b, unit.bus-b], core: WH }\n    - { ends: [unit.bus-a, unit.bus-b], core: RD }\n",
    ),
)


def test_bus_whose_wires_touch(tmp_path: Path) -> None:
    found = examined(_BUS, tmp_path).findings
    (finding,) = [item for item in found if item.rule == "demand-bridged"]
    assert "nothing is heard" in finding.message
    assert "control-changes-nothing" in {item.rule for item in found}


def test_frost_alone_is_no_call_too_many(tmp_path: Path) -> None:
    """Its valve, boiler and pump run by design (common practice, no source)."""
    done = examined(FROST, tmp_path)
    assert done.findings == ()
    assert done.solution is not None
    state = done.solution.space.state(["frost-thermostat.calling"])
    for part in ("heating-valve.open", "boiler.firing", "pump.running"):
        assert done.solution.settled.on[part] >> state & 1
    warm = done.solution.space.state(["frost-thermostat.calling", "pipe-thermostat.hot"])
    assert not done.solution.settled.on["boiler.firing"] >> warm & 1


_DUAL = change(
    UNVENTED,
    ("{ kind: cylinder-thermostat }", "{ kind: dual-thermostat }"),
    ("cut_out: wired", "cut_out: on the thermostat"),
    (
        "        - { to: water-thermostat.common, core: BN }\n",
        "        - { to: water-thermostat.cut-out-in, core: BN }\n",
    ),
    ("        - { to: cylinder.cut-out-in, core: BN }\n", ""),
    ("        - { to: cylinder.cut-out-out, core: BK }\n", ""),
    ("        - { to: water-thermostat.call, core: BK }\n", ""),
    (
        "      B2: # hot water calls, through the cut-out\n",
        "      B2: # hot water calls\n        - { to: water-thermostat.call, core: BK }\n",
    ),
    ("      B: # hot water calls\n", ""),
    (
        "\nzones:\n",
        "  links:\n    - { ends: [water-thermostat.cut-out-out, water-thermostat.common] }\n\nzones:\n",
    ),
)


def test_cut_out_in_a_dual_thermostat(tmp_path: Path) -> None:
    """It shuts the cylinder's valve, which shuts by its spring (Approved Document G, 3.30 and 3.31)."""
    assert rules_of(_DUAL, tmp_path) == set()


def test_dual_thermostat_past_its_cut_out(tmp_path: Path) -> None:
    """Line to the thermostat's common instead: the cut-out cuts nothing (Approved Document G, 3.28 to 3.31)."""
    record = change(
        _DUAL,
        ("water-thermostat.cut-out-in, core: BN", "water-thermostat.common, core: BN"),
        ("  links:\n    - { ends: [water-thermostat.cut-out-out, water-thermostat.common] }\n", ""),
    )
    assert _severities(record, tmp_path)["unvented-cut-out-does-nothing"] is Severity.DANGER


def test_no_dual_thermostat_there(tmp_path: Path) -> None:
    """The record says that the cut-out is in the thermostat's case, and the thermostat has none."""
    record = change(
        HOUSE,
        (
            "settings: { system: vented }",
            "settings: { system: unvented, cut_out: on the thermostat, relief_valve: seen }",
        ),
    )
    assert _severities(record, tmp_path)["unvented-without-cut-out"] is Severity.DANGER


def test_heat_pump_that_pasteurises(tmp_path: Path) -> None:
    cool = change(
        HOUSE, ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, settings: { set_c: 50 } }")
    )
    assert "stored-water-too-cool" in rules_of(cool, tmp_path)
    pump = (
        "boiler: { kind: boiler }",
        "boiler: { kind: heat-pump, settings: { demand: switched live, pasteurises: true } }",
    )
    assert "stored-water-too-cool" not in rules_of(change(cool, pump), tmp_path)
