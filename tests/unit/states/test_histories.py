"""What depends on history, found again in other ways: one state and one change of one input at a time."""

import random
from collections.abc import Callable, Iterator, Mapping
from functools import partial

import pytest

from generator.catalogue.logic import All, Any, Expr, Fed, Is, Not
from generator.catalogue.parts import (
    Contact,
    DeviceParts,
    Driven,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Terminal,
)
from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.space import states_in
from generator.states.volts import solve_volts
from tests.circuits import Kinds, Wire, house
from tests.three_port_houses import mid_position

Rest = tuple[int, tuple[bool, ...]]
"""A state and every driven part at rest in it."""


def latch() -> Circuit:
    """One thermostat pulls a relay in, another drops it; a second relay follows the first and runs a pump."""
    wires: list[Wire] = [
        ("spur.L", "drop.common", "BN", "drop"),
        ("drop.satisfied", "start.common", "BK", "drop"),
        ("start.call", "first.A1", "BK", "start"),
        ("drop.satisfied", "first.11", "BN", "first"),
        ("first.14", "first.A1", "BK", "first"),
        ("first.A2", "spur.N", "BU", "first"),
        ("first.A1", "second.A1", "BN", "second"),
        ("second.A2", "spur.N", "BU", "second"),
        ("spur.L", "second.11", "RD", "second"),
        ("second.14", "pump.L", "BN", "pump"),
        ("pump.N", "spur.N", "BU", "pump"),
    ]
    devices: Kinds = {
        "spur": "fused-spur",
        "drop": ("room-thermostat", {"satisfied_terminal": True}),
        "start": "room-thermostat",
        "first": "relay",
        "second": "relay",
        "pump": "pump",
    }
    return house(devices=devices, conductors=wires)


def chain() -> Circuit:
    """Three relays that hold themselves, each once the one before it is in and its own thermostat calls."""
    wires: list[Wire] = []
    fed = "spur.L"
    for number in range(3):
        relay, stat = f"relay-{number}", f"stat-{number}"
        wires += [
            (fed, f"{stat}.common", "BN", stat),
            (f"{stat}.call", f"{relay}.A1", "BK", stat),
            (f"{relay}.A2", "spur.N", "BU", relay),
            ("spur.L", f"{relay}.11", "BN", relay),
            (f"{relay}.14", f"{relay}.A1", "BK", relay),
        ]
        fed = f"{relay}.14"
    names = range(3)
    devices = {f"relay-{n}": "relay" for n in names} | {f"stat-{n}": "room-thermostat" for n in names}
    return house(devices={"spur": "fused-spur", **devices}, conductors=wires)


def buzzer() -> Circuit:
    """A relay that breaks its own coil while started, unless another one, which holds itself, bridges it."""
    wires: list[Wire] = [
        ("spur.L", "start.common", "BN", "start"),
        ("start.call", "own.11", "BK", "start"),
        ("own.12", "own.A1", "BK", "own"),
        ("own.A2", "spur.N", "BU", "own"),
        ("start.call", "held.21", "BN", "bridge"),
        ("held.24", "own.A1", "BK", "bridge"),
        ("spur.L", "press.common", "BN", "press"),
        ("press.call", "held.A1", "BK", "press"),
        ("spur.L", "held.11", "BN", "held"),
        ("held.14", "held.A1", "BK", "held"),
        ("held.A2", "spur.N", "BU", "held"),
    ]
    devices: Kinds = {
        "spur": "fused-spur",
        "start": "room-thermostat",
        "press": "room-thermostat",
        "own": "relay",
        "held": ("relay", {"poles": 2}),
    }
    return house(devices=devices, conductors=wires)


