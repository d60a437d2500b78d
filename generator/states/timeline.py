"""What happens second by second when inputs change: travel times, end switches, boilers, pumps, overrun.

One state at a time and event by event, with the logic of the all-state solver. Knows nothing of pages.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Is, Joined, atoms
from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.states.answer import Answer, Solution
from generator.states.network import Bounds, Known, energised, evaluate, fold

MOST_EVENTS = 400
"""Events after which a run that has not come to rest is given up as hunting."""
SETTLE_S = 30.0
"""A simulated call lasts for this long after the half minute in which everything has come to rest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """An input or a driven part changes at ``at_s``; ``since_s`` is when what moves it began."""

    at_s: float
    since_s: float
    part: str
    words: str
    on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """A terminal that is live only on the way from one rest to the next, and dead at the second.

    Either it was dead at the first too, or it belongs to a control whose own contacts are open and is live from
    the other side (``backward``): a back-feed.
    """

    point: str
    backward: bool
    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """The value of every input and of every driven part at one instant."""

    inputs: Mapping[str, bool]
    driven: Mapping[str, bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class Timeline:
    """A run: its changes in order of time, how it began and ended, and whether it came to rest.

    ``ends_s`` is the time of the last change. Parts that change together keep the record's order.
    """

    start: Moment
    end: Moment
    changes: tuple[Change, ...]
    brief: tuple[Brief, ...]
    quiet: bool

    @property
    def ends_s(self) -> float:
        """When the last thing changed; 0 where nothing did."""
        return max((change.at_s for change in self.changes), default=0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Call:
    """A call from rest and its end. ``ended_s`` is when the inputs of the call went off again."""

    timeline: Timeline
    ended_s: float
    overrun_s: float


Schedule = Sequence[tuple[float, Mapping[str, bool]]]
"""At so many seconds these inputs take these values; in order of time, none before 0."""


def moment_in(solution: Solution, answer: Answer, state: int) -> Moment:
    """The instant at which everything rests in a state of an answer."""
    return Moment(
        inputs=solution.inputs_in(state),
        driven={name: bool(vector >> state & 1) for name, vector in answer.on.items()},
    )


def run(circuit: Circuit, start: Moment, schedule: Schedule, *, unsure: bool = False) -> Timeline:
    """Let the circuit run from an instant, its inputs changing as scheduled, until nothing changes any more.

    A driven part changes once its condition has held for its travel time without a break. Parts that are
    due together change together, as in the all-state solver.

    Args:
        circuit: the circuit.
        start: how everything stands before time 0.
        schedule: changes of inputs.
        unsure: what to take for a lever of unknown behaviour.
    """
    return _Run(circuit, start, unsure).through(schedule)


def simulate_call(solution: Solution, on: Sequence[str]) -> Call | None:
    """A call from rest with these inputs on, held until all has settled, and its end with any overrun.

    None where the circuit does not come to rest with nothing calling.
    """
    if not solution.settled.at & 1:
        return None
    circuit = solution.circuit
    rest = moment_in(solution, solution.settled, 0)
    call = dict.fromkeys(on, True)
    first = run(circuit, rest, [(0.0, call)], unsure=solution.unsure)
    ended_s = (first.ends_s // SETTLE_S + 2) * SETTLE_S
    schedule: list[tuple[float, Mapping[str, bool]]] = [(0.0, call)]
    off: dict[str, bool] = dict.fromkeys(on, False)
    overrun_s = 0.0
    for boiler in circuit.with_duty(Duty.BOILER):
        runs_on = [item.name for item in boiler.parts.inputs if item.kind is InputKind.OVERRUN]
        lasts_s = float(getattr(boiler.settings, "overrun_s", 0.0))
        if runs_on and lasts_s and first.end.driven.get(f"{boiler.name}.firing"):
            off |= dict.fromkeys(runs_on, True)
            overrun_s = max(overrun_s, lasts_s)
            schedule.append((ended_s + lasts_s, dict.fromkeys(runs_on, False)))
    schedule.append((ended_s, off))
    schedule.sort(key=lambda item: item[0])
    return Call(
        timeline=run(circuit, rest, schedule, unsure=solution.unsure), ended_s=ended_s, overrun_s=overrun_s
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Live:
    """The terminals that are live from an instant on, and those of controls that are so through others alone."""

    at_s: float
    points: frozenset[str]
    backward: frozenset[str]


class _Run:
    def __init__(self, circuit: Circuit, start: Moment, unsure: bool) -> None:
        self.circuit = circuit
        self.network = fold(circuit)
        self.unsure = Bounds(int(unsure), int(unsure))
        self.start = start
        self.inputs = dict(start.inputs)
        self.driven = dict(start.driven)
        self.lines = [supply.line for supply in circuit.supplies]
        self.backs = [p for supply in circuit.supplies for p in (supply.neutral, supply.earth)]
        self.pairs = [
            (leaf.a, leaf.b)
            for part in circuit.driven
            for leaf in atoms(part.when)
            if isinstance(leaf, Joined)
        ]
        self.words = {item.name: (item.on_words, item.off_words) for item in circuit.inputs} | {
            part.name: (part.on_words, part.off_words) for part in circuit.driven
        }
        self.outputs = _outputs(circuit)
        self.changes: list[Change] = []
        self.brief: list[Brief] = []

    def through(self, schedule: Schedule) -> Timeline:
        now_s = 0.0
        waiting = list(schedule)
        since: dict[str, float] = {}
        live_before = self.live(now_s).points
        live_at: list[_Live] = []
        quiet = True
        for _ in range(MOST_EVENTS):
            while waiting and waiting[0][0] <= now_s:
                if self.apply(waiting.pop(0)[1], now_s):
                    self.close_phase(live_before, live_at)
                    live_before, live_at = (live_at[-1].points if live_at else live_before), []
            due = self.due(now_s, since)
            live_at.append(self.live(now_s))
            ready = [name for name, at_s in due.items() if at_s <= now_s]
            if ready:
                self.move(ready, now_s, since)
                continue
            times = [*due.values(), *(at_s for at_s, _ in waiting)]
            if not times:
                break
            now_s = min(times)
        else:
            quiet = False
        self.close_phase(live_before, live_at)
        return Timeline(
            start=self.start,
            end=Moment(inputs=self.inputs, driven=self.driven),
            changes=tuple(self.changes),
            brief=tuple(self.brief),
            quiet=quiet,
        )

    def apply(self, values: Mapping[str, bool], now_s: float) -> bool:
        """Change inputs; whether any did."""
        changed = False
        for item in self.circuit.inputs:
            value = values.get(item.name, self.inputs[item.name])
            if value != self.inputs[item.name]:
                self.inputs[item.name] = value
                self.note(item.name, now_s, now_s, value)
                changed = True
        return changed

    def due(self, now_s: float, since: dict[str, float]) -> dict[str, float]:
        """When each part that is on its way will have moved. ``since`` is kept: when each set off."""
        wants = self.wants()
        due = {}
        for part in self.circuit.driven:
            if wants[part.name] == self.driven[part.name]:
                since.pop(part.name, None)
                continue
            began_s = since.setdefault(part.name, now_s)
            due[part.name] = began_s + (part.on_s if wants[part.name] else part.off_s)
        return due

    def move(self, names: Sequence[str], now_s: float, since: dict[str, float]) -> None:
        for name in names:
            self.driven[name] = not self.driven[name]
            self.note(name, now_s, since.pop(name), self.driven[name])

    def note(self, name: str, at_s: float, since_s: float, on: bool) -> None:
        words = self.words[name][0 if on else 1]
        self.changes.append(Change(at_s=at_s, since_s=since_s, part=name, words=words, on=on))

    def known(self) -> tuple[dict[str, Bounds], list[int]]:
        values = {name: Bounds(int(on), int(on)) for name, on in {**self.inputs, **self.driven}.items()}
        known = Known(values=values, unsure=self.unsure, everywhere=1)
        return values, [evaluate(contact.when, known).low for contact in self.circuit.contacts]

    def reach(self, points: Sequence[str], made: list[int]) -> dict[str, int]:
        by_group = self.network.reach(points, made, 1)
        return {node: by_group[group] for node, group in self.network.group.items()}

    def live(self, at_s: float) -> _Live:
        made = self.known()[1]
        line = self.reach(self.lines, made)
        fed_itself = {
            point
            for contact, on in zip(self.circuit.contacts, made, strict=True)
            if on
            for point in (contact.a, contact.b)
        }
        return _Live(
            at_s=at_s,
            points=frozenset(place.ref for place in self.circuit.terminals if line[place.ref]),
            backward=frozenset(p for p in self.outputs if line[p] and p not in fed_itself),
        )

    def wants(self) -> dict[str, bool]:
        """What every driven part is being moved to."""
        values, made = self.known()
        line, back = self.reach(self.lines, made), self.reach(self.backs, made)
        fed = {load.name: energised(load, line, back, 1) for load in self.circuit.loads}
        known = Known(
            values=values,
            unsure=self.unsure,
            everywhere=1,
            fed={name: Bounds(on, on) for name, on in fed.items()},
            line={name: Bounds(on, on) for name, on in line.items()},
            back={name: Bounds(on, on) for name, on in back.items()},
            joined={(a, b): Bounds(on, on) for a, b in self.pairs for on in (self.reach([a], made)[b],)},
        )
        return {part.name: bool(evaluate(part.when, known).low) for part in self.circuit.driven}

    def close_phase(self, before: frozenset[str], live_at: Sequence[_Live]) -> None:
        """Note what was live only between two rests."""
        if not live_at:
            return
        after = live_at[-1].points
        for place in self.circuit.terminals:
            point = place.ref
            if point in after:
                continue
            backward = point in before
            times = [
                index
                for index, live in enumerate(live_at)
                if point in (live.backward if backward else live.points)
            ]
            if not times:
                continue
            from_s, to_s = live_at[times[0]].at_s, live_at[times[-1] + 1].at_s
            if to_s > from_s:
                self.brief.append(Brief(point=point, backward=backward, from_s=from_s, to_s=to_s))


def _outputs(circuit: Circuit) -> tuple[str, ...]:
    """The terminals that contacts of called controls switch: those of timers, thermostats and the like."""
    called = {item.name for item in circuit.called_inputs}
    found = [
        point
        for contact in circuit.contacts
        if any(isinstance(leaf, Is) and leaf.name in called for leaf in atoms(contact.when))
        for point in (contact.a, contact.b)
    ]
    return tuple(dict.fromkeys(found))
