"""Points asked about by joins, sensing sources, phases, and diodes left out: the volts solver by hand-worked answers."""

from cmath import rect
from dataclasses import replace
from math import pi, sqrt

import pytest

from generator.catalogue.logic import ALWAYS, Any, Back, Is, Joined, Live
from generator.catalogue.parts import (
    Contact,
    DeviceParts,
    Diode,
    Driven,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Sense,
    Supply,
    Terminal,
)
from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_neutral, readings
from tests.circuits import house
from tests.second_method.netlist import Reading, sensed_volts, shown_volts


def terminals(*names: str, role: Role = Role.CONTACT) -> tuple[Terminal, ...]:
    return tuple(Terminal(name=name, words=name, role=role, needed=False) for name in names)


def part(name: str, when: Live | Back | Joined) -> Driven:
    return Driven(name=name, words=name, on_words="on", off_words="off", when=when)


PROBE = DeviceParts(
    terminals=terminals("1", "2"),
    driven=(part("live", Live("1")), part("back", Back("1")), part("joined", Joined("1", "2"))),
)
SWITCH = DeviceParts(
    terminals=terminals("1", "2"),
    inputs=(
        Input(name="way", words="way", on_words="on", off_words="off", kind=InputKind.CHANNEL),
        Input(name="call", words="call", on_words="on", off_words="off", kind=InputKind.CHANNEL),
    ),
    contacts=(Contact(name="make", words="make", a="1", b="2", when=Any((Is("way"), Is("call")))),),
)
DEMAND = DeviceParts(
    terminals=terminals("1", "2", role=Role.EXTRA_LOW),
    senses=(Sense(name="input", a="1", b="2", volts=24.0, ohm=4700.0),),
    driven=(part("firing", Joined("1", "2")),),
)


def probed(first: str, second: str) -> Circuit:
    return house(
        devices={"spur": "fused-spur", "probe": PROBE, "switch": SWITCH, "pump": "pump"},
        conductors=[
            (first, "probe.1", "BK", "a"),
            (second, "probe.2", "GY", "a"),
            ("spur.L", "switch.1", "BN", "b"),
            ("switch.2", "pump.L", "OG", "b"),
        ],
    )


@pytest.mark.parametrize(
    ("first", "second", "on", "driven"),
    [
        ("spur.L", "spur.N", False, (True, False, False)),
        ("spur.N", "spur.E", False, (False, True, False)),
        ("spur.E", "spur.N", False, (False, True, False)),
        ("switch.2", "spur.L", False, (False, False, False)),
        ("switch.2", "spur.L", True, (True, False, True)),
        # The neutral side of a pump whose neutral is lost has all the volts, and none of the metal.
        ("pump.N", "pump.L", True, (False, False, False)),
    ],
)
def test_parts_that_ask_what_points_are_joined_to(
    first: str, second: str, on: bool, driven: tuple[bool, bool, bool]
) -> None:
    circuit = probed(first, second)
    inputs = {"switch.way": on}
    result = solve_volts(circuit, inputs)
    shown = tuple(result.driven[f"probe.{name}"] for name in ("live", "back", "joined"))
    assert shown == driven
    solution = solve(circuit)
    state = solution.space.state(name for name, value in inputs.items() if value)
    assert {name: bool(v >> state & 1) for name, v in solution.settled.on.items()} == result.driven


def volt_free() -> Circuit:
    return house(
        devices={"spur": "fused-spur", "switch": SWITCH, "boiler": DEMAND},
        conductors=[("switch.1", "boiler.1", "BK", "a"), ("switch.2", "boiler.2", "WH", "a")],
    )


@pytest.mark.parametrize("on", [False, True])
def test_a_volt_free_input_senses_apart_from_mains(on: bool) -> None:
    circuit = volt_free()
    result = solve_volts(circuit, {"switch.call": on})
    assert result.driven == {"boiler.firing": on}
    assert set(result.floating) == {"switch.1", "switch.2", "boiler.1", "boiler.2"}
    # Two cores of 0.01 ohm and a contact of 0.01 ohm across 4,700 ohm.
    assert result.sensed["boiler.input"] == pytest.approx(24 * 0.03 / 4700 if on else 24.0, abs=1e-6)


@pytest.mark.simulator
@pytest.mark.parametrize("on", [False, True])
def test_a_volt_free_input_against_ngspice(on: bool) -> None:
    circuit = volt_free()
    result = solve_volts(circuit, {"switch.call": on})
    theirs = sensed_volts(circuit, frozenset(result.closed))
    assert result.sensed["boiler.input"] == pytest.approx(theirs["boiler.input"], abs=1e-4)


