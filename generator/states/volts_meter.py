"""What a meter shows, each reading as if that meter were the only one connected.

Two-point Thevenin equivalent of the solved network: exact for a linear network. Must not know what a reading
should be.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from generator.circuit.model import Circuit
from generator.states.volts import VoltsResult
from generator.states.volts_network import network_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Meter:
    """A voltmeter by its resistance in ohm."""

    words: str
    ohm: float


HIGH_IMPEDANCE = Meter(words="multimeter", ohm=10e6)
"""10 megohm: common practice, no source."""

LOW_IMPEDANCE = Meter(words="low-impedance tester", ohm=3e3)
"""3 kilohm: from memory; such testers and settings have from about 3 to 10 kilohm."""


def incoming_neutral(circuit: Circuit) -> str:
    """Where the neutral of the first supply, which feeds the heating controls, comes into the house's circuit.

    Raises:
        IndexError: there is no supply.
    """
    return circuit.supplies[0].neutral


def incoming_earth(circuit: Circuit) -> str:
    """As the neutral, for the earth."""
    return circuit.supplies[0].earth


def readings(
    circuit: Circuit, result: VoltsResult, meter: Meter, terminals: Iterable[str], *, to: str
) -> dict[str, float]:
    """What the meter shows from each terminal to one point, in volt r.m.s.; nothing connected to a supply reads 0.

    Args:
        circuit: the circuit that was solved.
        result: its solved state.
        meter: the meter.
        terminals: terminals or inner points, each measured alone.
        to: the point where the other lead is, normally ``incoming_neutral`` or ``incoming_earth``.

    Raises:
        KeyError: there is no such point in the circuit.
    """
    network = network_of(circuit, result.supply_v)
    is_closed = set(result.closed)
    closed = bytes(contact.name in is_closed for contact in circuit.contacts)
    volts, floating = network.voltages(closed), network.floating(closed)
    far = network.index[to]
    source_ohms = network.source_ohms(closed, far)

    def shown(near: int) -> float:
        if floating[near] or floating[far]:
            return 0.0
        return abs((volts[near] - volts[far]) * meter.ohm / (source_ohms[near] + meter.ohm))

    return {name: shown(network.index[name]) for name in terminals}
