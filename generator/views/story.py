"""How each zone calls for heat, worked out from the traces of the state in which only that zone calls.

Every sentence follows from a load that is fed in that state and is not at rest.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Expr, Fed, Is, atoms
from generator.catalogue.parts import Contact, Driven, LoadKind
from generator.circuit.model import Circuit, ZoneIntent
from generator.states.answer import Solution
from generator.states.trace import Step, Trace, why_fed
from generator.views.paths import Hop, hops
from generator.views.shown_states import ShownState
from generator.views.wording import Naming, capital, listed, lower

_SHOWN_LOADS = frozenset({LoadKind.MOTOR, LoadKind.PUMP, LoadKind.COIL, LoadKind.DEMAND, LoadKind.HEATER})


@dataclass(frozen=True, slots=True, kw_only=True)
class Event:
    """One thing that happens in a call: a load gets its feed, with the path, and what moves because of it.

    ``happens`` says what moves because of it, ``from_point`` is the last permanent live on the way. ``at_s`` counts from the call, in seconds.
    """

    load: str
    device: str
    says: str
    from_point: str
    path: tuple[Hop, ...]
    happens: str
    at_s: float
    done_s: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneStory:
    """The account of one zone. ``missing`` says what does not happen though it should; empty when all does."""

    zone: ZoneIntent
    state: ShownState
    needs: tuple[str, ...]
    events: tuple[Event, ...]
    missing: tuple[str, ...]
    ends: str
    assumed: bool


def zone_stories(solution: Solution, states: tuple[ShownState, ...]) -> tuple[ZoneStory, ...]:
    """The account of every zone that has a call of its own."""
    by_zone = {state.zones[0]: state for state in states if len(state.zones) == 1}
    return tuple(
        _story(solution, zone, by_zone[zone.name]) for zone in solution.circuit.zones if zone.name in by_zone
    )


def _story(solution: Solution, zone: ZoneIntent, state: ShownState) -> ZoneStory:
    circuit = solution.circuit
    number = solution.space.state(state.on)
    answer = solution.settled
    traces: dict[str, Trace] = {}
    for load in circuit.loads:
        vector = answer.fed[load.name]
        if load.kind in _SHOWN_LOADS and vector >> number & 1 and not vector & 1:
            trace = why_fed(circuit, answer, number, load)
            if trace is not None:
                traces[load.name] = trace
    timing = _Timing(circuit, traces)
    ordered = sorted(
        traces, key=lambda name: (timing.fed_at(name), timing.depth(name), _place(circuit, name))
    )
    events = tuple(_event(solution, traces[name], timing) for name in ordered)
    return ZoneStory(
        zone=zone,
        state=state,
        needs=tuple(_need(circuit, name) for name in zone.call_inputs),
        events=events,
        missing=tuple(_missing(solution, zone, number)),
        ends=_ends(circuit, traces),
        assumed=any(hop.assumed for event in events for hop in event.path),
    )


def _place(circuit: Circuit, load: str) -> int:
    return next(index for index, item in enumerate(circuit.loads) if item.name == load)


class _Timing:
    """When each load is fed, in seconds after the call: contacts on its way wait for the parts that move them."""

    def __init__(self, circuit: Circuit, traces: Mapping[str, Trace]) -> None:
        self.driven = {part.name: part for part in circuit.driven}
        self.traces = traces
        self._fed: dict[str, float] = {}
        self._open: set[str] = set()

    def fed_at(self, load: str) -> float:
        if load not in self.traces or load in self._open:
            return 0.0
        if load not in self._fed:
            self._open.add(load)
            contacts = [
                s.contact for t in (self.traces[load].out, self.traces[load].back) for s in t if s.contact
            ]
            self._fed[load] = max((self._contact(contact) for contact in contacts), default=0.0)
            self._open.discard(load)
        return self._fed[load]

    def depth(self, load: str) -> int:
        """How many driven parts lie between the call and the load."""
        if load not in self.traces or load in self._open:
            return 0
        self._open.add(load)
        parts = [
            self._depth_of(leaf.name)
            for step in self.traces[load].out
            if step.contact
            for leaf in atoms(step.contact.when)
            if isinstance(leaf, Is)
        ]
        self._open.discard(load)
        return max(parts, default=0)

    def _depth_of(self, part: str) -> int:
        if part not in self.driven:
            return 0
        return 1 + max((self._depth_in(leaf) for leaf in atoms(self.driven[part].when)), default=0)

    def _depth_in(self, leaf: Expr) -> int:
        if isinstance(leaf, Fed):
            return self.depth(leaf.load)
        return self._depth_of(leaf.name) if isinstance(leaf, Is) else 0

    def _contact(self, contact: Contact) -> float:
        return max(
            (
                self.moved_at(self.driven[leaf.name])
                for leaf in atoms(contact.when)
                if isinstance(leaf, Is) and leaf.name in self.driven
            ),
            default=0.0,
        )

    def moved_at(self, part: Driven) -> float:
        """When the part has moved."""
        starts = [0.0]
        for leaf in atoms(part.when):
            if isinstance(leaf, Fed):
                starts.append(self.fed_at(leaf.load))
            elif isinstance(leaf, Is) and leaf.name in self.driven:
                starts.append(self.moved_at(self.driven[leaf.name]))
        return max(starts) + part.on_s


def _event(solution: Solution, trace: Trace, timing: _Timing) -> Event:
    circuit = solution.circuit
    naming = Naming(circuit)
    load = trace.load
    start, steps = _from_permanent_live(solution, trace.out)
    path = hops(circuit, steps)
    moved = [
        part
        for part in circuit.driven
        if any(isinstance(leaf, Fed) and leaf.load == load.name for leaf in atoms(part.when))
    ]
    moves = [_moves(circuit, part) for part in moved]
    fed = timing.fed_at(load.name)
    done = max((timing.moved_at(part) for part in moved), default=fed)
    return Event(
        load=load.name,
        device=naming.device(load.name),
        says=_sentence(naming, start, path),
        from_point=naming.point(start),
        path=path,
        happens=capital(listed(moves)) if moves else f"{capital(naming.device(load.name))} is fed",
        at_s=fed,
        done_s=done,
    )


def _from_permanent_live(solution: Solution, steps: tuple[Step, ...]) -> tuple[str, tuple[Step, ...]]:
    """The last terminal of a wiring centre on the way that is live in every state, and the way on from there.

    Where none is, the last point of any kind that is; where even that is missing, the whole way.
    """
    line, everywhere = solution.settled.line, solution.space.everywhere
    boxes = {d.name for d in solution.circuit.with_duty(Duty.CENTRE)}
    always = [index for index, step in enumerate(steps) if line[step.to] == everywhere]
    in_box = [index for index in always if steps[index].to.split(".", 1)[0] in boxes]
    if not (in_box or always):
        return (steps[0].start if steps else ""), steps
    last = (in_box or always)[-1]
    return steps[last].to, steps[last + 1 :]


def _sentence(naming: Naming, start: str, path: tuple[Hop, ...]) -> str:
    """The path in one sentence, for a reader with a meter in hand."""
    pieces = [f"Live from {naming.point(start)}"]
    for hop in path:
        if hop.contact:
            through = f"through the {hop.contact}"
            pieces.append(f"{through} to {hop.to}" if naming.place(hop.to_ref) else through)
        elif hop.link:
            pieces.append(f"by the link to {hop.to}")
        else:
            pieces.append(f"by the {hop.core} core to {hop.to}")
    return f"{', '.join(pieces)}."


def _moves(circuit: Circuit, part: Driven) -> str:
    device = next(d for d in circuit.devices if d.name == part.name.split(".", 1)[0])
    what = lower(device.words)
    words = {"valve": f"the {what} opens", "pump": f"the {what} runs", "boiler": f"the {what} is called"}
    sentence = words.get(part.words, f"the {what} {part.words} is {part.on_words}")
    if part.words == "end switch":
        sentence = f"its end switch is {part.on_words}"
    if part.words == "relay":
        sentence = f"the {what} pulls in"
    return sentence


def _need(circuit: Circuit, name: str) -> str:
    item = next(item for item in circuit.inputs if item.name == name)
    device = next(d for d in circuit.devices if d.name == name.split(".", 1)[0])
    thing = "" if item.words == "thermostat" else f" {item.words}"
    article = "" if thing else "the "
    return f"{article}{lower(device.words)}{thing} is {item.on_words}"


def _missing(solution: Solution, zone: ZoneIntent, number: int) -> list[str]:
    """What a call of the zone should do and does not."""
    circuit, on = solution.circuit, solution.settled.on
    wanted: list[tuple[str, str]] = []
    if zone.valve:
        wanted.append((f"{zone.valve}.open", "its valve does not open"))
    wanted += [
        (f"{device.name}.firing", f"the {lower(device.words)} is not called")
        for device in circuit.with_duty(Duty.BOILER)
    ]
    wanted += [
        (f"{device.name}.running", f"the {lower(device.words)} does not run")
        for device in circuit.with_duty(Duty.PUMP)[:1]
    ]
    return [words for name, words in wanted if name in on and not on[name] >> number & 1]


def _ends(circuit: Circuit, traces: Mapping[str, Trace]) -> str:
    """What happens when the call ends."""
    valves = [d for d in circuit.with_duty(Duty.VALVE) if f"{d.name}.motor" in traces]
    if not valves:
        return ""
    names = listed([f"the {lower(valve.words)}" for valve in valves])
    ending = f"When the call ends, the spring shuts {names} and the end switch breaks"
    running_on = [
        d
        for d in circuit.with_duty(Duty.BOILER)
        if any(i.name == f"{d.name}.overrun" for i in circuit.inputs)
    ]
    if running_on:
        return f"{ending}; the boiler stops firing and may hold the pump on for some minutes (overrun)."
    return f"{ending}; the boiler and the pump stop unless another zone calls."
