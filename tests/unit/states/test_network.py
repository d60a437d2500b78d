"""The folded circuit held against a graph library state by state, and expressions against every way to fill in what is not known."""

import random
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import product

import networkx as nx
import pytest

from generator.catalogue.logic import ALWAYS, NEVER, All, Any, Expr, Is, Not, Unsure
from generator.catalogue.parts import Contact, DeviceParts, Load, LoadKind, Role, Terminal
from generator.circuit.model import Circuit
from generator.states.network import (
    Bounds,
    Known,
    Reach,
    both,
    contact_names,
    either,
    energised,
    evaluate,
    fold,
)
from tests.circuits import house

STATES = 16
EVERYWHERE = (1 << STATES) - 1


def box(points: int, contacts: Sequence[tuple[int, int]], links: Sequence[tuple[int, int]] = ()) -> Circuit:
    """Points ``box.0`` and so on, contacts between some of them, and links between others."""
    parts = DeviceParts(
        terminals=tuple(
            Terminal(name=str(n), words="point", role=Role.CONTACT, needed=False) for n in range(points)
        ),
        contacts=tuple(
            Contact(name=f"contact-{n}", words="contact", a=str(a), b=str(b), when=ALWAYS)
            for n, (a, b) in enumerate(contacts)
        ),
    )
    return house(devices={"box": parts}, links=[(f"box.{a}", f"box.{b}") for a, b in links])


def plain(circuit: Circuit, starts: Sequence[str], made: Sequence[int]) -> dict[str, int]:
    """For each point the states in which a way leads to it from a start: one graph a state."""
    found = dict.fromkeys(circuit.nodes, 0)
    for state in range(STATES):
        graph = nx.Graph()
        graph.add_nodes_from(circuit.nodes)
        graph.add_edges_from((item.a, item.b) for item in circuit.conductors)
        graph.add_edges_from(
            (item.a, item.b)
            for item, vector in zip(circuit.contacts, made, strict=True)
            if vector >> state & 1
        )
        for point in {end for start in starts for end in nx.node_connected_component(graph, start)}:
            found[point] |= 1 << state
    return found


@cache
def boxes() -> tuple[Circuit, ...]:
    chance = random.Random(4)  # noqa: S311  # repeatable

    def pairs(most: int) -> list[tuple[int, int]]:
        return [tuple(chance.sample(range(7), 2)) for _ in range(chance.randint(0, most))]  # type: ignore[misc]

    return tuple(box(7, pairs(12), pairs(2)) for _ in range(30))


def settings(chance: random.Random, count: int) -> Iterator[list[int]]:
    """Contacts made in some states, then in more, in fewer, in the same, and in quite others."""
    made = [chance.getrandbits(STATES) & chance.getrandbits(STATES) for _ in range(count)]
    yield made
    made = [vector | chance.getrandbits(STATES) & chance.getrandbits(STATES) for vector in made]
    yield made
    made = [vector & chance.getrandbits(STATES) for vector in made]
    yield made
    yield made
    yield [chance.choice((0, EVERYWHERE, chance.getrandbits(STATES))) for _ in made]


@pytest.mark.parametrize("number", range(30))
def test_what_is_reached_is_what_a_graph_library_reaches(number: int) -> None:
    circuit = boxes()[number]
    network = fold(circuit)
    reach = Reach(network, EVERYWHERE)
    chance = random.Random(number)  # noqa: S311  # repeatable
    for made in settings(chance, len(circuit.contacts)):
        for starts in (("box.0",), ("box.1", "box.2"), ("box.0",)):
            assert network.by_node(reach(starts, made)) == plain(circuit, starts, made)
            assert network.by_node(network.reach(starts, made, EVERYWHERE)) == plain(circuit, starts, made)


def test_the_same_question_gets_the_very_answer_of_the_last_time() -> None:
    """And so does one about contacts that bear on nothing reached: here 3 to 4, beyond one that is never made."""
    reach = Reach(fold(box(5, [(0, 1), (1, 2), (2, 3), (3, 4)])), EVERYWHERE)
    first = reach(("box.0",), [0x0FF0, 0x00FF, 0, 0xAAAA])
    assert reach(("box.0",), [0x0FF0, 0x00FF, 0, 0xAAAA]) is first
    assert reach(("box.0",), [0x0FF0, 0x00FF, 0, 0x5555]) is first
    assert reach(("box.0",), [0x0FF0, 0x00FE, 0, 0x5555]) == (EVERYWHERE, 0x0FF0, 0x00F0, 0, 0)


class Counted(int):
    """A vector that counts how often it is joined to another."""

    done = 0

    def __and__(self, other: int) -> "Counted":
        Counted.done += 1
        return Counted(int(self) & int(other))

    def __or__(self, other: int) -> "Counted":
        Counted.done += 1
        return Counted(int(self) | int(other))

    __rand__, __ror__ = __and__, __or__


def test_a_contact_made_in_more_states_adds_to_the_last_answer() -> None:
    """The far end of a chain of ten contacts: what leads there is not gone through again."""
    reach = Reach(fold(box(11, [(at, at + 1) for at in range(10)])), EVERYWHERE)
    made = [Counted(0x0FF0 + at) for at in range(10)]
    Counted.done = 0
    reach(("box.0",), made)
    from_nothing = Counted.done
    after = reach(("box.0",), [*made[:-1], Counted(0x0FFF)])
    assert after[-1] == 0x0FF0
    assert Counted.done - from_nothing < from_nothing / 3


