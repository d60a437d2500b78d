"""Ghost voltages by the divider worked by hand, and that they appear only where they can."""

from dataclasses import replace
from math import pi

import pytest

from generator.catalogue.parts import DeviceParts, Role, Sense, Terminal
from generator.circuit.model import Circuit
from generator.states.ghost import CORE_TO_CORE_F, Ghost, ghosts
from generator.states.mains import NOMINAL_V
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, LOW_IMPEDANCE, Meter, incoming_neutral
from tests.circuits import Wire, house

METERS = (HIGH_IMPEDANCE, Meter(words="1 M", ohm=1e6), Meter(words="10 k", ohm=10e3), LOW_IMPEDANCE)
ENDS = DeviceParts(terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT) for n in "123"))


def cord(
    length_m: float | None, *, earth: bool = True, live: bool = True, far: DeviceParts = ENDS
) -> Circuit:
    """A cord with an open core, a core on the line, and a core on earth or none."""
    wires: list[Wire] = [("box.2", "far.2", "BK", "cord")]
    wires += [("spur.L", "far.1", "BN", "cord")] if live else []
    wires += [("spur.E", "far.3", "GNYE", "cord")] if earth else []
    return house(
        devices={"spur": "fused-spur", "box": ENDS, "far": far},
        conductors=wires,
        cables={"cord": {} if length_m is None else {"length_m": length_m}},
    )


def seen(circuit: Circuit, *, isolated: bool = False) -> tuple[Ghost, ...]:
    result = solve_volts(circuit, {"spur.isolator": not isolated})
    return ghosts(circuit, result, METERS, to=incoming_neutral(circuit))


@pytest.mark.parametrize(
    ("length_m", "to_earth", "alone", "one_megohm", "ten_kilohm", "three_kilohm"),
    [
        (1, 61, 69, 7.2, 0.07, 0.02),
        (5, 110, 194, 34, 0.36, 0.11),
        (10, 114, 219, 61, 0.72, 0.22),
        (20, 115, 227, 90, 1.45, 0.43),
    ],
)
def test_the_divider_by_length(
    length_m: float, to_earth: float, alone: float, one_megohm: float, ten_kilohm: float, three_kilohm: float
) -> None:
    """Worked by hand from 100 pF a metre (from memory); columns as 10 megohm with and without a core on earth."""
    (ghost,) = seen(cord(length_m))
    assert ghost.refs == ("box.2", "far.2")
    assert ghost.cables == ("cord",)
    assert (ghost.longest_m, ghost.assumed) == (length_m, False)
    worked = (to_earth, one_megohm, ten_kilohm, three_kilohm)
    for shown, by_hand in zip(ghost.volts, worked, strict=True):
        assert shown == pytest.approx(by_hand, rel=0.02, abs=0.006)
    (ghost,) = seen(cord(length_m, earth=False))
    assert ghost.volts[0] == pytest.approx(alone, rel=0.01)


@pytest.mark.parametrize("length_m", [1, 2, 5, 10, 20])
def test_the_range_that_is_told_of(length_m: float) -> None:
    """60 to 120 V on a high-impedance meter, and nothing worth the name on a low one: common practice, no source."""
    (ghost,) = seen(cord(length_m))
    assert 60 <= ghost.volts[0] <= 120
    assert ghost.volts[-1] < 2


def test_the_formula() -> None:
    farad = 100e-12 * 7
    (ghost,) = seen(cord(7))
    reactive, meter = 2j * pi * 50 * farad, 1 / 10e6
    assert ghost.volts[0] == pytest.approx(NOMINAL_V * abs(reactive / (2 * reactive + meter)), rel=1e-3)


def test_an_unrecorded_length_is_said_to_be_assumed() -> None:
    (ghost,) = seen(cord(None))
    assert (ghost.longest_m, ghost.assumed) == (5.0, True)
    assert ghost.volts[0] == pytest.approx(110, abs=1)


def test_only_a_core_of_more_than_100_volts_counts_as_live() -> None:
    circuit = cord(5)
    for supply_v, count in ((99.5, 0), (100.5, 1)):
        result = solve_volts(circuit, {}, supply_v=supply_v)
        assert len(ghosts(circuit, result, METERS, to=incoming_neutral(circuit))) == count


def pick_up(farad: float, ohm: float, live_v: float = NOMINAL_V) -> float:
    """What a meter shows behind one capacitor to a live core."""
    siemens = 2j * pi * 50 * farad
    return live_v * abs(siemens / (siemens + 1 / ohm))