def interlocked() -> Circuit:
    """Two relays, each started by its own thermostat and then held through the other one's rest contact."""
    wires: list[Wire] = [("spur.L", "hold.common", "BN", "hold")]
    for own, other in (("one", "two"), ("two", "one")):
        wires += [
            ("spur.L", f"start-{own}.common", "BN", f"start-{own}"),
            (f"start-{own}.call", f"{own}.A1", "BK", f"start-{own}"),
            (f"{own}.A2", "spur.N", "BU", own),
            ("hold.call", f"{other}.21", "BN", f"hold-{own}"),
            (f"{other}.22", f"{own}.11", "BK", f"hold-{own}"),
            (f"{own}.14", f"{own}.A1", "OG", f"hold-{own}"),
        ]
    devices: Kinds = {
        "spur": "fused-spur",
        "start-one": "room-thermostat",
        "start-two": "room-thermostat",
        "hold": "room-thermostat",
        "one": ("relay", {"poles": 2}),
        "two": ("relay", {"poles": 2}),
    }
    return house(devices=devices, conductors=wires)


def at_random(seed: int) -> Circuit:
    """Three coils, each behind a contact that goes by some of three switches and of the coils' own armatures."""
    chance = random.Random(seed)  # noqa: S311  # repeatable
    switches, armatures = ("a", "b", "c"), ("x", "y", "z")

    def some() -> Expr:
        leaves = [Is(name) for name in chance.sample((*switches, *armatures), chance.randint(1, 3))]
        return All(tuple(chance.choice((leaf, leaf, Not(leaf))) for leaf in leaves))

    def terminal(name: str) -> Terminal:
        return Terminal(name=name, words=name, role=Role.CONTACT, needed=False)

    box = DeviceParts(
        terminals=(terminal("L"), terminal("N")),
        inner=armatures,
        inputs=tuple(
            Input(name=name, words=name, on_words="on", off_words="off", kind=InputKind.CHANNEL)
            for name in switches
        ),
        contacts=tuple(
            Contact(name=f"to-{name}", words="contact", a="L", b=name, when=Any((some(), some())))
            for name in armatures
        ),
        loads=tuple(
            Load(name=name, words="coil", a=name, b="N", watts=5, power_factor=1, kind=LoadKind.COIL)
            for name in armatures
        ),
        driven=tuple(
            Driven(name=name, words="armature", on_words="in", off_words="out", when=Fed(name))
            for name in armatures
        ),
    )
    wires: list[Wire] = [("spur.L", "box.L", "BN"), ("spur.N", "box.N", "BU")]
    return house(devices={"spur": "fused-spur", "box": box}, conductors=wires)


CIRCUITS: dict[str, Callable[[], Circuit]] = {
    "latch": latch,
    "chain": chain,
    "buzzer": buzzer,
    "interlocked": interlocked,
    "mid-position": mid_position,
}
AT_RANDOM = {f"random {seed}": partial(at_random, seed) for seed in range(60)}
EVERY: dict[str, Callable[[], Circuit]] = {**CIRCUITS, **AT_RANDOM}

Settle = Callable[[int, tuple[bool, ...]], tuple[bool, ...] | None]
"""Where the parts come to rest in a state, from where they stand; None where they never do."""


def by_volts(circuit: Circuit) -> Settle:
    """By the solver in volts, which shares no logic with the one that is tested."""
    names = [item.name for item in circuit.called_inputs]
    parts = [part.name for part in circuit.driven]

    def settle(state: int, start: tuple[bool, ...]) -> tuple[bool, ...] | None:
        inputs = {name: bool(state >> place & 1) for place, name in enumerate(names)}
        result = solve_volts(circuit, inputs, start=dict(zip(parts, start, strict=True)))
        return tuple(result.driven[part] for part in parts) if result.settled else None

    return settle


def by_truth(circuit: Circuit) -> Settle:
    """By the expressions of a random circuit alone; what is known of an armature whatever was before is there at once."""
    inputs = [item.name for item in circuit.called_inputs]
    parts = [part.name for part in circuit.driven]
    rules = {item.b: item.when for item in circuit.contacts if item.b in parts}

    def after(state: int, values: Mapping[str, bool | None]) -> dict[str, bool | None]:
        known = {name: bool(state >> place & 1) for place, name in enumerate(inputs)}
        return {part: truth(rules[part], {**known, **values}) for part in parts}

    def settle(state: int, start: tuple[bool, ...]) -> tuple[bool, ...] | None:
        sure: dict[str, bool | None] = dict.fromkeys(parts)
        for _ in parts:
            sure = after(state, sure)
        now = {
            part: was if sure[part] is None else sure[part] for part, was in zip(parts, start, strict=True)
        }
        for _ in range(2 << len(parts)):
            if after(state, now) == now:
                return tuple(bool(now[part]) for part in parts)
            now = after(state, now)
        return None

    return settle


