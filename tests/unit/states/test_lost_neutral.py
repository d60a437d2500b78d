"""The shared neutral of a house: which core it is, and what is read without it."""

from dataclasses import replace

import pytest

from generator.catalogue.kind import Duty
from generator.catalogue.logic import ALWAYS
from generator.catalogue.parts import Contact, DeviceParts, Load, LoadKind, Role, Supply, Terminal
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


TWO_LOADS = DeviceParts(
    terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in "LN"),
    loads=tuple(
        Load(name=n, words=n, a="L", b="N", watts=5, power_factor=1, kind=LoadKind.LAMP) for n in ("x", "y")
    ),
)


def test_two_loads_on_one_terminal_share_it() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "box": TWO_LOADS},
        conductors=[("spur.L", "box.L", "BN", "a"), ("box.N", "spur.N", "BU", "a")],
    )
    found = lost_neutral(circuit, {}, HIGH_IMPEDANCE)
    assert found is not None
    assert found.refs == ("box.N",)
    assert found.conductor.core == "BU"
    assert found.volts == pytest.approx(230, abs=0.5)


def test_a_neutral_that_a_thermostat_switches_is_not_counted_on() -> None:
    """One pump on the wiring centre's neutral, and one behind a contact that may be open: none is shared."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            "centre": ("wiring-centre", {"terminals": ("A", "B")}),
            "stat": "room-thermostat",
            "first": "pump",
            "second": "pump",
        },
        conductors=[
            ("spur.N", "centre.A", "BU", "a"),
            ("centre.A", "first.N", "BU", "b"),
            ("centre.A", "stat.common", "BU", "c"),
            ("stat.call", "second.N", "BK", "c"),
        ],
    )
    assert shared_neutral(circuit) is None


@pytest.mark.parametrize(("a", "b"), [("mains", "N"), ("N", "mains")])
def test_the_switch_of_the_supply_is_taken_as_on_whichever_way_it_is_written(a: str, b: str) -> None:
    source = DeviceParts(
        terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in "LNE"),
        inner=("mains",),
        supplies=(Supply(name="s", line="L", neutral="mains", earth="E"),),
        contacts=(Contact(name="pole", words="pole", a=a, b=b, when=ALWAYS),),
    )
    circuit = house(
        devices={"source": source, "first": "pump", "second": "pump"},
        conductors=[("source.N", "first.N", "BU", "a"), ("first.N", "second.N", "BU", "b")],
    )
    found = shared_neutral(circuit)
    assert found is not None
    assert found[1] == ("first.N", "second.N")
    assert found[0].cable == "a"


def test_no_supply_has_no_neutral() -> None:
    assert shared_neutral(house(devices={"pump": "pump"})) is None


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
