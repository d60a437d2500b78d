"""In every state, what the all-state solver calls joined is one connected component of what is closed there.

Random small circuits, contacts moved by inputs and by loads; components found by networkx, one state at a time.
"""

from collections.abc import Iterator, Mapping
from datetime import date
from itertools import product

import networkx as nx
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from generator.catalogue.logic import All, Any, Expr, Fed, Is, Not
from generator.catalogue.parts import Contact, Driven, Input, InputKind, Load, LoadKind, Supply
from generator.circuit.model import Certainty, Circuit, Conductor, How, WaterSide
from generator.states.answer import Answer, Solution
from generator.states.solve import solve

SURE = Certainty(how=How.TESTED, on=date(2026, 3, 14), by="heating engineer")


@st.composite
def expressions(draw: st.DrawFn, names: list[str], loads: list[str]) -> Expr:
    leaf: st.SearchStrategy[Expr] = st.sampled_from(
        [*(Is(name) for name in names), *(Fed(load) for load in loads)]
    )

    def larger(inner: st.SearchStrategy[Expr]) -> st.SearchStrategy[Expr]:
        several = st.lists(inner, min_size=1, max_size=3).map(tuple)
        return st.one_of(inner.map(Not), several.map(All), several.map(Any))

    whole: Expr = draw(st.recursive(leaf, larger, max_leaves=3))
    return whole


@st.composite
def circuits(draw: st.DrawFn) -> Circuit:
    nodes = [f"n{number}" for number in range(draw(st.integers(5, 9)))]
    pair = st.lists(st.sampled_from(nodes), min_size=2, max_size=2, unique=True)
    called = [f"call-{number}" for number in range(draw(st.integers(1, 3)))]
    held = draw(st.lists(st.booleans(), max_size=2))
    moved = [f"part-{number}" for number in range(draw(st.integers(0, 3)))]
    loads = [f"load-{number}" for number in range(draw(st.integers(1, 3)))]
    inputs = [*called, *(f"held-{number}" for number in range(len(held)))]
    points = draw(st.permutations(nodes))
    supplies = [points[:3]] if len(nodes) < 7 or draw(st.booleans()) else [points[:3], points[3:6]]
    return Circuit(
        devices=(),
        terminals=(),
        inner=tuple(nodes),
        conductors=tuple(
            Conductor(
                index=number, a=a, b=b, core="BN", cable=f"w{number}", sleeve="", certainty=SURE, path=()
            )
            for number, (a, b) in enumerate(draw(st.lists(pair, max_size=3)))
        ),
        spare=(),
        cables=(),
        inputs=tuple(
            Input(name=name, words=name, on_words="on", off_words="off", kind=kind, normal=normal)
            for name, kind, normal in [
                *((name, InputKind.THERMOSTAT, None) for name in called),
                *((f"held-{number}", InputKind.LEVER, value) for number, value in enumerate(held)),
            ]
        ),
        contacts=tuple(
            Contact(
                name=f"contact-{number}",
                words="contact",
                a=a,
                b=b,
                when=draw(expressions([*inputs, *moved], [])),
            )
            for number, (a, b) in enumerate(draw(st.lists(pair, min_size=1, max_size=7)))
        ),
        loads=tuple(
            Load(name=name, words=name, a=a, b=b, watts=5, power_factor=1, kind=LoadKind.COIL)
            for name in loads
            for a, b in [draw(pair)]
        ),
        driven=tuple(
            Driven(
                name=name,
                words=name,
                on_words="on",
                off_words="off",
                when=draw(expressions([*inputs, *moved[:number]], loads)),
            )
            for number, name in enumerate(moved)
        ),
        supplies=tuple(
            Supply(name=f"supply-{number}", line=line, neutral=neutral, earth=earth)
            for number, (line, neutral, earth) in enumerate(supplies)
        ),
        zones=(),
        water=WaterSide(circuits=(), pump="not seen", bypass="not seen"),
    )


