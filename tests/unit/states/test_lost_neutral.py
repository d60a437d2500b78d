"""The shared neutral of a house: which core it is, and what is read without it."""

from dataclasses import replace

import pytest

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.states.lost_neutral import lost_neutral, shared_neutral
from generator.states.volts_meter import HIGH_IMPEDANCE, LOW_IMPEDANCE, incoming_neutral
from tests.circuits import house
from tests.second_method.netlist import Reading, shown_volts
from tests.stock import demo_circuits, two_port


def two_zones() -> Circuit:
    return two_port({"hot-water": "hot water", "heating": "heating"})


def test_it_is_the_core_from_the_supply_to_the_wiring_centre() -> None:
    found = shared_neutral(two_zones())
    assert found is not None
    conductor, refs = found
    assert {conductor.a, conductor.b} == {"spur.N", "centre.G"}
    assert set(refs) == {
        *("centre.G", "programmer.N", "hot-water-valve.N", "heating-valve.N", "boiler.N", "pump.N"),
    }


def test_everything_after_it_reads_the_supply_and_nothing_runs() -> None:
    found = lost_neutral(two_zones(), {}, HIGH_IMPEDANCE)
    assert found is not None
    assert found.volts == pytest.approx(230, abs=0.5)
    assert not any(found.result.driven.values())
    low = lost_neutral(two_zones(), {}, LOW_IMPEDANCE)
    assert low is not None
    # At rest only the clock of the programmer, some 26 kilohm, feeds the tester.
    assert 50 < low.volts < 100


def test_loads_with_a_neutral_each_share_none() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "first": "pump", "second": "pump"},
        conductors=[
            ("spur.L", "first.L", "BN"),
            ("spur.N", "first.N", "BU"),
            ("spur.L", "second.L", "BN", "second"),
            ("spur.N", "second.N", "BU", "second"),
        ],
    )
    assert shared_neutral(circuit) is None
    assert lost_neutral(circuit, {}, HIGH_IMPEDANCE) is None


@pytest.mark.simulator
@pytest.mark.parametrize("name", demo_circuits())
def test_against_ngspice_with_everything_on(name: str) -> None:
    circuit = demo_circuits()[name]
    found = lost_neutral(circuit, {item.name: True for item in circuit.called_inputs}, HIGH_IMPEDANCE)
    if found is None:
        assert not circuit.with_duty(Duty.CENTRE)
        return
    without = replace(circuit, conductors=tuple(c for c in circuit.conductors if c is not found.conductor))
    job = Reading(frozenset(found.result.closed), found.refs[0], incoming_neutral(circuit))
    assert shown_volts(without, [job], HIGH_IMPEDANCE.ohm)[0] == pytest.approx(found.volts, abs=0.23)
