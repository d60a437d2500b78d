"""The circuit as a network of impedances at 50 Hz, solved for one set of closed contacts at a time.

Nodal analysis: the admittance matrix times the node voltages is the currents put in (Ho, Ruehli and Brennan, "The
modified nodal approach to network analysis", IEEE Trans. CAS 22 (1975), without the modification, as every source
here has an impedance). Must not know what closes a contact, and nothing of the logic solver.
"""

from cmath import exp
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import pi, sqrt

from generator.catalogue.parts import Load
from generator.circuit.model import Circuit, Conductor
from generator.states.by_identity import ByIdentity
from generator.states.copper import conductor_ohm
from generator.states.mains import EARTH_OHM, LINE_OHM, NEUTRAL_OHM, NOMINAL_V
from generator.states.volts_factor import Factors, Pattern, pattern_of

CONTACT_OHM = 0.01
LINK_OHM = 0.001
UNKNOWN_CONDUCTOR_OHM = 0.01
"""A core whose size or length is not recorded: about 0.4 m of 0.75 mm2."""

_KEPT = 1024
"""Answers kept a network; a large house takes about 5 kB for each."""

Closed = bytes
"""Which contacts are closed: one byte 0 or 1 a contact, in the circuit's order."""


@dataclass(frozen=True, slots=True)
class Branch:
    """An element between two nodes, by their index, with its admittance in siemens."""

    a: int
    b: int
    siemens: complex


def load_ohm(load: Load) -> complex:
    """Impedance of a load: resistance and inductance in series that take its watts at 230 V."""
    size = NOMINAL_V**2 * load.power_factor / load.watts
    return complex(size * load.power_factor, size * sqrt(1 - load.power_factor**2))


def conductor_ohms(circuit: Circuit) -> tuple[float, ...]:
    """Resistance of each conductor and link at 20 C, in the circuit's order."""
    cables = {cable.name: cable for cable in circuit.cables}

    def ohm(conductor: Conductor) -> float:
        if conductor.is_link:
            return LINK_OHM
        cable = cables.get(conductor.cable)
        if cable is None or cable.size_mm2 is None or cable.length_m is None:
            return UNKNOWN_CONDUCTOR_OHM
        return conductor_ohm(cable.size_mm2, cable.length_m, cable.type)

    return tuple(ohm(conductor) for conductor in circuit.conductors)


