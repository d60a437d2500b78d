"""Laws that the volts of any circuit obey, whatever solved them."""

from cmath import pi, rect
from collections.abc import Iterator
from math import sqrt

import pytest

from generator.catalogue.parts import Supply
from generator.circuit.model import Circuit
from generator.states.mains import EARTH_OHM, LINE_OHM, NEUTRAL_OHM
from generator.states.volts import VoltsResult, solve_volts
from generator.states.volts_network import CONTACT_OHM, conductor_ohms
from tests.second_method.states import telling_states
from tests.stock import demo_circuits

pytestmark = pytest.mark.parametrize("circuit", demo_circuits().values(), ids=demo_circuits())

COMMON = ""
SMALLEST_A = 1e-7


def line_volts(supply: Supply) -> complex:
    """The phasor of a supply: each phase lags the one before by a third of a turn."""
    return rect(supply.volts, -2 * pi * (supply.phase - 1) / 3)


def currents(circuit: Circuit, result: VoltsResult) -> Iterator[tuple[str, str, complex]]:
    """Every element as its two ends and the current from the first to the second."""
    at = {**result.volts, COMMON: 0j}
    for wire, ohm in zip(circuit.conductors, conductor_ohms(circuit), strict=True):
        yield wire.a, wire.b, (at[wire.a] - at[wire.b]) / ohm
    for contact in circuit.contacts:
        if contact.name in result.closed:
            yield contact.a, contact.b, (at[contact.a] - at[contact.b]) / CONTACT_OHM
    for load in circuit.loads:
        apparent_va = load.watts / load.power_factor
        reactive_va = sqrt(apparent_va**2 - load.watts**2)
        siemens = complex(load.watts, -reactive_va) / 230**2
        yield load.a, load.b, (at[load.a] - at[load.b]) * siemens
    for supply in circuit.supplies:
        yield COMMON, supply.line, (line_volts(supply) - at[supply.line]) / LINE_OHM
        yield supply.neutral, COMMON, at[supply.neutral] / NEUTRAL_OHM
        yield supply.earth, COMMON, at[supply.earth] / EARTH_OHM


def test_current_that_comes_in_goes_out(circuit: Circuit) -> None:
    """Kirchhoff's current law at every node."""
    for inputs in telling_states(circuit):
        result = solve_volts(circuit, inputs)
        left_over = dict.fromkeys((*circuit.nodes, COMMON), 0j)
        for a, b, ampere in currents(circuit, result):
            left_over[a] -= ampere
            left_over[b] += ampere
        assert max(abs(ampere) for ampere in left_over.values()) < SMALLEST_A


def test_power_given_is_power_taken(circuit: Circuit) -> None:
    """Tellegen's theorem: what the sources give is what all elements take, real and reactive."""
    for inputs in telling_states(circuit):
        result = solve_volts(circuit, inputs)
        at = {**result.volts, COMMON: 0j}
        taken = given = 0j
        lines = {supply.line: line_volts(supply) for supply in circuit.supplies}
        for a, b, ampere in currents(circuit, result):
            source_v = lines[b] if a == COMMON else 0j
            taken += (at[a] + source_v - at[b]) * ampere.conjugate()
            given += source_v * ampere.conjugate()
        assert given.real > 0
        assert taken == pytest.approx(given, abs=1e-4)


def test_what_nothing_feeds_has_no_volts(circuit: Circuit) -> None:
    for inputs in telling_states(circuit):
        result = solve_volts(circuit, inputs)
        assert all(result.volts[node] == 0 for node in result.floating)
        joined: set[str] = {COMMON}
        ends = [(a, b) for a, b, _ in currents(circuit, result)]
        for _ in circuit.nodes:
            joined |= {end for pair in ends if joined.intersection(pair) for end in pair}
        assert set(circuit.nodes) - joined == set(result.floating)
