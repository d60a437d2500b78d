"""The volts solver on small circuits whose answer can be worked by hand."""

import pytest

from generator.circuit.model import Circuit
from generator.states.mains import HIGHEST_V
from generator.states.volts import Bands, solve_volts
from generator.states.volts_meter import (
    HIGH_IMPEDANCE,
    LOW_IMPEDANCE,
    incoming_earth,
    incoming_neutral,
    readings,
)
from generator.states.volts_network import load_ohm
from tests.circuits import Wire, house
from tests.stock import two_port

SPUR_TO_PUMP: tuple[Wire, ...] = (
    ("spur.L", "pump.L", "BN", "pump"),
    ("spur.N", "pump.N", "BU", "pump"),
    ("spur.E", "pump.E", "GNYE", "pump"),
)


def one_pump() -> Circuit:
    return house(devices={"spur": "fused-spur", "pump": "pump"}, conductors=SPUR_TO_PUMP)


def self_holding_relay() -> Circuit:
    return house(
        devices={"spur": "fused-spur", "relay": "relay"},
        conductors=[
            ("spur.L", "relay.11", "BN", "a"),
            ("relay.14", "relay.A1", "OG", "b"),
            ("spur.N", "relay.A2", "BU", "a"),
        ],
    )


def two_pumps_in_series() -> Circuit:
    return house(
        devices={"spur": "fused-spur", "first": "pump", "second": "pump"},
        conductors=[
            ("spur.L", "first.L", "BN"),
            ("first.N", "second.L", "BU"),
            ("spur.N", "second.N", "BU"),
        ],
    )


def test_load_impedance() -> None:
    pump = one_pump().loads[0]
    ohm = load_ohm(pump)
    current_a = 230 / ohm
    assert 230 * current_a.conjugate().real == pytest.approx(pump.watts)
    assert current_a.real / abs(current_a) == pytest.approx(pump.power_factor)
    assert ohm.imag > 0


def test_a_pump_runs() -> None:
    result = solve_volts(one_pump(), {})
    assert result.settled
    assert result.driven == {"pump.running": True}
    assert result.fed == {"pump.motor": True}
    assert result.load_volts["pump.motor"] == pytest.approx(229.8, abs=0.2)
    assert result.floating == ()
    assert result.closed == ("spur.fuse-way", "spur.neutral-way", "spur.earth-way")


def test_isolated_parts_float_and_read_nothing() -> None:
    circuit = one_pump()
    result = solve_volts(circuit, {"spur.isolator": False})
    assert result.driven == {"pump.running": False}
    assert set(result.floating) == {"spur.L", "spur.N", "pump.L", "pump.N"}
    shown = readings(circuit, result, HIGH_IMPEDANCE, circuit.nodes, to=incoming_earth(circuit))
    assert all(shown[node] == 0 for node in result.floating)
    assert shown["spur.mains-line"] == pytest.approx(230, abs=0.01)
    ends = ["spur.mains-line", "spur.N"]
    assert readings(circuit, result, HIGH_IMPEDANCE, ends, to="pump.L") == dict.fromkeys(ends, 0.0)


def test_a_lost_neutral_reads_near_supply() -> None:
    circuit = house(devices={"spur": "fused-spur", "pump": "pump"}, conductors=SPUR_TO_PUMP[:1])
    result = solve_volts(circuit, {})
    assert result.driven == {"pump.running": False}
    assert "pump.N" not in result.floating
    ohm = load_ohm(circuit.loads[0])
    for meter in (HIGH_IMPEDANCE, LOW_IMPEDANCE):
        shown = readings(circuit, result, meter, ["pump.N"], to=incoming_neutral(circuit))
        assert shown["pump.N"] == pytest.approx(abs(230 * meter.ohm / (meter.ohm + ohm)), abs=0.1)


def test_a_meter_between_two_lost_ends_sees_both_loads() -> None:
    """From the neutral end of a pump without neutral to the line end of one without line: the meter is in series with both."""
    circuit = house(
        devices={"spur": "fused-spur", "first": "pump", "second": "pump"},
        conductors=[("spur.L", "first.L", "BN", "a"), ("spur.N", "second.N", "BU", "b")],
    )
    result = solve_volts(circuit, {})
    first, second = (load_ohm(load) for load in circuit.loads)
    for meter in (HIGH_IMPEDANCE, LOW_IMPEDANCE):
        for near, to in (("first.N", "second.L"), ("second.L", "first.N")):
            shown = readings(circuit, result, meter, [near], to=to)
            by_hand = abs(230 * meter.ohm / (meter.ohm + first + second))
            assert shown[near] == pytest.approx(by_hand, abs=0.1)