class Network:
    """The network of a circuit.

    The common point is where neutral and earth of the house are joined; every supply has its line, neutral and
    earth led from there, so that all lines of one phase are in phase. A sensing source counts here as its inner
    resistance alone, since what it puts out is not mains; `sensed` says what it puts between its terminals. A diode
    counts as open: what it lets through is not for phasors. Answers are kept by closed contacts, the most recent
    ones.
    """

    def __init__(self, circuit: Circuit, supply_v: float) -> None:
        """Prepare what does not depend on contacts.

        Args:
            circuit: the circuit.
            supply_v: open-circuit voltage of a supply of 230 V; other supplies in proportion.
        """
        self.circuit = circuit
        self.index: Mapping[str, int] = {node: at for at, node in enumerate(circuit.nodes)}
        size = len(self.index)
        fixed = tuple(self._fixed_branches())
        self._contacts = tuple(
            Branch(self.index[item.a], self.index[item.b], 1 / CONTACT_OHM) for item in circuit.contacts
        )
        self._pattern: Pattern = pattern_of(size, ((item.a, item.b) for item in fixed + self._contacts))
        self._diagonal = [0j] * size
        self._entries = [0j] * len(self._pattern.slots)
        self._injected = [0j] * size
        self._groups = list(range(size))
        for branch in fixed:
            self._stamp(self._diagonal, self._entries, branch)
        self._groups = _grouped(size, fixed)
        self._metal = _grouped(size, fixed[: len(circuit.conductors)])
        self._grounded: list[int] = []
        for supply in circuit.supplies:
            ends = ((supply.line, LINE_OHM), (supply.neutral, NEUTRAL_OHM), (supply.earth, EARTH_OHM))
            for end, ohm in ends:
                self._diagonal[self.index[end]] += 1 / ohm
                self._grounded.append(self.index[end])
            volts = supply.volts * supply_v / NOMINAL_V * exp(-2j * pi * (supply.phase - 1) / 3)
            self._injected[self.index[supply.line]] += volts / LINE_OHM
        # Kept by each network for itself, so that a network and its answers go together.
        self.voltages = lru_cache(_KEPT)(self._solve)
        self.floating = lru_cache(_KEPT)(self._find_floating)
        self.metal = lru_cache(_KEPT)(self._find_metal)
        self.source_ohms = lru_cache(_KEPT)(self._find_source_ohms)
        self._factors = lru_cache(_KEPT // 4)(self._factorise)
        self._inverse_diagonal = lru_cache(_KEPT)(self._find_inverse_diagonal)

    def _fixed_branches(self) -> Iterator[Branch]:
        for conductor, ohm in zip(self.circuit.conductors, conductor_ohms(self.circuit), strict=True):
            yield Branch(self.index[conductor.a], self.index[conductor.b], 1 / ohm)
        for load in self.circuit.loads:
            yield Branch(self.index[load.a], self.index[load.b], 1 / load_ohm(load))
        for sense in self.circuit.senses:
            yield Branch(self.index[sense.a], self.index[sense.b], 1 / sense.ohm)

    def _stamp(self, diagonal: list[complex], entries: list[complex], branch: Branch) -> None:
        diagonal[branch.a] += branch.siemens
        diagonal[branch.b] += branch.siemens
        entries[self._pattern.slot(branch.a, branch.b)] -= branch.siemens

    @cached_property
    def load_ends(self) -> tuple[tuple[int, int], ...]:
        """Index of the two ends of each load, in the circuit's order."""
        return tuple((self.index[load.a], self.index[load.b]) for load in self.circuit.loads)

    def _factorise(self, closed: Closed) -> Factors:
        diagonal, entries = self._diagonal.copy(), self._entries.copy()
        for is_closed, branch in zip(closed, self._contacts, strict=True):
            if is_closed:
                self._stamp(diagonal, entries, branch)
        roots = self.joined(closed)
        tied: set[int] = set()
        for node, adrift in enumerate(self.floating(closed)):
            if adrift and roots[node] not in tied:
                # Nothing joins these to a supply, so they have no voltage against it. Tying one of them to the
                # common point keeps the matrix regular and changes nothing, since no current can come back.
                tied.add(roots[node])
                diagonal[node] += 1.0
        return Factors(self._pattern, diagonal, entries)

    def _solve(self, closed: Closed) -> tuple[complex, ...]:
        """Voltage of every node against the common point."""
        return tuple(self._factors(closed).solve(self._injected))

    def _find_source_ohms(self, closed: Closed, to: int) -> tuple[complex, ...]:
        """Impedance that a meter from each node to the node ``to`` sees (Thevenin)."""
        unit = [0j] * len(self.index)
        unit[to] = complex(1)
        column = self._factors(closed).solve(unit)
        return tuple(
            own + column[to] - 2 * across
            for own, across in zip(self._inverse_diagonal(closed), column, strict=True)
        )

    def _find_inverse_diagonal(self, closed: Closed) -> tuple[complex, ...]:
        """Impedance of each node against the common point."""
        return tuple(self._factors(closed).inverse_diagonal())

    def sensed(self, closed: Closed) -> dict[str, float]:
        """Volts that each sensing source of the circuit puts between its own two terminals, the others at rest."""
        shown = {}
        for sense in self.circuit.senses:
            a, b = self.index[sense.a], self.index[sense.b]
            injected = [0j] * len(self.index)
            injected[a] += sense.volts / sense.ohm
            injected[b] -= sense.volts / sense.ohm
            volts = self._factors(closed).solve(injected)
            shown[sense.name] = abs(volts[a] - volts[b])
        return shown

    def joined(self, closed: Closed) -> tuple[int, ...]:
        """For each node a number that it shares with those that any path through any element joins it to."""
        return self._roots(self._groups, closed)

    def _find_floating(self, closed: Closed) -> tuple[bool, ...]:
        """True for each node that no path through any element joins to a supply."""
        roots = self.joined(closed)
        grounded = {roots[node] for node in self._grounded}
        return tuple(root not in grounded for root in roots)

    def _find_metal(self, closed: Closed) -> tuple[int, ...]:
        """For each node a number that it shares with those that conductors and closed contacts join it to."""
        return self._roots(self._metal, closed)

    def _roots(self, groups: list[int], closed: Closed) -> tuple[int, ...]:
        roots = list(range(len(groups)))
        for is_closed, branch in zip(closed, self._contacts, strict=True):
            if is_closed:
                _join(roots, groups[branch.a], groups[branch.b])
        return tuple(_root(roots, group) for group in groups)


def _grouped(size: int, branches: Iterable[Branch]) -> list[int]:
    """For each node the group that the branches join it to."""
    roots = list(range(size))
    for branch in branches:
        _join(roots, branch.a, branch.b)
    return [_root(roots, node) for node in range(size)]


def _root(roots: list[int], node: int) -> int:
    while roots[node] != node:
        roots[node] = roots[roots[node]]
        node = roots[node]
    return node


def _join(roots: list[int], a: int, b: int) -> None:
    roots[_root(roots, a)] = _root(roots, b)


@lru_cache(maxsize=4)
def _network(key: ByIdentity[Circuit], supply_v: float) -> Network:
    return Network(key.value, supply_v)


def network_of(circuit: Circuit, supply_v: float = NOMINAL_V) -> Network:
    """The network of this very circuit value, kept from the last time it was asked for."""
    return _network(ByIdentity(circuit), supply_v)
