"""What stands before an unvented cylinder, its supply lost: Approved Document G, 3.30 and 3.31."""

from pathlib import Path

import pytest

from generator.catalogue.kind import Duty
from generator.findings.finding import Severity
from generator.rules.example_house import UNVENTED
from generator.rules.example_three_port import MID_POSITION, MID_POSITION_UNVENTED
from generator.rules.hot_water import coil_paths
from generator.rules.rule import Subject
from generator.rules.valve_mechanism import never_both, open_without_supply
from generator.states.solve import solve
from generator.states.timeline import moment_in, run
from tests.circuits import house
from tests.rules.examples import examined

MECHANISMS = {
    "two-port-valve": ({}, {"open": False}),
    "normally open": ({"rests": "open"}, {"open": True}),
    "motor-open-motor-close-valve": ({}, {"open": True}),
    "three-port-mid-position-valve": ({}, {"open-heating": False, "open-water": True}),
    "three-port-diverter-valve": ({}, {"open-heating": False, "open-water": True}),
}


@pytest.mark.parametrize("name", MECHANISMS)
def test_what_each_valve_does_without_supply(name: str) -> None:
    """3.31: a valve that the cut-out works through must interrupt the energy if its supply is lost."""
    settings, expected = MECHANISMS[name]
    kind = "two-port-valve" if name == "normally open" else name
    valve = house(devices={"valve": (kind, settings)}).device("valve")
    assert {part: open_without_supply(valve, f"valve.{part}") for part in expected} == expected


def test_which_valves_have_both_outlets_open_at_once() -> None:
    valves = house(
        devices={
            "mid": "three-port-mid-position-valve",
            "diverter": "three-port-diverter-valve",
            "two": "two-port-valve",
        }
    )
    assert {d.name: never_both(d) for d in valves.devices} == {"mid": False, "diverter": True, "two": False}


@pytest.mark.parametrize("record", [UNVENTED, MID_POSITION_UNVENTED], ids=["two-port", "mid-position"])
def test_supply_lost_shuts_the_way_to_every_unvented_cylinder(record: str, tmp_path: Path) -> None:
    """3.31, in every state of the controls and from every state in which the cylinder was being heated."""
    examination = examined(record, tmp_path)
    solution, circuit = examination.solution, examination.circuit
    assert solution is not None
    assert circuit is not None
    assert examination.findings == ()
    lost = solve(circuit, {"spur.isolator": False})
    assert lost.hunting == 0
    for answer in lost.answers:
        assert answer.on["water-valve.open"] == 0
    heated = solution.settled.on["water-valve.open"]
    assert heated
    for state in range(solution.space.size):
        if heated >> state & 1:
            start = moment_in(solution, solution.settled, state)
            timeline = run(circuit, start, [(0.0, {"spur.isolator": False})])
            assert timeline.quiet
            assert not timeline.end.driven["water-valve.open"]


def test_cut_out_shuts_the_valve_in_series(tmp_path: Path) -> None:
    """3.30: the cut-out acts through the motorised valve on the primary flow."""
    circuit = examined(MID_POSITION_UNVENTED, tmp_path).circuit
    assert circuit is not None
    tripped = solve(circuit, {"cylinder.cut-out": True})
    assert all(answer.on["water-valve.open"] == 0 for answer in tripped.answers)


@pytest.mark.parametrize("kind", ["three-port-mid-position-valve", "three-port-diverter-valve"])
def test_three_port_alone_is_dangerous(kind: str, tmp_path: Path) -> None:
    record = MID_POSITION.replace(
        "settings: { system: vented }", "settings: { system: unvented, cut_out: wired, relief_valve: seen }"
    )
    if kind == "three-port-diverter-valve":
        record = (
            record.replace("three-port-mid-position-valve", kind)
            .replace("        - { to: valve.out, core: OG }\n", "")
            .replace("{ to: valve.water-off, core: GY }", "{ to: valve.motor, core: GY }")
            .replace("        - { to: valve.heat, core: WH }\n", "")
        )
    found = {finding.rule: finding for finding in examined(record, tmp_path).findings}
    assert found["three-port-alone-on-unvented"].severity is Severity.DANGER
    assert "unvented-valve-does-not-shut" not in found


def test_valve_in_series_is_understood(tmp_path: Path) -> None:
    """The hot water zone names the two-port valve, the circuit the three-port one: both stand in the way."""
    examination = examined(MID_POSITION_UNVENTED, tmp_path)
    assert examination.solution is not None
    assert examination.circuit is not None
    assert examination.record is not None
    subject = Subject(
        record=examination.record,
        circuit=examination.circuit,
        places=examination.loaded.document.places,  # type: ignore[union-attr]
        solution=examination.solution,
        today=examination.record.sure.on,
        folder=None,
    )
    assert coil_paths(subject) == (("valve.open-water", "water-valve.open"),)
    assert len(examination.circuit.with_duty(Duty.VALVE)) == 2
