"""Where the settled result depends on what came before: each result, what leads to it and the way there, in words.

Knows the solved circuit and the shown states; nothing of pages.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Joined, atoms
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, PlacedDevice
from generator.states.answer import Answer, Memory, Solution
from generator.states.network import Bounds, Known, evaluate
from generator.states.timeline import Change, Moment, Timeline, moment_in, run
from generator.views.shown_states import ShownState, parts_on
from generator.views.wording import capital, listed, lower

_PORTS = {"open-heating": " to heating", "open-water": " to hot water", "open": ""}


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """What came before, as a sentence part (``after heating alone``), and what moves from then on."""

    words: str
    way: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Result:
    """One settled result: the shown state that has it, how things stand, what leads there, and a word of comfort.

    ``note`` is empty where there is nothing to add.
    """

    state: ShownState
    stands: str
    starts: tuple[Start, ...]
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class History:
    """A shown state whose result depends on what came before."""

    state: ShownState
    results: tuple[Result, ...]


def with_histories(
    solution: Solution, states: Sequence[ShownState], before: Sequence[ShownState] = ()
) -> tuple[ShownState, ...]:
    """The states, each followed by those that differ from it by what came before only.

    What came before is looked for among ``before``, among the states themselves where that is empty.
    """
    shown: list[ShownState] = []
    for state in states:
        shown.append(state)
        shown += _variants(solution, state, before or states)
    return tuple(shown)


def histories(solution: Solution, states: Sequence[ShownState]) -> tuple[History, ...]:
    """Every shown state with several results; ``states`` as `with_histories` gives them."""
    plain = [state for state in states if not state.after]
    found = []
    for state in plain:
        results = [state, *(each for each in states if each.after and each.on == state.on)]
        if len(results) > 1:
            found.append(_history(solution, state, results, plain))
    return tuple(found)


def _variants(solution: Solution, state: ShownState, states: Sequence[ShownState]) -> Iterator[ShownState]:
    number = solution.space.state(state.on)
    known = {parts_on(solution.settled, number)}
    for memory in solution.memories:
        on = parts_on(memory.answer, number)
        if not memory.answer.at >> number & 1 or on in known:
            continue
        known.add(on)
        before = [start for start, timeline in _arrivals(solution, state, states) if _ends(timeline) == on]
        after = _after(solution.circuit, before[0]) if before else _after_control(solution.circuit, memory)
        yield replace(
            state,
            id=f"{state.id}-after-{len(known) - 1}",
            short=f"{state.short}, {after}",
            words=f"{state.words}, {after}",
            after=after,
            start=on,
        )


def _arrivals(
    solution: Solution, state: ShownState, states: Sequence[ShownState]
) -> Iterator[tuple[ShownState, Timeline]]:
    """What happens when each other shown state, settled from rest, turns into this one all at once."""
    number = solution.space.state(state.on)
    for other in states:
        before = solution.space.state(other.on)
        if other.after or before == number or not solution.settled.at >> before & 1:
            continue
        start = moment_in(solution, solution.settled, before)
        timeline = run(solution.circuit, start, [(0.0, solution.inputs_in(number))], unsure=solution.unsure)
        if timeline.quiet:
            yield other, timeline


def _ends(timeline: Timeline) -> tuple[str, ...]:
    return tuple(name for name, on in timeline.end.driven.items() if on)


def _history(
    solution: Solution, state: ShownState, results: Sequence[ShownState], plain: Sequence[ShownState]
) -> History:
    number = solution.space.state(state.on)
    answers = [(each, _answer(solution, each, number)) for each in results]
    arrivals = [
        *_from_supply(solution, number),
        *((_after(solution.circuit, s), t) for s, t in _arrivals(solution, state, plain)),
    ]
    devices = [d for d in solution.circuit.devices if _differs(d, [a for _, a in answers], number)]
    return History(
        state=state,
        results=tuple(
            Result(
                state=each,
                stands=capital(listed([_stands(solution.circuit, d, answer, number) for d in devices])),
                starts=tuple(
                    Start(words=words, way=way_words(solution.circuit, timeline.changes))
                    for words, timeline in arrivals
                    if _ends(timeline) == parts_on(answer, number)
                ),
                note=_note(solution.circuit, each, answer, number),
            )
            for each, answer in answers
        ),
    )


def _answer(solution: Solution, state: ShownState, number: int) -> Answer:
    return next(
        (m.answer for m in solution.memories if state.after and parts_on(m.answer, number) == state.start),
        solution.settled,
    )


def _from_supply(solution: Solution, number: int) -> Iterator[tuple[str, Timeline]]:
    """What happens once the supply comes on with everything where it stands without it."""
    inputs = solution.inputs_in(number)
    start = Moment(inputs=inputs, driven=_without_supply(solution.circuit))
    timeline = run(solution.circuit, start, [(0.0, {})], unsure=solution.unsure)
    if timeline.quiet:
        yield "when the supply comes on", timeline


def _without_supply(circuit: Circuit) -> dict[str, bool]:
    """Where every driven part stands that had no supply for long: springs have won."""
    dead = {load.name: Bounds(0, 0) for load in circuit.loads}
    points = {node: Bounds(0, 0) for node in circuit.nodes}
    values = {item.name: Bounds(0, 0) for item in circuit.inputs}
    values |= {part.name: Bounds(0, 0) for part in circuit.driven}
    pairs = {(a.a, a.b): Bounds(0, 0) for p in circuit.driven for a in atoms(p.when) if isinstance(a, Joined)}
    for _ in circuit.driven:
        known = Known(
            values=values, unsure=Bounds(0, 0), everywhere=1, fed=dead, line=points, back=points, joined=pairs
        )
        values |= {part.name: evaluate(part.when, known) for part in circuit.driven}
    return {part.name: bool(values[part.name].low) for part in circuit.driven}


def _after(circuit: Circuit, state: ShownState) -> str:
    """What came before: ``after heating alone``."""
    words = {zone.name: lower(zone.words) for zone in circuit.zones}
    if len(state.zones) == 1:
        return f"after {words[state.zones[0]]} alone"
    if state.zones:
        return f"after {listed([words[name] for name in state.zones])} together"
    return f"after a time in which {state.words}"


def _after_control(circuit: Circuit, memory: Memory) -> str:
    """The same for a result that no shown state leads to: by the last control that changed."""
    item = next(each for each in circuit.inputs if each.name == memory.after)
    device = circuit.device(item.name.split(".", 1)[0])
    what = item.off_words if memory.was_on else item.on_words
    thing = "" if item.words == "thermostat" else f" {item.words}"
    return f"after {lower(device.words)}{thing} has changed to {what}, if it was otherwise before"


def _differs(device: PlacedDevice, answers: Sequence[Answer], number: int) -> bool:
    """Whether a device stands otherwise in one answer than in another, or its motor is fed otherwise."""

    def looks(answer: Answer) -> tuple[int, ...]:
        return (
            *(answer.on[part.name] >> number & 1 for part in device.parts.driven),
            *(answer.fed[load.name] >> number & 1 for load in device.parts.loads),
        )

    return len({looks(answer) for answer in answers}) > 1


def _stands(circuit: Circuit, device: PlacedDevice, answer: Answer, number: int) -> str:
    """How a device stands: ``the valve is open to heating only and its motor stays powered and warm``."""
    who = f"the {lower(device.words)}"
    on = {part.name.split(".", 1)[1] for part in device.parts.driven if answer.on[part.name] >> number & 1}
    if device.duty is Duty.VALVE:
        return f"{who} is {_open_words(device, on)} and {_motor_words(circuit, device, answer, number)}"
    if device.duty is Duty.BOILER and "firing" in {p.name.split(".", 1)[1] for p in device.parts.driven}:
        return f"{who} is {'called' if 'firing' in on else 'off'}"
    if device.parts.driven:
        part = device.parts.driven[0]
        return f"{who} is {part.on_words if answer.on[part.name] >> number & 1 else part.off_words}"
    return f"{who} is {'fed' if any(answer.fed[x.name] >> number & 1 for x in device.parts.loads) else 'off'}"


def _open_words(device: PlacedDevice, on: set[str]) -> str:
    names = {part.name.split(".", 1)[1] for part in device.parts.driven}
    if "open-heating" not in names:
        return "open" if "open" in on else "shut"
    open_to = [_PORTS[name].strip() for name in ("open-heating", "open-water") if name in on]
    if len(open_to) == 2:
        return "half-way, open to heating and to hot water,"
    return f"open {open_to[0]} only" if open_to else "shut"


def _motor_words(circuit: Circuit, device: PlacedDevice, answer: Answer, number: int) -> str:
    motors = [load for load in device.parts.loads if load.kind is LoadKind.MOTOR]
    if any(answer.fed[load.name] >> number & 1 for load in motors):
        return "its motor stays powered and warm"
    if half_wave_on(circuit, device, answer, number):
        return "its motor has half the supply, through its diode, and holds still"
    return "its motor has no power"


def half_wave_on(circuit: Circuit, device: PlacedDevice, answer: Answer, number: int) -> bool:
    """Whether a diode of the device has line on one side alone, in a state of an answer."""
    values = {part.name: _bit(answer.on[part.name], number) for part in circuit.driven}
    known = Known(values=values, unsure=Bounds(0, 0), everywhere=1)
    return any(
        evaluate(diode.when, known).low
        and (answer.line[diode.anode] ^ answer.line[diode.cathode]) >> number & 1
        for diode in device.parts.diodes
    )


def _bit(vector: int, number: int) -> Bounds:
    value = vector >> number & 1
    return Bounds(value, value)


def _note(circuit: Circuit, state: ShownState, answer: Answer, number: int) -> str:
    """What to say of a three-port valve that stays driven with nothing calling."""
    warm = [
        load
        for device in circuit.with_duty(Duty.VALVE)
        for load in device.parts.loads
        if load.kind is LoadKind.MOTOR and len(device.parts.diodes) and answer.fed[load.name] >> number & 1
    ]
    if state.zones or not warm:
        return ""
    watts = sum(load.watts for load in warm)
    return (
        f"This is no fault: the motor takes about {watts:g} W until hot water calls or the supply goes off "
        "(common practice, no source)."
    )


def way_words(circuit: Circuit, changes: Sequence[Change], since_s: float = 0.0) -> str:
    """What moves, in order of time; seconds count from ``since_s``."""
    said = []
    for change in changes:
        device = circuit.device(change.part.split(".", 1)[0])
        words = move(device, change.part.split(".", 1)[1], on=change.on)
        if words:
            after_s = change.at_s - since_s
            said.append(f"{words} after {after_s:.0f} s" if after_s >= 0.5 else f"{words} at once")
    return ", then ".join(said) if said else "nothing moves"


def move(device: PlacedDevice, part: str, *, on: bool) -> str:
    """What a part of a device does when it moves; empty for parts that no reader can see."""
    who = f"the {lower(device.words)}"
    if device.duty is Duty.VALVE:
        return f"{who} {'opens' if on else 'shuts'}{_PORTS[part]}" if part in _PORTS else ""
    words = {
        "firing": ("is called", "stops"),
        "running": ("runs", "stops"),
        "pulled-in": ("pulls in", "lets go"),
    }
    return f"{who} {words[part][0 if on else 1]}" if part in words else ""
