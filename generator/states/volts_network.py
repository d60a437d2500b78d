"""The circuit as a network of impedances at 50 Hz, solved for one set of closed contacts at a time.

Nodal analysis: the admittance matrix times the node voltages is the injected currents (Ho, Ruehli, Brennan,
"The modified nodal approach to network analysis", IEEE Trans. CAS 22 (1975), without the modification, as
every source here has an impedance). Must not know what closes a contact, and nothing of the logic solver.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from math import sqrt

import numpy as np
from numpy.typing import NDArray

from generator.catalogue.parts import Load
from generator.circuit.model import Circuit, Conductor
from generator.states.copper import conductor_ohm
from generator.states.mains import EARTH_OHM, LINE_OHM, NEUTRAL_OHM, NOMINAL_V

CONTACT_OHM = 0.01
LINK_OHM = 0.001
UNKNOWN_CONDUCTOR_OHM = 0.01
"""A core whose size or length is not recorded: about 0.4 m of 0.75 mm2."""


_KEPT_VOLTAGES = 8192
_KEPT_INVERSES = 48

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
    earth led from there, so that all lines are in phase. Answers are kept by closed contacts, the most recent ones.
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
        self._fixed = np.zeros((size, size), dtype=np.complex128)
        self._injected = np.zeros(size, dtype=np.complex128)
        self._roots = list(range(size))
        self._grounded: list[int] = []
        for branch in self._fixed_branches():
            self._stamp(self._fixed, branch)
            _join(self._roots, branch.a, branch.b)
        for supply in circuit.supplies:
            line, neutral, earth = (self.index[end] for end in (supply.line, supply.neutral, supply.earth))
            for node, ohm in (
                (line, LINE_OHM),
                (neutral, NEUTRAL_OHM),
                (earth, EARTH_OHM),
            ):
                self._fixed[node, node] += 1 / ohm
                self._grounded.append(node)
            self._injected[line] += supply.volts * supply_v / NOMINAL_V / LINE_OHM
        self._contacts = tuple(
            Branch(self.index[item.a], self.index[item.b], 1 / CONTACT_OHM) for item in circuit.contacts
        )
        # Bound per network, not per class, so that a network and its answers go together.
        self.voltages = lru_cache(_KEPT_VOLTAGES)(self._solve)
        self.impedances = lru_cache(_KEPT_INVERSES)(self._invert)
        self.floating = lru_cache(_KEPT_VOLTAGES)(self._find_floating)

    def _fixed_branches(self) -> Iterator[Branch]:
        for conductor, ohm in zip(self.circuit.conductors, conductor_ohms(self.circuit), strict=True):
            yield Branch(self.index[conductor.a], self.index[conductor.b], 1 / ohm)
        for load in self.circuit.loads:
            yield Branch(self.index[load.a], self.index[load.b], 1 / load_ohm(load))

    @staticmethod
    def _stamp(matrix: NDArray[np.complex128], branch: Branch) -> None:
        a, b, siemens = branch.a, branch.b, branch.siemens
        matrix[a, a] += siemens
        matrix[b, b] += siemens
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens

    @cached_property
    def load_ends(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Index of the two ends of each load, in the circuit's order."""
        loads = self.circuit.loads
        return (
            np.array([self.index[load.a] for load in loads], dtype=np.intp),
            np.array([self.index[load.b] for load in loads], dtype=np.intp),
        )

    def _admittances(self, closed: Closed) -> NDArray[np.complex128]:
        matrix = self._fixed.copy()
        for is_closed, branch in zip(closed, self._contacts, strict=True):
            if is_closed:
                self._stamp(matrix, branch)
        # A part of the network that nothing joins to a supply has no voltage. Tying it to the common point keeps
        # the matrix regular and changes nothing, since no current can flow back.
        adrift = np.flatnonzero(self.floating(closed))
        matrix[adrift, adrift] += 1.0
        return matrix

    def _solve(self, closed: Closed) -> NDArray[np.complex128]:
        """Voltage of every node against the common point."""
        answer = np.asarray(np.linalg.solve(self._admittances(closed), self._injected), dtype=np.complex128)
        answer.flags.writeable = False
        return answer

    def _invert(self, closed: Closed) -> NDArray[np.complex128]:
        """The impedance matrix: voltage at each node for 1 A put in at each node."""
        answer = np.asarray(np.linalg.inv(self._admittances(closed)), dtype=np.complex128)
        answer.flags.writeable = False
        return answer

    def _find_floating(self, closed: Closed) -> NDArray[np.bool_]:
        """True for each node that no path through any element joins to a supply."""
        roots = list(self._roots)
        for is_closed, branch in zip(closed, self._contacts, strict=True):
            if is_closed:
                _join(roots, branch.a, branch.b)
        grounded = {_root(roots, node) for node in self._grounded}
        return np.array([_root(roots, node) not in grounded for node in range(len(roots))], dtype=np.bool_)


def _root(roots: list[int], node: int) -> int:
    while roots[node] != node:
        roots[node] = roots[roots[node]]
        node = roots[node]
    return node


def _join(roots: list[int], a: int, b: int) -> None:
    roots[_root(roots, a)] = _root(roots, b)


class _Same:
    """Keeps a circuit as a key by identity: comparing whole circuits would cost more than solving one."""

    __slots__ = ("circuit",)

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit

    def __hash__(self) -> int:
        return id(self.circuit)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.circuit is self.circuit


@lru_cache(maxsize=8)
def _network(same: _Same, supply_v: float) -> Network:
    return Network(same.circuit, supply_v)


def network_of(circuit: Circuit, supply_v: float = NOMINAL_V) -> Network:
    """The network of this very circuit value, kept from the last time it was asked for."""
    return _network(_Same(circuit), supply_v)
