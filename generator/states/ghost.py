"""Ghost voltages: what a meter picks up on an open core from live cores beside it in the same cable.

A divider of the capacitances between the cores and the meter, at 50 Hz. Every core of a cable is taken to lie as near
to every other; a core that is joined to nothing at either end is left out, and what hangs on a load is not moved by
what it picks up (it is, by half a volt or so). Must not know what should be live.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import pi

from generator.circuit.model import Circuit
from generator.states.mains import HERTZ
from generator.states.volts import VoltsResult
from generator.states.volts_factor import Factors, pattern_of
from generator.states.volts_meter import Meter
from generator.states.volts_network import network_of

CORE_TO_CORE_F = 100e-12
"""Farad a metre between two cores of a cord: from memory; 50 to 100 pF are told."""
USUAL_LENGTH_M = 5.0
"""Of a cable whose length is not recorded: our own choice, told wherever it counts."""

_LIVE_V = 100.0
_LEAK_S = 1e-15
"""From every open core, so that one with nothing beside it has an answer too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ghost:
    """Terminals that an open core joins, and what each meter, alone connected, shows there.

    Attributes:
        refs: the terminals, in the circuit's order.
        volts: by meter, in the order asked for.
        cables: the cables in which a live core lies beside it.
        longest_m: length of the longest of them.
        assumed: whether a length among them is not recorded, so that the usual one was taken.
    """

    refs: tuple[str, ...]
    volts: tuple[float, ...]
    cables: tuple[str, ...]
    longest_m: float
    assumed: bool


@dataclass(frozen=True, slots=True)
class _Pair:
    """Two cores of a cable that are not joined to each other, by what they are joined to."""

    cable: str
    a: int
    b: int
    siemens: complex


def ghosts(
    circuit: Circuit,
    result: VoltsResult,
    meters: Sequence[Meter],
    *,
    to: str,
    farad_a_metre: float = CORE_TO_CORE_F,
) -> tuple[Ghost, ...]:
    """The ghosts of a solved state: every open core that lies beside a live one.

    Args:
        circuit: the circuit that was solved.
        result: its solved state.
        meters: the meters, each connected alone.
        to: where the other lead is, a point that has volts of its own.
        farad_a_metre: capacitance between two cores.
    """
    return tuple(_Cores(circuit, result, farad_a_metre).found(meters, to))


def length_of(circuit: Circuit, cable: str) -> float | None:
    """Recorded length of a cable in metre, None where there is none."""
    return next((item.length_m for item in circuit.cables if item.name == cable), None)


class _Cores:
    def __init__(self, circuit: Circuit, result: VoltsResult, farad_a_metre: float) -> None:
        self.circuit, self.result = circuit, result
        network = network_of(circuit, result.supply_v)
        is_closed = set(result.closed)
        closed = bytes(contact.name in is_closed for contact in circuit.contacts)
        joined, floating = network.joined(closed), network.floating(closed)
        self.at = {node: joined[index] for node, index in network.index.items()}
        open_nodes = [node for node, index in network.index.items() if floating[index]]
        self.unknown = {group: row for row, group in enumerate(dict.fromkeys(self.at[n] for n in open_nodes))}
        self.pairs = tuple(self._pairs(farad_a_metre))

    def _pairs(self, farad_a_metre: float) -> Iterator[_Pair]:
        cores: dict[str, list[str]] = {}
        for conductor in self.circuit.conductors:
            if not conductor.is_link:
                cores.setdefault(conductor.cable, []).append(conductor.a)
        self.volts: dict[int, complex] = {}
        for cable, ends in cores.items():
            metres = length_of(self.circuit, cable) or USUAL_LENGTH_M
            for end in ends:
                self.volts.setdefault(self._key(end), self.result.volts[end])
            for first, second in combinations(ends, 2):
                a, b = self._key(first), self._key(second)
                if a != b:
                    yield _Pair(cable, a, b, 2j * pi * HERTZ * farad_a_metre * metres)

    def _key(self, node: str) -> int:
        """Below 0 for an open group, else the place of a node whose volts are known."""
        group = self.at[node]
        if group in self.unknown:
            return -1 - self.unknown[group]
        return self.circuit.nodes.index(node)

    def found(self, meters: Sequence[Meter], to: str) -> Iterator[Ghost]:
        size = len(self.unknown)
        pattern = pattern_of(size, ((-1 - p.a, -1 - p.b) for p in self.pairs if p.a < 0 and p.b < 0))
        diagonal, entries, injected = [complex(_LEAK_S)] * size, [0j] * len(pattern.slots), [0j] * size
        beside: dict[int, list[str]] = {}
        for pair in self.pairs:
            for here, there in ((pair.a, pair.b), (pair.b, pair.a)):
                if here < 0:
                    diagonal[-1 - here] += pair.siemens
                    if there >= 0:
                        injected[-1 - here] += pair.siemens * self.volts[there]
                        if abs(self.volts[there]) > _LIVE_V:
                            beside.setdefault(-1 - here, []).append(pair.cable)
            if pair.a < 0 and pair.b < 0:
                entries[pattern.slot(-1 - pair.a, -1 - pair.b)] -= pair.siemens
        if not beside:
            return
        factors = Factors(pattern, diagonal, entries)
        volts, ohms = factors.solve(injected), factors.inverse_diagonal()
        far = self.result.volts[to]
        apart = set(self.result.apart)
        for group, row in self.unknown.items():
            refs = [place.ref for place in self.circuit.terminals if self.at[place.ref] == group]
            if row not in beside or not refs or not apart.isdisjoint(refs):
                continue
            cables = tuple(dict.fromkeys(beside[row]))
            lengths = [length_of(self.circuit, cable) for cable in cables]
            yield Ghost(
                refs=tuple(refs),
                volts=tuple(abs((volts[row] - far) * m.ohm / (m.ohm + ohms[row])) for m in meters),
                cables=cables,
                longest_m=max(length or USUAL_LENGTH_M for length in lengths),
                assumed=None in lengths,
            )
