"""Faults that several devices share because their terminals are joined: told once, with all of them named.

Knows terminals and conductors; no rule.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from generator.circuit.model import PlacedDevice
from generator.rules.behaviour import conductors_at
from generator.rules.counter_example import counter_example
from generator.rules.rule import Seen, Subject, When
from generator.rules.states_in_words import states_in_words
from generator.rules.words import and_so_on
from generator.states.network import fold


@dataclass(frozen=True, slots=True, kw_only=True)
class Hit:
    """A device with a fault at a terminal: what it is called in the message, and the states."""

    ref: str
    device: PlacedDevice
    words: str
    vector: int


def _groups(subject: Subject) -> Mapping[str, int]:
    return fold(subject.circuit).group


def by_net(subject: Subject, hits: Iterable[Hit]) -> Iterator[tuple[Hit, ...]]:
    """Hits whose terminals conductors join, together; one of a device, in the order of the hits."""
    groups = subject.once(_groups)
    nets: dict[int, dict[str, Hit]] = {}
    for hit in hits:
        nets.setdefault(groups[hit.ref], {}).setdefault(hit.device.name, hit)
    for net in nets.values():
        yield tuple(net.values())


def told_once(
    subject: Subject,
    hits: Iterable[Hit],
    one: str,
    several: str,
    *,
    with_states: bool = True,
    to: str = "neutral",
) -> Iterator[Seen]:
    """One finding for each net of hits.

    Args:
        subject: the property.
        hits: in record order.
        one: what is wrong, after the words of one device.
        several: the same after those of several.
        with_states: whether it depends on the state.
        to: what the terminals should be joined to.
    """
    for net in by_net(subject, hits):
        first = net[0]
        vector = 0
        for hit in net:
            vector |= hit.vector
        conductors = conductors_at(subject.circuit, first.ref)
        yield Seen(
            path=conductors[0].path if conductors else first.device.path,
            key=not conductors,
            subject=first.device.name,
            message=f"{and_so_on(hit.words for hit in net)} {one if len(net) == 1 else several}",
            holds=states_in_words(vector, subject.solution.space, subject.circuit).text
            if with_states
            else "",
            example=counter_example(subject, When(vector & subject.solution.settled.at), first.ref, to=to),
            related=tuple((hit.device.path, hit.words) for hit in net[1:]),
        )
