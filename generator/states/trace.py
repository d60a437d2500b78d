"""Why a point is live or a load is fed: the path to the supply, terminal by terminal, in one state."""

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from generator.catalogue.parts import Contact, Load
from generator.circuit.model import Circuit, Conductor
from generator.states.answer import Answer
from generator.states.by_identity import ByIdentity


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One step of a path: through a conductor or a made contact to the point ``to``."""

    start: str
    to: str
    conductor: Conductor | None
    contact: Contact | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Trace:
    """Why a load is fed: the way from the supply's line to it, and from it back to neutral or earth."""

    load: Load
    out: tuple[Step, ...]
    back: tuple[Step, ...]


_MOST_KEPT = 256
"""States of one answer whose made contacts are kept at a time."""


@lru_cache(maxsize=1)
def _asked_before(_: ByIdentity[Answer]) -> dict[int, frozenset[str]]:
    """What was found for the answer that was asked about last: many paths are asked for in one state."""
    return {}


def made_in(answer: Answer, state: int) -> frozenset[str]:
    """The contacts that are made in a state, by name."""
    known = _asked_before(ByIdentity(answer))
    if state not in known:
        if len(known) >= _MOST_KEPT:
            known.clear()
        known[state] = frozenset(name for name, vector in answer.made.items() if vector >> state & 1)
    return known[state]


def path(
    circuit: Circuit, answer: Answer, state: int, starts: Iterable[str], end: str
) -> tuple[Step, ...] | None:
    """A shortest path by metal from any of the starts to ``end`` in a state, None where there is none.

    Breadth first over conductors and contacts made in the state; among equals the record's order decides.
    Empty where ``end`` is itself a start. Complexity: linear in terminals, conductors and contacts.
    """
    neighbours: dict[str, list[tuple[str, Conductor | None, Contact | None]]] = {
        node: [] for node in circuit.nodes
    }
    for conductor in circuit.conductors:
        neighbours[conductor.a].append((conductor.b, conductor, None))
        neighbours[conductor.b].append((conductor.a, conductor, None))
    made = made_in(answer, state)
    for item in circuit.contacts:
        if item.name in made:
            neighbours[item.a].append((item.b, None, item))
            neighbours[item.b].append((item.a, None, item))
    came: dict[str, Step | None] = {}
    waiting: deque[str] = deque()
    for start in starts:
        came[start] = None
        waiting.append(start)
    while waiting:
        here = waiting.popleft()
        if here == end:
            steps: list[Step] = []
            step = came[here]
            while step is not None:
                steps.append(step)
                step = came[step.start]
            return tuple(reversed(steps))
        for there, core, switch in neighbours[here]:
            if there not in came:
                came[there] = Step(start=here, to=there, conductor=core, contact=switch)
                waiting.append(there)
    return None


def why_fed(circuit: Circuit, answer: Answer, state: int, load: Load) -> Trace | None:
    """The trace of a load in a state; None where it is not fed.

    The path out starts at a supply's line point, the path back ends at a neutral point, or at an
    earth point where there is no neutral.
    """
    lines = [supply.line for supply in circuit.supplies]
    for hot, cold in ((load.a, load.b), (load.b, load.a)):
        out = path(circuit, answer, state, lines, hot)
        if out is None:
            continue
        for points in (
            [supply.neutral for supply in circuit.supplies],
            [supply.earth for supply in circuit.supplies],
        ):
            back = path(circuit, answer, state, points, cold)
            if back is not None:
                return Trace(load=load, out=out, back=_turned(back))
    return None


def _turned(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(
        Step(start=step.to, to=step.start, conductor=step.conductor, contact=step.contact)
        for step in reversed(steps)
    )