def true(expr: Expr, values: Mapping[str, bool], fed: Mapping[str, bool]) -> bool:
    match expr:
        case Is(name):
            return values[name]
        case Fed(load):
            return fed[load]
        case Not(inner):
            return not true(inner, values, fed)
        case All(parts):
            return all(true(part, values, fed) for part in parts)
        case Any(parts):
            return any(true(part, values, fed) for part in parts)
    raise AssertionError(expr)


def closed(circuit: Circuit, values: Mapping[str, bool]) -> nx.Graph:
    """The points with every conductor and every made contact between them."""
    graph = nx.Graph()
    graph.add_nodes_from(circuit.nodes)
    graph.add_edges_from((item.a, item.b) for item in circuit.conductors)
    graph.add_edges_from((item.a, item.b) for item in circuit.contacts if true(item.when, values, {}))
    return graph


def fed_in(circuit: Circuit, graph: nx.Graph) -> dict[str, bool]:
    lines = {n for item in circuit.supplies for n in nx.node_connected_component(graph, item.line)}
    backs = {
        n
        for item in circuit.supplies
        for point in (item.neutral, item.earth)
        for n in nx.node_connected_component(graph, point)
    }
    return {
        load.name: (load.a in lines and load.b in backs) or (load.b in lines and load.a in backs)
        for load in circuit.loads
    }


def stays(circuit: Circuit, inputs: Mapping[str, bool], on: Mapping[str, bool]) -> bool:
    """Whether the driven parts, standing as given, hold themselves there."""
    values = {**inputs, **on}
    fed = fed_in(circuit, closed(circuit, values))
    return all(true(item.when, values, fed) is on[item.name] for item in circuit.driven)


def states(solution: Solution) -> Iterator[tuple[int, dict[str, bool]]]:
    for state in range(solution.space.size):
        yield state, solution.inputs_in(state)


def in_state(vectors: Mapping[str, int], state: int) -> dict[str, bool]:
    return {name: bool(vector >> state & 1) for name, vector in vectors.items()}


def check_answer(solution: Solution, answer: Answer, state: int, inputs: Mapping[str, bool]) -> None:
    circuit = solution.circuit
    on = in_state(answer.on, state)
    values = {**inputs, **on}
    assert in_state(answer.made, state) == {
        item.name: true(item.when, values, {}) for item in circuit.contacts
    }
    graph = closed(circuit, values)
    together: dict[str, set[str]] = {"line": set(), "neutral": set(), "earth": set()}
    for supply in circuit.supplies:
        for what in together:
            point = getattr(supply, what)
            component = nx.node_connected_component(graph, point)
            together[what] |= component
            assert in_state(answer.joined[point], state) == {n: n in component for n in circuit.nodes}
    for what, vectors in (("line", answer.line), ("neutral", answer.neutral), ("earth", answer.earth)):
        assert in_state(vectors, state) == {n: n in together[what] for n in circuit.nodes}
    assert in_state(answer.fed, state) == fed_in(circuit, graph)
    assert stays(circuit, inputs, on)


@given(circuits())
@settings(max_examples=150)
def test_joined_is_connected(circuit: Circuit) -> None:
    solution = solve(circuit)
    for state, inputs in states(solution):
        for answer in solution.answers:
            if answer.at >> state & 1:
                check_answer(solution, answer, state, inputs)


@given(circuits())
@settings(max_examples=100)
def test_settled_and_hunting_share_out_every_state(circuit: Circuit) -> None:
    solution = solve(circuit)
    some = 0
    for answer in solution.answers:
        some |= answer.at
    assert some & solution.hunting == 0
    assert some | solution.hunting == solution.space.everywhere


@given(circuits())
@settings(max_examples=100)
def test_what_can_rest_nowhere_hunts(circuit: Circuit) -> None:
    """A state in which no position of the parts holds itself is one that never settles."""
    assume(circuit.driven)
    solution = solve(circuit)
    names = [item.name for item in circuit.driven]
    for state, inputs in states(solution):
        resting = [
            on
            for values in product((False, True), repeat=len(names))
            if stays(circuit, inputs, on := dict(zip(names, values, strict=True)))
        ]
        if not resting:
            assert solution.hunting >> state & 1
        found = [in_state(a.on, state) for a in solution.answers if a.at >> state & 1]
        assert all(on in resting for on in found)
