"""Cylinders and the steps a tenant may take, held against what is published on hot water storage.

Approved Document G (Sanitation, hot water safety and water efficiency), 3.24, 3.30 and 3.31, 2015 edition with 2016 amendments.
"""

from dataclasses import replace
from datetime import date
from functools import cache
from typing import Any

import pytest

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.faults.every_fault import every_fault
from generator.findings.finding import Severity
from generator.overrides.model import Caution, Move, Overrides, Reason, Sign
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import Examination, examine
from generator.states.solve import solve
from tests.second_method.walked_house import WalkedHouse
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 25)
WARNED = Policy(vented_lever="with a warning")
UNVENTED = ("EB-0027", "EB-0101", "EB-0115", "EB-0153", "EB-0167", "FW-01", "FW-02", "FW-03", "FW-04")
VENTED = ("EB-0041", "EB-0052", "EB-0066")
COIL = "cylinder coil"


@cache
def examined(name: str) -> Examination:
    return examine(PROPERTIES / f"{name}.yaml", today=TODAY)


def circuit_of(name: str) -> Circuit:
    found = examined(name).circuit
    assert found is not None
    return found


@cache
def found(name: str, policy: Policy = WARNED) -> Overrides:
    return overrides(examined(name).solution, examined(name).findings, policy)


def coil_levers(circuit: Circuit) -> set[str]:
    names = {item.name for item in circuit.inputs}
    return {f"{c.valve}.lever" for c in circuit.water.circuits if c.feeds == COIL} & names


def steps(of: Overrides) -> list[Any]:
    inside = [step for each in of.instructions for attempt in each.attempts for step in attempt.steps]
    return inside + [step for plan in of.plans for step in plan.steps]


@pytest.mark.parametrize("name", UNVENTED)
def test_3_30_no_lever_of_an_unvented_cylinder_whatever_the_firm_allows(name: str) -> None:
    """3.30: the cut-out may act by a motorised valve; latched open, the valve cannot act."""
    levers = coil_levers(circuit_of(name))
    latched = {step.input for step in steps(found(name)) if step.move is Move.LEVER_LATCHED}
    assert not levers & latched


@pytest.mark.parametrize("name", UNVENTED)
def test_3_31_a_tripped_cut_out_shuts_the_valve_and_a_latched_lever_defeats_it(name: str) -> None:
    """3.31: the valve must interrupt the heat if its supply is lost. Seen with the lever at rest, and latched: the reason for the rule."""
    circuit = circuit_of(name)
    trips = [
        item.name
        for device in circuit.devices
        if device.duty in {Duty.CYLINDER, Duty.CYLINDER_THERMOSTAT}
        for item in device.parts.inputs
        if item.kind is InputKind.TRIP
    ]
    coils = [c.opens for c in circuit.water.circuits if c.feeds == COIL and not c.source]
    assert trips
    for unsure in (False, True):
        tripped = solve(circuit, dict.fromkeys(trips, True), unsure=unsure)
        for answer in tripped.answers:
            assert not any(answer.on[part] & answer.at for part in coils)
    if not coil_levers(circuit):
        return
    latched = solve(circuit, {trips[0]: True, **dict.fromkeys(coil_levers(circuit), True)})
    assert all(latched.settled.on[part] & latched.settled.at for part in coils)


@pytest.mark.parametrize("name", UNVENTED)
def test_3_31_nothing_calls_the_boiler_where_the_valve_may_be_stuck_open(name: str) -> None:
    """With the valve stuck open neither tier that acts by it is left, so no step may make the boiler fire."""
    circuit = circuit_of(name)
    stuck = {
        f"{kind}:{c.valve}"
        for c in circuit.water.circuits
        if c.feeds == COIL
        for kind in ("stuck-driven", "stuck-without-switch")
    }
    fires = {Move.TIMER_ON, Move.ROOM_UP, Move.BOOST, Move.LEVER_LATCHED}
    for each in found(name).instructions:
        if stuck & set(each.proof.faults):
            assert not {s.move for a in each.attempts for s in a.steps} & fires, each.symptom.slug


@pytest.mark.parametrize("name", UNVENTED)
def test_3_24_no_part_of_a_cylinder_is_touched(name: str) -> None:
    """3.24: the user is warned to remove and adjust no part. No thermostat or cut-out of a cylinder is ever in a step."""
    circuit = circuit_of(name)
    parts = {
        device.name
        for device in circuit.devices
        if device.duty in {Duty.CYLINDER, Duty.CYLINDER_THERMOSTAT, Duty.IMMERSION}
    }
    assert not {step.device for step in steps(found(name))} & parts


@pytest.mark.parametrize("name", VENTED)
def test_vented_cylinders_are_warned_of_or_refused_as_the_firm_chose(name: str) -> None:
    """Common practice, no source: a latched valve heats the water past its thermostat whenever anything calls."""
    circuit = circuit_of(name)
    levers = coil_levers(circuit)
    plain, warned = found(name, Policy()), found(name)
    assert not levers & {s.input for s in steps(plain) if s.move is Move.LEVER_LATCHED}
    attempts = [a for each in warned.instructions for a in each.attempts]
    latching = [a for a in attempts if levers & {s.input for s in a.steps if s.move is Move.LEVER_LATCHED}]
    assert latching
    assert all({Caution.SCALD, Caution.TIME_LIMIT} <= set(a.cautions) for a in latching)
    water = [each for each in plain.instructions if each.symptom.sign is Sign.WATER_COLD]
    assert any(Reason.VENTED_POLICY in each.reasons for each in water)


@pytest.mark.parametrize("name", VENTED)
def test_the_uncontrolled_state_of_a_latched_vented_valve_is_there(name: str) -> None:
    """What the warning is for is seen by the second method too, with nothing failed."""
    circuit = circuit_of(name)
    house = WalkedHouse(circuit, found(name).services, unsure=False)
    faults = every_fault(solve(circuit))
    for lever in coil_levers(circuit):
        fault = next(each for each in faults if each.latched == lever)
        stepped = house.house(fault)
        states = house.start(stepped, lever)
        assert any(house.uncontrolled(stepped, state) for state in states)


def test_immersion_heaters_only_with_both_controls_tested() -> None:
    seen = set()
    for file in sorted(PROPERTIES.glob("*.yaml")):
        circuit = examined(file.stem).circuit
        heaters = circuit.with_duty(Duty.IMMERSION) if circuit else ()
        if not heaters:
            continue
        assert circuit is not None
        supplies = {
            end.split(".", 1)[0]
            for conductor in circuit.conductors
            for end in (conductor.a, conductor.b)
            if any(h.name in {conductor.a.split(".", 1)[0], conductor.b.split(".", 1)[0]} for h in heaters)
        } - {h.name for h in heaters}
        tested = all(
            getattr(h.settings, part) == "tested" for h in heaters for part in ("thermostat", "cut_out")
        )
        used = any(s.device in supplies and s.move is Move.SWITCH_ON for s in steps(found(file.stem)))
        seen.add(used)
        assert tested or not used, file.stem
    assert seen


def test_no_step_beside_a_solid_fuel_stove_or_with_a_danger_on_record() -> None:
    stove = found("EB-0175")
    assert stove.refused is Reason.SOLID_FUEL
    assert not stove.instructions
    for name in ("EB-0012", "EB-0130", "FW-01"):
        seen = examined(name)
        danger = [replace(finding, severity=Severity.DANGER) for finding in examined("EB-0071").findings[:1]]
        assert danger
        refused = overrides(seen.solution, danger, WARNED)
        assert refused.refused is Reason.DANGER
        assert not refused.instructions
        assert not refused.plans