def test_two_volt_free_inputs_each_at_rest_for_the_other() -> None:
    """In parallel, of 4,700 and 2,350 ohm inside: each has a third or two thirds of its volts left."""
    other = replace(DEMAND, senses=(Sense(name="input", a="1", b="2", volts=12.0, ohm=2350.0),), driven=())
    circuit = house(
        devices={"spur": "fused-spur", "boiler": DEMAND, "other": other},
        conductors=[("other.1", "boiler.1", "BK", "a"), ("other.2", "boiler.2", "WH", "a")],
    )
    sensed = solve_volts(circuit, {}).sensed
    assert sensed["boiler.input"] == pytest.approx(24 / 3, abs=1e-3)
    assert sensed["other.input"] == pytest.approx(12 * 2 / 3, abs=1e-3)


def test_a_volt_free_input_with_a_lamp_from_either_terminal_to_the_neutral() -> None:
    """Two lamps of 2,350 ohm in series across 4,700 ohm inside: half of its volts are left."""
    lamps = DeviceParts(
        terminals=terminals("1", "2", "N"),
        loads=tuple(
            Load(name=n, words=n, a=n, b="N", watts=230**2 / 2350, power_factor=1, kind=LoadKind.LAMP)
            for n in ("1", "2")
        ),
    )
    circuit = house(
        devices={"spur": "fused-spur", "boiler": DEMAND, "lamps": lamps},
        conductors=[
            ("lamps.1", "boiler.1", "BK", "a"),
            ("lamps.2", "boiler.2", "WH", "a"),
            ("lamps.N", "spur.N", "BU", "b"),
        ],
    )
    result = solve_volts(circuit, {})
    assert result.floating == ()
    assert result.sensed["boiler.input"] == pytest.approx(12.0, abs=1e-3)


def test_mains_on_a_volt_free_input_passes_its_inner_resistance() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "boiler": DEMAND},
        conductors=[("spur.L", "boiler.1", "BN", "a"), ("spur.N", "boiler.2", "BU", "a")],
    )
    result = solve_volts(circuit, {})
    assert result.floating == ()
    assert abs(result.volts["boiler.1"] - result.volts["boiler.2"]) == pytest.approx(229.9, abs=0.1)
    assert not result.driven["boiler.firing"]
    assert result.sensed["boiler.input"] < 0.1


def two_phases(phase: int) -> Circuit:
    other = DeviceParts(
        terminals=terminals("L", "N", "E"),
        supplies=(Supply(name="mains", line="L", neutral="N", earth="E", phase=phase),),
    )
    return house(devices={"spur": "fused-spur", "other": other, "load": SWITCH})


def test_each_phase_comes_a_third_of_a_cycle_after_the_one_before() -> None:
    for phase in (1, 2, 3):
        volts = solve_volts(two_phases(phase), {}).volts["other.L"]
        assert volts == pytest.approx(rect(230, -2 * pi * (phase - 1) / 3), abs=0.01)


def test_the_lines_of_two_phases_have_the_root_of_three_between_them() -> None:
    for phase, between in ((1, 0.0), (2, 230 * sqrt(3)), (3, 230 * sqrt(3))):
        circuit = two_phases(phase)
        result = solve_volts(circuit, {})
        shown = readings(circuit, result, HIGH_IMPEDANCE, ["other.L"], to="spur.L")
        assert shown["other.L"] == pytest.approx(between, abs=0.1)


@pytest.mark.simulator
@pytest.mark.parametrize(
    ("phase", "between"), [(1, 0.0), (2, 230 * sqrt(3)), (3, 230 * sqrt(3))], ids=["same", "second", "third"]
)
def test_two_phases_have_400_volts_between_their_lines(phase: int, between: float) -> None:
    circuit = two_phases(phase)
    result = solve_volts(circuit, {})
    ends = [("other.L", incoming_neutral(circuit)), ("other.L", "spur.L")]
    ours = [readings(circuit, result, HIGH_IMPEDANCE, [at], to=to)[at] for at, to in ends]
    assert ours == pytest.approx([230.0, between], abs=0.1)
    jobs = [Reading(frozenset(result.closed), at, to) for at, to in ends]
    assert shown_volts(circuit, jobs, HIGH_IMPEDANCE.ohm) == pytest.approx(ours, abs=0.01)


def test_a_diode_joins_nothing_for_phasors() -> None:
    half = DeviceParts(
        terminals=terminals("1", "2", "N"),
        loads=(Load(name="m", words="m", a="2", b="N", watts=6, power_factor=0.8, kind=LoadKind.MOTOR),),
        diodes=(Diode(name="d", words="d", anode="1", cathode="2", ohm=1000.0, when=ALWAYS),),
        driven=(part("live", Live("2")),),
    )
    circuit = house(
        devices={"spur": "fused-spur", "half": half},
        conductors=[("spur.L", "half.1", "BN", "a"), ("spur.N", "half.N", "BU", "a")],
    )
    result = solve_volts(circuit, {})
    assert not result.fed["half.m"]
    assert not result.driven["half.live"]
    assert abs(result.volts["half.2"]) < 0.1
