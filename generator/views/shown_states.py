"""The control states that pages show, chosen and named by what is calling, and by what came before where that matters.

Knows the zones that are intended and the inputs of the circuit; solves nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit, ZoneIntent
from generator.states.answer import Answer, Solution


class StateGroup(StrEnum):
    """What sort of thing calls: what the choice of a state is ordered by. The value is a heading for people."""

    HOUSE = "The whole house"
    ZONE = "One zone calls"
    BY_ITSELF = "Calls by itself, whatever the zones want"


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownState:
    """One state of the selector.

    ``id`` is the same for houses alike but for names. ``short`` fits a button, ``words`` is a sentence
    part after "while". ``on`` are the inputs that are on, all others being off. ``zones`` are those that call.
    ``after`` says what came before, empty where the state is reached from rest; ``start`` then names the driven
    parts that are on from before.
    """

    id: str
    short: str
    words: str
    on: tuple[str, ...]
    zones: tuple[str, ...]
    after: str = ""
    start: tuple[str, ...] = ()
    group: StateGroup = StateGroup.HOUSE


def answer_for(solution: Solution, state: ShownState) -> Answer:
    """The settled result that a shown state stands for: from rest, or the one that its history leads to."""
    if not state.after:
        return solution.settled
    number = solution.space.state(state.on)
    for memory in solution.memories:
        if memory.answer.at >> number & 1 and parts_on(memory.answer, number) == state.start:
            return memory.answer
    return solution.settled


def parts_on(answer: Answer, number: int) -> tuple[str, ...]:
    """The driven parts that are on in a state of an answer, in the circuit's order."""
    return tuple(name for name, vector in answer.on.items() if vector >> number & 1)


def shown_states(circuit: Circuit) -> tuple[ShownState, ...]:
    """Rest; timers on with nothing calling; each zone alone; all zones together."""
    zones = tuple(zone for zone in circuit.zones if zone.call_inputs)
    states = [ShownState(id="rest", short="Nothing calls", words="nothing calls", on=(), zones=())]
    channels = tuple(item.name for item in circuit.called_inputs if item.kind is InputKind.CHANNEL)
    if channels:
        states.append(
            ShownState(
                id="timers",
                short="Timers on, all satisfied",
                words="every timer channel is on and every thermostat is satisfied",
                on=channels,
                zones=(),
            )
        )
    for number, zone in enumerate(zones, start=1):
        states.append(
            ShownState(
                id=f"zone-{number}",
                short=f"{zone.words} calls",
                words=f"only {_lower(zone)} calls",
                on=zone.call_inputs,
                zones=(zone.name,),
                group=StateGroup.ZONE,
            )
        )
    if len(zones) > 1:
        together = tuple(dict.fromkeys(name for zone in zones for name in zone.call_inputs))
        states.append(
            ShownState(
                id="all",
                short="Everything calls",
                words="every zone calls",
                on=together,
                zones=tuple(zone.name for zone in zones),
            )
        )
    return (*states, *_by_design(circuit))


def _by_design(circuit: Circuit) -> Iterator[ShownState]:
    """One state for each thing that calls by design, whatever the zones want: a frost thermostat, a hot stove."""
    for number, item in enumerate((item for item in circuit.called_inputs if item.calls), start=1):
        device = circuit.device(item.name.split(".", 1)[0])
        words = device.words[:1].lower() + device.words[1:]
        yield ShownState(
            id=f"design-{number}",
            short=f"{device.words}: {item.on_words}",
            words=f"only the {words} is {item.on_words}",
            on=(item.name,),
            zones=(),
            group=StateGroup.BY_ITSELF,
        )


def grouped(states: Sequence[ShownState]) -> tuple[tuple[StateGroup, tuple[ShownState, ...]], ...]:
    """The states by what sort of thing calls, in the order of the groups; groups without a state are left out."""
    return tuple(
        (group, found) for group in StateGroup if (found := tuple(s for s in states if s.group is group))
    )


def _lower(zone: ZoneIntent) -> str:
    return zone.words[:1].lower() + zone.words[1:]