def truth(expr: Expr, values: Mapping[str, bool | None]) -> bool | None:
    """An expression with values that may be missing; None where it depends on one that is."""
    match expr:
        case Is(name):
            return values[name]
        case Not(inner):
            of = truth(inner, values)
            return None if of is None else not of
        case All(parts):
            found = {truth(part, values) for part in parts}
            return False if False in found else None if None in found else True
        case Any(parts):
            found = {truth(part, values) for part in parts}
            return True if True in found else None if None in found else False
        case _:
            raise TypeError(expr)


class Walk:
    """Every rest that is reached from one where nothing has moved yet, by changes of one input at a time."""

    def __init__(self, circuit: Circuit, settle: Settle) -> None:
        names = [item.name for item in circuit.called_inputs]
        self.parts = [part.name for part in circuit.driven]
        self.states = range(1 << len(names))
        self.ways: dict[Rest, set[tuple[str, bool]]] = {}
        self.first = {state: settle(state, (False,) * len(self.parts)) for state in self.states}
        waiting = [(state, rest) for state, rest in self.first.items() if rest is not None]
        self.found = set(waiting)
        while waiting:
            state, rest = waiting.pop()
            for place, name in enumerate(names):
                there = state ^ 1 << place
                after = settle(there, rest)
                if after is None:
                    continue
                self.ways.setdefault((there, after), set()).add((name, bool(state >> place & 1)))
                if (there, after) not in self.found:
                    self.found.add((there, after))
                    waiting.append((there, after))


def listed(solution: Solution) -> Iterator[Rest]:
    """Every rest that the all-state solver lists."""
    parts = [part.name for part in solution.circuit.driven]
    for answer in solution.answers:
        for state in states_in(answer.at):
            yield state, tuple(bool(answer.on[part] >> state & 1) for part in parts)


def test_some_histories_matter_in_each_and_in_most_of_those_at_random() -> None:
    assert all(solve(circuit()).memories for circuit in CIRCUITS.values())
    assert sum(bool(solve(circuit()).memories) for circuit in AT_RANDOM.values()) > 20
    assert sum(bool(solve(circuit()).hunting) for circuit in AT_RANDOM.values()) > 20


@pytest.mark.parametrize("name", EVERY)
def test_every_rest_is_listed_and_no_other(name: str) -> None:
    circuit = EVERY[name]()
    solution = solve(circuit)
    walk = Walk(circuit, by_volts(circuit) if name in CIRCUITS else by_truth(circuit))
    assert set(listed(solution)) == walk.found
    for state in walk.states:
        rest = walk.first[state]
        assert bool(solution.hunting >> state & 1) == (rest is None)
        assert bool(solution.settled.at >> state & 1) == (rest is not None)
        if rest is not None:
            assert tuple(bool(solution.settled.on[part] >> state & 1) for part in walk.parts) == rest
    for memory in solution.memories:
        for state in states_in(memory.answer.at):
            rest = tuple(bool(memory.answer.on[part] >> state & 1) for part in walk.parts)
            assert (memory.after, memory.was_on) in walk.ways[state, rest]


@pytest.mark.parametrize("name", EVERY)
def test_settings_searched_in_turn_give_the_same(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    circuit = EVERY[name]()
    at_once = solve(circuit)
    for bits in (1, 40):
        monkeypatch.setattr("generator.states.memory.MOST_BITS", bits)
        in_turn = solve(circuit)
        assert in_turn.settled == at_once.settled
        assert in_turn.memories == at_once.memories
        assert in_turn.hunting == at_once.hunting
