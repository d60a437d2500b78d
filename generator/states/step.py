"""One round of a circuit in many states at once: contacts from driven parts, loads from contacts, parts from loads.

Knows the states only as the bits of the vectors that it is given; what they stand for, others know.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeVar

from generator.catalogue.logic import Joined, atoms
from generator.circuit.model import Circuit
from generator.states.network import Bounds, Known, Network, Reach, energised, evaluate

K = TypeVar("K")


@dataclass(frozen=True, slots=True)
class _Joins:
    """What is joined and fed with one setting of the contacts."""

    line: Mapping[str, int]
    back: Mapping[str, int]
    fed: Mapping[str, int]
    joined: Mapping[tuple[str, str], int]


def _between(low: Mapping[K, int], high: Mapping[K, int]) -> dict[K, Bounds]:
    return {key: Bounds(vector, high[key]) for key, vector in low.items()}


class Stepper:
    """Works out what follows in one round, in every state of some vectors."""

    def __init__(
        self,
        circuit: Circuit,
        network: Network,
        inputs: Mapping[str, Bounds],
        everywhere: int,
        *,
        unsure: bool,
    ) -> None:
        """Prepare.

        Args:
            circuit: the circuit.
            network: the same, folded.
            inputs: when each input, and whatever else an expression may name, is on.
            everywhere: the vector of all states.
            unsure: what to take for what is not known.
        """
        self.circuit = circuit
        self.network = network
        self.inputs = inputs
        self.all = everywhere
        self.reach = Reach(network, everywhere)
        self.unsure = Bounds(everywhere, everywhere) if unsure else Bounds(0, 0)
        self.lines = tuple(supply.line for supply in circuit.supplies)
        self.backs = tuple(p for supply in circuit.supplies for p in (supply.neutral, supply.earth))
        self.pairs = [
            (leaf.a, leaf.b)
            for item in circuit.driven
            for leaf in atoms(item.when)
            if isinstance(leaf, Joined)
        ]
        self._kept: dict[str, Bounds] = {}

    def made(self, values: Mapping[str, Bounds]) -> list[Bounds]:
        """When each contact is made; the very object of the last time where nothing changed."""
        known = Known(values=values, unsure=self.unsure, everywhere=self.all)
        made = []
        for contact in self.circuit.contacts:
            now, before = evaluate(contact.when, known), self._kept.get(contact.name)
            made.append(before if before is not None and before == now else now)
            self._kept[contact.name] = made[-1]
        return made

    def step(self, driven: Mapping[str, Bounds]) -> dict[str, Bounds]:
        """Where every driven part goes from here."""
        values = {**self.inputs, **driven}
        made = self.made(values)
        low = self._joins([bounds.low for bounds in made])
        exact = all(bounds.low == bounds.high for bounds in made)
        high = low if exact else self._joins([bounds.high for bounds in made])
        known = Known(
            values=values,
            unsure=self.unsure,
            everywhere=self.all,
            fed=_between(low.fed, high.fed),
            line=_between(low.line, high.line),
            back=_between(low.back, high.back),
            joined=_between(low.joined, high.joined),
        )
        return {item.name: evaluate(item.when, known) for item in self.circuit.driven}

    def _joined_to(self, points: tuple[str, ...], made: list[int]) -> dict[str, int]:
        """For each node the vector of states in which it is joined to any of the points."""
        return self.network.by_node(self.reach(points, made))

    def _joins(self, made: list[int]) -> _Joins:
        """What is joined and fed with these contacts."""
        line, back = self._joined_to(self.lines, made), self._joined_to(self.backs, made)
        return _Joins(
            line=line,
            back=back,
            fed={load.name: energised(load, line, back, self.all) for load in self.circuit.loads},
            joined={(a, b): self._joined_to((a,), made)[b] for a, b in self.pairs},
        )
