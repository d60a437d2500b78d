"""The rule on controls that never come to rest, and which part of them undoes what moves it.

Found by holding each moving part at one place and solving again. Knows this rule only.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from generator.catalogue.logic import ALWAYS, NEVER, All, Any, Expr, Fed, Is, Not, atoms
from generator.catalogue.parts import Driven
from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.example_house import RELAY, change
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import state_in_words, states_in_words
from generator.rules.words import device_of, the_device, way
from generator.states.solve import solve
from generator.states.space import fewest_on
from generator.states.trace import Step, why_fed


@dataclass(frozen=True, slots=True, kw_only=True)
class _Undone:
    """A part that undoes what moves it, and the way by which it is fed while at rest; empty where it is fed by none."""

    part: Driven
    steps: tuple[Step, ...]


def _hunts(subject: Subject) -> Iterator[Seen]:
    circuit, solution = subject.circuit, subject.solution
    state = fewest_on(solution.hunting)
    if state is None:
        return
    found = _undone(subject, state)
    holds = states_in_words(solution.hunting, solution.space, circuit).text
    if found is None:
        yield Seen(
            path=("wiring",),
            key=True,
            message="the controls never come to rest: a part that moves undoes what moved it, over and over",
            holds=holds,
        )
        return
    device = device_of(circuit, found.part.name)
    path, key = _blamed(circuit, found, device.path)
    by = f": {way(circuit, found.steps)}" if found.steps else ""
    words = state_in_words(state, solution.space, circuit)
    yield Seen(
        path=path,
        key=key,
        subject=device.name,
        message=f"the controls never come to rest: {the_device(device)} is fed through a contact that it breaks itself{by}",
        holds=holds,
        related=() if key else ((device.path, the_device(device)),),
        example=f"{words}: it moves, loses what moved it, falls back and begins again; the reading there comes and goes",
    )


def _undone(subject: Subject, state: int) -> _Undone | None:
    """The first part that moves while it is held at rest, and falls back while it is held moved."""
    circuit, solution = subject.circuit, subject.solution
    if not subject.telling:
        return None
    for part in circuit.driven:
        at_rest = solve(_held(circuit, part, NEVER), solution.held, unsure=solution.unsure)
        moved = solve(_held(circuit, part, ALWAYS), solution.held, unsure=solution.unsure)
        if (at_rest.hunting | moved.hunting) >> state & 1:
            continue
        if at_rest.settled.on[part.name] >> state & 1 and not moved.settled.on[part.name] >> state & 1:
            loads = {leaf.load for leaf in atoms(part.when) if isinstance(leaf, Fed)}
            traces = [
                why_fed(at_rest.circuit, at_rest.settled, state, load)
                for load in circuit.loads
                if load.name in loads
            ]
            return _Undone(part=part, steps=next((trace.out for trace in traces if trace), ()))
    return None


def _held(circuit: Circuit, part: Driven, value: Expr) -> Circuit:
    """The circuit in which everything takes a part to be held; what would move it is still worked out."""
    return replace(
        circuit,
        contacts=tuple(replace(item, when=_with(item.when, part.name, value)) for item in circuit.contacts),
        driven=tuple(
            replace(each, when=_with(each.when, part.name, value)) if each is not part else each
            for each in circuit.driven
        ),
    )


def _with(expr: Expr, name: str, value: Expr) -> Expr:
    match expr:
        case Is(this) if this == name:
            return value
        case Not(inner):
            return Not(_with(inner, name, value))
        case All(parts):
            return All(tuple(_with(each, name, value) for each in parts))
        case Any(parts):
            return Any(tuple(_with(each, name, value) for each in parts))
        case _:
            return expr


def _blamed(circuit: Circuit, found: _Undone, device: Path) -> tuple[Path, bool]:
    """The conductor that follows on the part's own contact, or comes before it; the device where there is none."""
    own = {item.name for item in circuit.contacts if Is(found.part.name) in atoms(item.when)}
    for index, step in enumerate(found.steps):
        if step.contact is not None and step.contact.name in own:
            for near in (*found.steps[index + 1 :], *reversed(found.steps[:index])):
                if near.conductor is not None:
                    return near.conductor.path, False
    return device, True


HUNTING = Rule(
    name="hunting",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The controls never come to rest",
    why="Something opens and shuts, or pulls in and lets go, again and again until it wears out.",
    fix="Feed what moves past its own contact; or use the contact that is made when it has moved.",
    source=COMMON_PRACTICE,
    limits="Parts that move at once are taken to move at the same moment; how fast it hunts is not told. Of several parts "
    "that undo each other the first is named.",
    right=RELAY,
    wrong=change(
        RELAY,
        ("        - { to: relay.A1, core: RD }\n", "        - { to: relay.11, core: BN }\n"),
        ("        - { to: relay.11, core: BN }\n", ""),
        ("\nzones:\n", "  links:\n    - { ends: [relay.12, relay.A1] }\n\nzones:\n"),
    ),
    look=_hunts,
)

CALLS_HUNTING: tuple[Rule, ...] = (HUNTING,)