def test_two_open_cores_that_are_joined_pick_up_as_one() -> None:
    """Twice the capacitance to the live core, and none between each other."""
    circuit = house(
        devices={"spur": "fused-spur", "box": ENDS, "far": ENDS},
        conductors=[
            ("box.2", "far.2", "BK", "cord"),
            ("box.2", "far.3", "GY", "cord"),
            ("spur.L", "far.1", "BN", "cord"),
        ],
        cables={"cord": {"length_m": 3}},
    )
    (ghost,) = seen(circuit)
    assert ghost.refs == ("box.2", "far.2", "far.3")
    for shown, meter in zip(ghost.volts, METERS, strict=True):
        assert shown == pytest.approx(pick_up(2 * 3 * CORE_TO_CORE_F, meter.ohm), rel=2e-3)


def test_a_core_that_goes_on_in_another_cable_picks_up_in_both() -> None:
    """3 m beside a live core, and in a cable of unrecorded length beside it again: that is told as assumed."""
    circuit = house(
        devices={"spur": "fused-spur", "box": ENDS, "far": ENDS},
        conductors=[
            ("box.2", "far.2", "BK", "cord"),
            ("spur.L", "far.1", "BN", "cord"),
            ("far.2", "box.3", "BK", "other"),
            ("far.1", "box.1", "BN", "other"),
        ],
        cables={"cord": {"length_m": 3}, "other": {}},
    )
    (ghost,) = seen(circuit)
    assert ghost.refs == ("box.2", "box.3", "far.2")
    assert ghost.cables == ("cord", "other")
    assert (ghost.longest_m, ghost.assumed) == (5.0, True)
    assert ghost.volts[0] == pytest.approx(pick_up((3 + 5) * CORE_TO_CORE_F, 10e6), rel=2e-3)


def test_two_open_cores_pass_on_to_each_other() -> None:
    """Three capacitors in a ring from the live core: on each of the open ones nearly the whole, since nothing leads away."""
    circuit = house(
        devices={"spur": "fused-spur", "box": ENDS, "far": ENDS},
        conductors=[
            ("box.2", "far.2", "BK", "cord"),
            ("box.3", "far.3", "GY", "cord"),
            ("spur.L", "far.1", "BN", "cord"),
        ],
        cables={"cord": {"length_m": 3}},
    )
    found = seen(circuit)
    assert [ghost.refs for ghost in found] == [("box.2", "far.2"), ("box.3", "far.3")]
    siemens = 2j * pi * 50 * 3 * CORE_TO_CORE_F
    for ghost in found:
        for shown, meter in zip(ghost.volts, METERS, strict=True):
            # To the live core at once, and by way of the other open core: C and half of C.
            assert shown == pytest.approx(
                NOMINAL_V * abs(1.5 * siemens / (1.5 * siemens + 1 / meter.ohm)), rel=2e-3
            )


def test_measured_to_the_live_core_beside_it_there_is_nothing() -> None:
    """The open core has the volts of the live one; with a core on earth as well it has half of them."""
    alone, earthed = cord(5, earth=False), cord(5)
    for circuit, volts in ((alone, 0.0), (earthed, NOMINAL_V)):
        result = solve_volts(circuit, {})
        (ghost,) = ghosts(circuit, result, METERS, to="spur.L")
        reactive, meter = 2j * pi * 50 * 5 * CORE_TO_CORE_F, 1 / 10e6
        by_hand = volts * abs(reactive / (2 * reactive + meter))
        assert ghost.volts[0] == pytest.approx(by_hand, abs=0.2)


def test_the_order_of_the_cores_changes_nothing() -> None:
    circuit = cord(5)
    turned = replace(circuit, conductors=circuit.conductors[::-1])
    assert [ghost.volts for ghost in seen(turned)] == [pytest.approx(ghost.volts) for ghost in seen(circuit)]


def test_none_where_nothing_beside_it_is_live() -> None:
    assert seen(cord(5, live=False)) == ()
    assert seen(cord(5), isolated=True) == ()


def test_none_on_a_circuit_with_a_source_of_its_own() -> None:
    demand = DeviceParts(terminals=ENDS.terminals, senses=(Sense(name="s", a="2", b="3", volts=24, ohm=5e3),))
    assert seen(cord(5, earth=False, far=demand)) == ()