def test_a_meter_across_the_middle_one_of_three_loads_in_series() -> None:
    """Three alike: a third of the supply, behind two thirds of one (one beside the other two)."""
    names = ("first", "second", "third")
    circuit = house(
        devices={"spur": "fused-spur", **dict.fromkeys(names, "pump")},
        conductors=[
            ("spur.L", "first.L", "BN", "a"),
            ("first.N", "second.L", "BN", "b"),
            ("second.N", "third.L", "BN", "c"),
            ("third.N", "spur.N", "BU", "d"),
        ],
    )
    result = solve_volts(circuit, {})
    ohm = load_ohm(circuit.loads[0])
    for meter in (HIGH_IMPEDANCE, LOW_IMPEDANCE):
        shown = readings(circuit, result, meter, ["second.L"], to="second.N")
        by_hand = abs(230 / 3 * meter.ohm / (meter.ohm + ohm * 2 / 3))
        assert shown["second.L"] == pytest.approx(by_hand, abs=0.1)


def test_loads_in_series_are_uncertain_and_stay_as_they_were() -> None:
    circuit = two_pumps_in_series()
    at_rest = solve_volts(circuit, {})
    assert at_rest.uncertain == ("first.motor", "second.motor")
    assert at_rest.driven == {"first.running": False, "second.running": False}
    assert at_rest.load_volts["first.motor"] == pytest.approx(115, abs=0.2)
    running = solve_volts(circuit, {}, start={"first.running": True, "second.running": True})
    assert running.driven == {"first.running": True, "second.running": True}
    assert running.settled
    assert solve_volts(circuit, {}, bands=Bands(drive_v=110)).driven == running.driven
    assert not solve_volts(circuit, {}, bands=Bands(release_v=120)).uncertain


def test_the_very_volts_of_a_limit() -> None:
    """With the volts it needs a load works; with no more than those at which it lets go it does not stay."""
    circuit = two_pumps_in_series()
    volts = min(solve_volts(circuit, {}).load_volts.values())
    assert all(solve_volts(circuit, {}, bands=Bands(drive_v=volts)).driven.values())
    before = {"first.running": True, "second.running": True}
    for release_v, stays in (
        (volts - 0.01, True),
        (max(solve_volts(circuit, {}).load_volts.values()), False),
    ):
        held = solve_volts(circuit, {}, start=before, bands=Bands(release_v=release_v))
        assert list(held.driven.values()) == [stays, stays]


def test_what_nobody_knows_is_taken_as_not_so_unless_asked() -> None:
    circuit = two_port({"hall": "heating"}, valve={"lever": "unknown"})
    assert not solve_volts(circuit, {"hall-valve.lever": True}).driven["boiler.firing"]


def test_a_relay_that_cuts_its_own_coil_hunts() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "relay": "relay"},
        conductors=[
            ("spur.L", "relay.11", "BN", "a"),
            ("relay.12", "relay.A1", "OG", "b"),
            ("spur.N", "relay.A2", "BU", "a"),
        ],
    )
    result = solve_volts(circuit, {})
    assert not result.settled
    assert result.hunting == ("relay.pulled-in", "relay.coil")


def test_a_relay_that_holds_itself_remembers() -> None:
    circuit = self_holding_relay()
    assert solve_volts(circuit, {}).driven == {"relay.pulled-in": False}
    assert solve_volts(circuit, {}, start={"relay.pulled-in": True}).driven == {"relay.pulled-in": True}
    off = solve_volts(circuit, {"spur.isolator": False}, start={"relay.pulled-in": True})
    assert off.driven == {"relay.pulled-in": False}


@pytest.mark.parametrize(
    ("lever", "unsure", "makes"),
    [
        ("makes", False, True),
        ("does not make", True, False),
        ("unknown", False, False),
        ("unknown", True, True),
    ],
)
def test_a_latched_lever(lever: str, unsure: bool, makes: bool) -> None:
    circuit = two_port({"hall": "heating"}, valve={"lever": lever})
    result = solve_volts(circuit, {"hall-valve.lever": True}, unsure=unsure)
    assert result.driven["hall-valve.open"]
    assert result.driven["hall-valve.end-switch"] is makes
    assert result.driven["boiler.firing"] is makes


def test_two_supplies_are_in_phase_and_share_their_earth() -> None:
    circuit = house(
        devices={
            "spur": "fused-spur",
            "other": ("fused-spur", {"feeds": "immersion heater"}),
            "pump": "pump",
        },
        conductors=SPUR_TO_PUMP,
    )
    result = solve_volts(circuit, {})
    shown = readings(circuit, result, HIGH_IMPEDANCE, ["other.L", "other.N", "other.E"], to="spur.L")
    assert shown["other.L"] == pytest.approx(0, abs=0.3)
    assert shown["other.N"] == pytest.approx(230, abs=0.3)
    assert shown["other.E"] == pytest.approx(230, abs=0.3)


def test_supply_voltage_is_taken_as_given() -> None:
    result = solve_volts(one_pump(), {}, supply_v=HIGHEST_V)
    assert result.supply_v == HIGHEST_V
    assert result.load_volts["pump.motor"] == pytest.approx(HIGHEST_V, abs=0.2)


def test_unknown_names_are_refused() -> None:
    circuit = self_holding_relay()
    with pytest.raises(KeyError):
        solve_volts(circuit, {"spur.switch": True})
    with pytest.raises(KeyError):
        solve_volts(circuit, {}, start={"relay.coil": True})
    with pytest.raises(KeyError):
        readings(circuit, solve_volts(circuit, {}), HIGH_IMPEDANCE, ["relay.99"], to="spur.N")