def test_what_is_so_nowhere_or_everywhere_costs_nothing() -> None:
    """No vector of many states is gone through where the result is one of the two that are there."""
    some, all_of_it, none = Counted(0x0FF0), Counted(EVERYWHERE), Counted(0)
    Counted.done = 0
    for a, b, result in (
        (some, all_of_it, some),
        (all_of_it, some, some),
        (some, none, none),
        (none, some, none),
        (all_of_it, none, none),
        (none, all_of_it, none),
    ):
        assert both(a, b, all_of_it) is result
    assert either(some, none) is some
    assert either(none, some) is some
    reach = Reach(fold(box(3, [(0, 1), (0, 1), (1, 2)])), all_of_it)
    assert reach(("box.0",), [all_of_it, some, all_of_it]) == (EVERYWHERE,) * 3
    assert Counted.done == 0
    assert both(some, Counted(0x00FF), all_of_it) == 0x00F0
    assert either(some, Counted(0x00FF)) == 0x0FFF
    assert Counted.done == 2


def test_nothing_makes_no_groups() -> None:
    assert fold(house(devices={})).groups == 0
    assert fold(box(3, [], [(0, 1)])).groups == 2
    assert fold(box(3, [(0, 1), (1, 2)], [(0, 1)])).edges == ((0, 1, 1),)


NO, YES, NOT_KNOWN = (False,), (True,), (False, True)
NAMES = ("a", "b", "c", "d")


def filled_in(expr: Expr, values: dict[str, bool]) -> bool:
    """An expression with every name known, in the plain way."""
    match expr:
        case Is(name):
            return values[name]
        case Not(inner):
            return not filled_in(inner, values)
        case All(parts):
            return all(filled_in(part, values) for part in parts)
        case Any(parts):
            return any(filled_in(part, values) for part in parts)
        case _:
            raise TypeError(expr)


A, B, C, D = (Is(name) for name in NAMES)


@pytest.mark.parametrize(
    "expr",
    [
        A,
        Not(A),
        ALWAYS,
        NEVER,
        Not(ALWAYS),
        Not(NEVER),
        All((A, B)),
        Any((A, B)),
        All((A, Not(B), C)),
        Any((Not(A), B, C)),
        Not(All((A, Any((B, C)), D))),
        Any((All((A, B)), Not(Any((C, D))))),
        All((Any((A, Not(B))), Not(All((C, D))))),
        All((ALWAYS, A)),
        Any((NEVER, A)),
    ],
    ids=str,
)
def test_surely_and_possibly(expr: Expr) -> None:
    """With no name twice, true for sure is true however the unknowns are filled in, and possibly is for one of them."""
    known = list(product((NO, YES, NOT_KNOWN), repeat=len(NAMES)))
    everywhere = (1 << len(known)) - 1
    values = {}
    for place, name in enumerate(NAMES):
        low = sum((each[place] == YES) << state for state, each in enumerate(known))
        open_at = sum((each[place] == NOT_KNOWN) << state for state, each in enumerate(known))
        values[name] = Bounds(low, low | open_at)
    found = evaluate(expr, Known(values=values, unsure=Bounds(0, 0), everywhere=everywhere))
    for state, each in enumerate(known):
        ways = [filled_in(expr, dict(zip(NAMES, way, strict=True))) for way in product(*each)]
        assert (found.low >> state & 1, found.high >> state & 1) == (all(ways), any(ways)), each
    assert found.high <= everywhere


@pytest.mark.parametrize("each", list(product((NO, YES, NOT_KNOWN), repeat=2)), ids=str)
def test_what_is_alike_in_every_state(each: tuple[tuple[bool, ...], tuple[bool, ...]]) -> None:
    """Names that are off, on or not known everywhere: the ways that cost nothing give the same."""
    of = {NO: Bounds(0, 0), YES: Bounds(EVERYWHERE, EVERYWHERE), NOT_KNOWN: Bounds(0, EVERYWHERE)}
    known = Known(values={"a": of[each[0]], "b": of[each[1]]}, unsure=Bounds(0, 0), everywhere=EVERYWHERE)
    for expr in (Not(A), All((A, B)), Any((A, B)), All((Not(A), B)), Not(Any((A, Not(B))))):
        ways = [filled_in(expr, {"a": a, "b": b}) for a, b in product(*each)]
        assert evaluate(expr, known) == Bounds(EVERYWHERE * all(ways), EVERYWHERE * any(ways))


def test_what_nobody_knows_is_taken_as_asked() -> None:
    for taken in (0, EVERYWHERE):
        known = Known(values={}, unsure=Bounds(taken, taken), everywhere=EVERYWHERE)
        assert evaluate(Unsure(), known) == Bounds(taken, taken)


def test_a_load_is_fed_by_line_on_one_side_and_a_way_back_on_the_other() -> None:
    """State by state: line at the one end or the other, a way back at the one or the other."""
    load = Load(name="x", words="x", a="1", b="2", watts=1, power_factor=1, kind=LoadKind.LAMP)
    sides = list(product((0, 1), repeat=4))

    def side(place: int) -> int:
        return sum(each[place] << state for state, each in enumerate(sides))

    fed = energised(load, {"1": side(0), "2": side(1)}, {"1": side(2), "2": side(3)}, EVERYWHERE)
    for state, (line_1, line_2, back_1, back_2) in enumerate(sides):
        assert bool(fed >> state & 1) == bool((line_1 and back_2) or (line_2 and back_1))
    assert energised(load, {"1": EVERYWHERE, "2": 0}, {"1": 0, "2": EVERYWHERE}, EVERYWHERE) == EVERYWHERE


def test_what_moves_contacts() -> None:
    contacts = (
        Contact(name="1", words="", a="1", b="2", when=All((Is("lever"), Unsure()))),
        Contact(name="2", words="", a="1", b="2", when=Any((Not(Is("open")), Is("lever")))),
    )
    assert contact_names(contacts) == {"lever", "open"}
