"""In which states something is so, in plain words: the shortest description that is exact.

Knows inputs and zones, not rules. A description that would be too long gives one state and a count instead.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from generator.circuit.model import Circuit, ZoneIntent
from generator.rules.covers import Condition, Term, shortest_cover
from generator.rules.rule import When
from generator.rules.words import and_so_on, the_device, the_zone
from generator.states.space import StateSpace, fewest_on

MOST_CONTROLS = 8
"""Controls that a description may depend on before an example stands in for it."""
_MOST_COST = 20
_NOTHING, _ANYTHING = "nothing calls", "anything calls"


@dataclass(frozen=True, slots=True)
class Wording:
    """A description. ``exact`` is False where it gives one state and a count."""

    text: str
    exact: bool


def states_in_words(vector: int, space: StateSpace, circuit: Circuit) -> Wording:
    """Describe the states of a vector.

    Args:
        vector: over the space.
        space: whose inputs are called inputs of the circuit.
        circuit: gives inputs their words and zones their calls.

    Returns:
        ``in every state``, ``while nothing calls``, ``whenever hot water calls and the hall thermostat is satisfied``.
    """
    vector &= space.everywhere
    if not vector:
        return Wording("in no state", True)
    if vector == space.everywhere:
        return Wording("in every state", True)
    anything = any_call(space, circuit)
    if anything and vector == anything:
        return Wording(f"whenever {_ANYTHING}", True)
    if anything and vector == space.everywhere & ~anything:
        return Wording(f"while {_NOTHING}", True)
    controls = tuple(name for name in space.inputs if space.turned(vector, name) != vector)
    if len(controls) > MOST_CONTROLS:
        return _example(vector, space, circuit)
    small = StateSpace(controls)
    target = _projected(vector, space, controls)
    conditions = tuple(_conditions(small, circuit))
    direct = shortest_cover(target, conditions, small.everywhere)
    rest = shortest_cover(small.everywhere & ~target, conditions, small.everywhere)
    choices = [
        (sum(term.cost for term in terms) + extra, opening, terms)
        for terms, opening, extra in ((direct, "", 0), (rest, "in every state except ", 3))
        if terms is not None
    ]
    if not choices:
        return _example(vector, space, circuit)
    cost, opening, terms = min(choices, key=lambda choice: choice[0])
    if cost > _MOST_COST:
        return _example(vector, space, circuit)
    return Wording(opening + _sentence(terms, exception=bool(opening)), True)


def when_in_words(when: When, space: StateSpace, circuit: Circuit) -> str:
    """Describe the states of a `When`, with the history that leads to those that need one."""
    parts = []
    if when.settled:
        parts.append(states_in_words(when.settled, space, circuit).text)
    if when.after:
        vector = 0
        for _, more in when.after:
            vector |= more
        first = when.after[0][0]
        who, what = _control(circuit, first.after, not first.was_on)
        parts.append(
            f"{states_in_words(vector, space, circuit).text}, if what came before leads there "
            f"(for example once {who} has changed to {what})"
        )
    return "; also ".join(parts)


def call_of(space: StateSpace, zone: ZoneIntent) -> int:
    """The states in which all controls meant for a zone call; empty for a zone without controls."""
    vector = space.everywhere if zone.call_inputs else 0
    for group in zone.call_groups:
        on = 0
        for name in group:
            on |= space.where(name) if name in space.inputs else 0
        vector &= on
    return vector


def designed_call(space: StateSpace, circuit: Circuit) -> int:
    """The states in which something calls by design, whatever the zones want: frost, heat to be carried away."""
    vector = 0
    for item in circuit.called_inputs:
        if item.calls and item.name in space.inputs:
            vector |= space.where(item.name)
    return vector


def any_call(space: StateSpace, circuit: Circuit) -> int:
    """The states in which any zone calls, or something calls by design."""
    vector = designed_call(space, circuit)
    for zone in circuit.zones:
        vector |= call_of(space, zone)
    return vector


def _projected(vector: int, space: StateSpace, controls: tuple[str, ...]) -> int:
    """The vector over the space of a few controls, the others off."""
    bits = vector.to_bytes((space.size + 7) // 8, "little")
    places = [1 << space.inputs.index(name) for name in controls]
    small = 0
    for state in range(1 << len(controls)):
        whole = sum(place for index, place in enumerate(places) if state >> index & 1)
        if bits[whole >> 3] >> (whole & 7) & 1:
            small |= 1 << state
    return small


def _conditions(space: StateSpace, circuit: Circuit) -> Iterator[Condition]:
    """What can be said of the states: calls of zones first, then single controls."""
    whole = [
        zone
        for zone in circuit.zones
        if zone.call_inputs and {*zone.call_inputs, *zone.channel_also} <= set(space.inputs)
    ]
    every = space.everywhere
    designed = {item.name for item in circuit.called_inputs if item.calls}
    all_zones = len(whole) == sum(1 for zone in circuit.zones if zone.call_inputs)
    if all_zones and designed <= set(space.inputs) and len(whole) + len(designed) > 1:
        anything = any_call(space, circuit)
        yield Condition(_NOTHING, "all zones", every & ~anything, 2)
        yield Condition(_ANYTHING, "all zones", anything, 4)
    told: set[str] = set()
    for zone in whole:
        words = the_zone(zone)
        if words in told:
            continue
        told.add(words)
        call = call_of(space, zone)
        yield Condition(f"{words} calls", f"zone {zone.name}", call, 3)
        yield Condition(f"{words} does not call", f"zone {zone.name}", every & ~call, 4)
    for name in space.inputs:
        for value, vector in ((True, space.where(name)), (False, every & ~space.where(name))):
            yield Condition(" is ".join(_control(circuit, name, value)), f"input {name}", vector, 3)


def _control(circuit: Circuit, name: str, value: bool) -> tuple[str, str]:
    """The words of a control and of its state: ``channel 1 of the programmer``, ``on``."""
    item = next(each for each in circuit.inputs if each.name == name)
    device = circuit.device(name.split(".", 1)[0])
    alone = sum(1 for each in device.parts.inputs if each.normal is None) <= 1
    who = the_device(device) if alone else f"{item.words} of {the_device(device)}"
    what = item.on_words if value else item.off_words
    return who, what


def _sentence(terms: tuple[Term, ...], *, exception: bool) -> str:
    spoken = []
    for term in terms:
        names = [condition.name for condition in term.conditions]
        word = "while" if exception or names[0] == _NOTHING else "whenever"
        spoken.append(f"{word} {' and '.join(names)}")
    return ", or ".join(spoken)


def state_in_words(state: int, space: StateSpace, circuit: Circuit) -> str:
    """One state: every control that is on in it."""
    on = [
        " ".join(_control(circuit, name, True))
        for name in space.inputs
        if state >> space.inputs.index(name) & 1
    ]
    return f"with only {and_so_on(on)}" if on else "with every control off"


def _example(vector: int, space: StateSpace, circuit: Circuit) -> Wording:
    words = state_in_words(fewest_on(vector) or 0, space, circuit)
    count = vector.bit_count()
    return Wording(f"in {count} of {space.size} states, for example {words}", False)
