"""When each thing in a call happens, from the simulated call, and by which way motors are fed at its first moment.

Knows circuits and timelines; words are another module's work.
"""

from collections.abc import Iterable, Mapping

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Expr, Fed, Is, atoms
from generator.catalogue.parts import Driven, LoadKind
from generator.states.answer import Answer, Solution
from generator.states.network import Bounds, Known, evaluate
from generator.states.timeline import Call, Change, moment_in
from generator.states.trace import Step, Trace, why_fed


class CallTimes:
    """The times of one call, in seconds after it began."""

    def __init__(self, solution: Solution, traces: Mapping[str, Trace], call: Call | None) -> None:
        self.driven = {part.name: part for part in solution.circuit.driven}
        self.traces = traces
        self.changes: tuple[Change, ...] = ()
        self.after: tuple[Change, ...] = ()
        self.ended_s = call.ended_s if call is not None else 0.0
        if call is not None:
            changes = call.timeline.changes
            self.changes = tuple(change for change in changes if change.at_s < call.ended_s)
            self.after = tuple(change for change in changes if change.at_s >= call.ended_s)
        self._moved_s = {change.part: change.at_s for change in self.changes}

    def fed_at(self, load: str) -> float:
        """When the way that feeds the load in the end is made."""
        trace = self.traces[load]
        return self.made_at((*trace.out, *trace.back))

    def made_at(self, steps: Iterable[Step]) -> float:
        """When the last contact of a way is made."""
        movers = [
            leaf.name
            for step in steps
            if step.contact
            for leaf in atoms(step.contact.when)
            if isinstance(leaf, Is) and leaf.name in self.driven
        ]
        return max((self._moved_s.get(name, 0.0) for name in movers), default=0.0)

    def moved_at(self, part: Driven) -> float:
        """When the part has moved for the last time."""
        return self._moved_s.get(part.name, 0.0)

    def depth(self, load: str) -> int:
        """How many driven parts lie between the call and the load."""
        return self._depth_of_load(load, frozenset())

    def _depth_of_load(self, load: str, passed: frozenset[str]) -> int:
        if load not in self.traces or load in passed:
            return 0
        return max(
            (
                self._depth_of_part(leaf.name, passed | {load})
                for step in self.traces[load].out
                if step.contact
                for leaf in atoms(step.contact.when)
                if isinstance(leaf, Is)
            ),
            default=0,
        )

    def _depth_of_part(self, part: str, passed: frozenset[str]) -> int:
        if part not in self.driven or part in passed:
            return 0
        inside = passed | {part}
        return 1 + max((self._depth_in(leaf, inside) for leaf in atoms(self.driven[part].when)), default=0)

    def _depth_in(self, leaf: Expr, passed: frozenset[str]) -> int:
        if isinstance(leaf, Fed):
            return self._depth_of_load(leaf.load, passed)
        return self._depth_of_part(leaf.name, passed) if isinstance(leaf, Is) else 0


def first_ways(solution: Solution, number: int) -> dict[str, Trace]:
    """The ways by which valve motors are fed at the first moment of a call from rest, before anything has moved."""
    circuit = solution.circuit
    if not solution.settled.at & 1:
        return {}
    rest = moment_in(solution, solution.settled, 0)
    values = {
        name: Bounds(int(on), int(on)) for name, on in {**solution.inputs_in(number), **rest.driven}.items()
    }
    known = Known(values=values, unsure=Bounds(0, 0), everywhere=1)
    made = {item.name: evaluate(item.when, known).low for item in circuit.contacts}
    moment = Answer(at=1, joined={}, line={}, neutral={}, earth={}, fed={}, on={}, made=made)
    motors = [
        load
        for device in circuit.with_duty(Duty.VALVE)
        for load in device.parts.loads
        if load.kind is LoadKind.MOTOR
    ]
    found = {load.name: why_fed(circuit, moment, 0, load) for load in motors}
    return {name: trace for name, trace in found.items() if trace is not None}
