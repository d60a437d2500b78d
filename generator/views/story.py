"""How each zone calls for heat, worked out from the traces of the state in which only that zone calls.

Every sentence follows from a load that is fed in that state and is not at rest.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Fed, atoms
from generator.catalogue.parts import Driven, LoadKind
from generator.circuit.model import Circuit, PlacedDevice, ZoneIntent
from generator.states.answer import Solution
from generator.states.timeline import Change, simulate_call
from generator.states.trace import Step, Trace, path, why_fed
from generator.views.call_times import CallTimes, first_ways
from generator.views.history import move, way_words
from generator.views.needs import is_input, needed_boilers, needed_pumps, told_by
from generator.views.paths import Hop, hops
from generator.views.shown_states import ShownState
from generator.views.wording import Naming, capital, listed, lower

_RESTLESS = "the circuit never comes to rest: parts switch each other on and off without end"
_SENSORS = (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT, Duty.TIMER)
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
    by_zone = {state.zones[0]: state for state in states if len(state.zones) == 1 and not state.after}
    return tuple(
        _story(solution, zone, by_zone[zone.name]) for zone in solution.circuit.zones if zone.name in by_zone
    )


def _story(solution: Solution, zone: ZoneIntent, state: ShownState) -> ZoneStory:
    circuit = solution.circuit
    number = solution.space.state(state.on)
    answer = solution.settled
    traces: dict[str, Trace] = {}
    # the small heater or the electronics of a thermostat moves nothing
    sensors = {device.name for duty in _SENSORS for device in circuit.with_duty(duty)}
    for load in circuit.loads:
        vector = answer.fed[load.name]
        newly_fed = vector >> number & 1 and not vector & 1
        shown = load.kind in _SHOWN_LOADS or is_input(circuit, load)
        if newly_fed and shown and load.name.split(".", 1)[0] not in sensors:
            trace = why_fed(circuit, answer, number, load)
            if trace is not None:
                traces[load.name] = trace
    call = simulate_call(solution, state.on)
    times = CallTimes(solution, traces, call)
    ordered = sorted(traces, key=lambda name: (times.fed_at(name), times.depth(name), _place(circuit, name)))
    events = (
        *_first_events(solution, number, traces, times),
        *(_event(solution, traces[name], times) for name in ordered),
    )
    for told in _joined(solution, number, times):
        later = [index for index, event in enumerate(events) if event.at_s > told.at_s]
        place = later[0] if later else len(events)
        events = (*events[:place], told, *events[place:])
    return ZoneStory(
        zone=zone,
        state=state,
        needs=tuple(_need(circuit, name) for name in zone.call_inputs),
        events=events,
        missing=(_RESTLESS,) if solution.hunting >> number & 1 else tuple(_missing(solution, zone, number)),
        ends=_ends(circuit, traces, times),
        assumed=any(hop.assumed for event in events for hop in event.path),
    )


def _place(circuit: Circuit, load: str) -> int:
    return next(index for index, item in enumerate(circuit.loads) if item.name == load)


def _first_events(
    solution: Solution, number: int, traces: Mapping[str, Trace], times: CallTimes
) -> Iterator[Event]:
    """Motors that are fed at once, by another way than in the end or not in the end at all."""
    for name, trace in first_ways(solution, number).items():
        last = traces.get(name)
        if last is not None and last.out == trace.out:
            continue
        later_s = times.fed_at(name) if last is not None else inf
        device = solution.circuit.device(name.split(".", 1)[0])
        moves = [change for change in times.changes if change.at_s <= later_s]
        done_s = max((change.at_s for change in moves if _way_of(device, change)), default=0.0)
        happens = [word for change in moves if (word := _way_of(device, change))]
        if happens:
            yield _told(solution, trace, capital(listed(happens)), at_s=0.0, done_s=done_s)


def _way_of(device: PlacedDevice, change: Change) -> str:
    """What a change is in words where it is a way of the device that opens or shuts; else empty."""
    owner, part = change.part.split(".", 1)
    return move(device, part, on=change.on) if owner == device.name else ""


def _event(solution: Solution, trace: Trace, times: CallTimes) -> Event:
    circuit = solution.circuit
    name = trace.load.name
    device = circuit.device(name.split(".", 1)[0])
    moved = [
        part
        for part in circuit.driven
        if any(isinstance(leaf, Fed) and leaf.load == name for leaf in atoms(part.when))
    ]
    fed_s = times.fed_at(name)
    # a boiler is called at once; that it lights some seconds later is another matter
    done_s = max((times.moved_at(part) for part in moved if not part.name.endswith(".firing")), default=fed_s)
    moves = [_moves(circuit, part) for part in moved]
    if device.duty is Duty.VALVE and trace.load.kind is LoadKind.MOTOR and _outlets(device):
        since = [change for change in times.changes if change.at_s > fed_s or not fed_s]
        moves = [word for change in since if (word := _way_of(device, change))]
    if not moves and trace.load.kind is LoadKind.PUMP:
        moves = [f"the {trace.load.words} runs"]
    happens = capital(listed(moves)) if moves else f"{capital(Naming(circuit).device(name))} is fed"
    return _told(solution, trace, happens, at_s=fed_s, done_s=max(done_s, fed_s))


def _joined(solution: Solution, number: int, times: CallTimes) -> Iterator[Event]:
    """What is called by two of its terminals being joined, with no voltage of the mains on them."""
    circuit, answer = solution.circuit, solution.settled
    naming = Naming(circuit)
    for sense in circuit.senses:
        moved = [
            part
            for part in told_by(circuit, sense)
            if answer.on[part.name] >> number & 1 and not answer.on[part.name] & 1
        ]
        way = path(circuit, answer, number, [sense.a], sense.b) if moved else None
        if not way:
            continue
        passed = hops(circuit, way)
        yield Event(
            load=sense.name,
            device=naming.device(sense.name),
            says=_sentence(naming, sense.a, passed, begins="Joined, with no mains on it, from"),
            from_point=naming.point(sense.a),
            path=passed,
            happens=capital(listed([_moves(circuit, part) for part in moved])),
            at_s=times.made_at(way),
            done_s=times.made_at(way),
        )


def _outlets(device: PlacedDevice) -> bool:
    """Whether a valve has one way to heating and one to hot water."""
    return any(part.name.endswith(".open-water") for part in device.parts.driven)


def _told(solution: Solution, trace: Trace, happens: str, *, at_s: float, done_s: float) -> Event:
    naming = Naming(solution.circuit)
    start, steps = _from_permanent_live(solution, trace.out)
    passed = hops(solution.circuit, steps)
    return Event(
        load=trace.load.name,
        device=naming.device(trace.load.name),
        says=_sentence(naming, start, passed),
        from_point=naming.point(start),
        path=passed,
        happens=happens,
        at_s=at_s,
        done_s=done_s,
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


def _sentence(naming: Naming, start: str, way: tuple[Hop, ...], begins: str = "Live from") -> str:
    """The path in one sentence, for a reader with a meter in hand."""
    pieces = [f"{begins} {naming.point(start)}"]
    for hop in way:
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
    words = {
        "open": f"the {what} opens",
        "running": f"the {what} runs",
        "firing": f"the {what} is {part.on_words}",
    }
    short = part.name.split(".", 1)[1]
    sentence = words.get(short, f"the {what} {part.words} is {part.on_words}")
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
    wanted: list[tuple[tuple[str, ...], str]] = []
    if zone.opens:
        wanted.append(((zone.opens,), _not_opened(zone)))
    wanted += [
        ((f"{device.name}.firing",), f"the {lower(device.words)} is not called")
        for device in needed_boilers(circuit, zone)
    ]
    wanted += [
        (tuple(f"{device.name}.running" for device in group), f"the {lower(group[0].words)} does not run")
        for group in needed_pumps(circuit, zone)
        if f"{group[0].name}.running" != zone.opens
    ]
    known = [([name for name in names if name in on], words) for names, words in wanted]
    return [words for names, words in known if names and not any(on[name] >> number & 1 for name in names)]


def _not_opened(zone: ZoneIntent) -> str:
    to = {"open-heating": " to heating", "open-water": " to hot water"}.get(zone.opens.split(".", 1)[1], "")
    return f"its valve does not open{to}" if zone.valve else "its pump does not run"


def _ends(circuit: Circuit, traces: Mapping[str, Trace], times: CallTimes) -> str:
    """What happens when the call ends."""
    valves = [d for d in circuit.with_duty(Duty.VALVE) if f"{d.name}.motor" in traces]
    if any(_outlets(device) or device.parts.inner for device in circuit.with_duty(Duty.VALVE)):
        stays = [f"the motor of the {lower(v.words)} stays powered" for v in valves if _stays(v, times)]
        ends = f"When the call ends: {way_words(circuit, times.after, times.ended_s)}"
        return f"{ends}; {listed(stays)}." if stays else f"{ends}."
    if not valves:
        return ""
    names = listed([f"the {lower(valve.words)}" for valve in valves])
    switched = any(item.name.endswith(".end-switch") for valve in valves for item in valve.parts.contacts)
    ending = f"When the call ends, the spring shuts {names}{' and the end switch breaks' if switched else ''}"
    running_on = [
        d
        for d in circuit.with_duty(Duty.BOILER)
        if any(i.name == f"{d.name}.overrun" for i in circuit.inputs)
    ]
    if running_on:
        return f"{ending}; the boiler stops firing and may hold the pump on for some minutes (overrun)."
    return f"{ending}; the boiler and the pump stop unless another zone calls."


def _stays(valve: PlacedDevice, times: CallTimes) -> bool:
    """Whether a valve stands after the call where its motor brought it."""
    ways = [part.name for part in valve.parts.driven if part.name.split(".", 1)[1].startswith("open")]
    return not any(change.part in ways for change in times.after)
