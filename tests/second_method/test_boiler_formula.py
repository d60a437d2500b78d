"""Proof for every house of the demo stock that its boiler is called when it should be, and only then.

The circuit goes to z3 by a way of its own: simple paths between groups of joined points, found by networkx.
Nothing of the all-state solver is used, but where its
memories are held against a formula too.
"""

from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any as Term

import networkx as nx
import pytest
import z3

from generator.catalogue import logic
from generator.circuit.model import Circuit
from generator.states.solve import solve
from tests.stock import recorded_circuits
from tests.stock_expectations import (
    BOILER,
    BOILER_CALLED,
    BOILER_KEPT,
    ISOLATORS,
    LEVER_CALLS,
    LEVER_MAY_CALL,
    Formula,
)

Joined = Callable[[str, Iterable[str]], Term]
"""Whether a point is joined by metal to any of some others."""

Paths = tuple[tuple[int, ...], ...]
"""Ways from one point to another, each the numbers of the contacts in it; the empty way joins always."""


class Encoding:
    """One circuit as formulas: what follows from the positions of its driven parts."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        joined = nx.Graph()
        joined.add_nodes_from(circuit.nodes)
        joined.add_edges_from((conductor.a, conductor.b) for conductor in circuit.conductors)
        self.group = {
            node: number for number, part in enumerate(nx.connected_components(joined)) for node in part
        }
        self.contacts = nx.MultiGraph()
        self.contacts.add_nodes_from(self.group.values())
        for number, contact in enumerate(circuit.contacts):
            a, b = self.group[contact.a], self.group[contact.b]
            if a != b:
                self.contacts.add_edge(a, b, key=number)
        self.paths = cache(self._paths)
        self.inputs = {item.name: z3.Bool(item.name) for item in circuit.inputs}
        self.ends = {load.name: (load.a, load.b) for load in circuit.loads}
        self.lines = [supply.line for supply in circuit.supplies]
        self.backs = [point for supply in circuit.supplies for point in (supply.neutral, supply.earth)]

    def _paths(self, start: int, end: int) -> Paths:
        if start == end:
            return ((),)
        ways = nx.all_simple_edge_paths(self.contacts, start, end)
        return tuple(tuple(key for _, _, key in way) for way in ways)

    def truth(self, expr: logic.Expr, where: str, values: Mapping[str, Term], joined: Joined) -> Term:
        """An expression as a formula; what is not known is a free variable of the part it belongs to."""
        match expr:
            case logic.Is(name):
                return values[name]
            case logic.Fed(load):
                a, b = self.ends[load]
                return z3.Or(
                    z3.And(joined(a, self.lines), joined(b, self.backs)),
                    z3.And(joined(b, self.lines), joined(a, self.backs)),
                )
            case logic.Live(point):
                return joined(point, self.lines)
            case logic.Back(point):
                return joined(point, self.backs)
            case logic.Joined(a, b):
                return joined(a, [b])
            case logic.Not(inner):
                return z3.Not(self.truth(inner, where, values, joined))
            case logic.All(parts):
                return z3.And([self.truth(part, where, values, joined) for part in parts])
            case logic.Any(parts):
                return z3.Or([self.truth(part, where, values, joined) for part in parts])
            case logic.Unsure():
                return unsure_of(where)

    def step(self, driven: Mapping[str, Term]) -> dict[str, Term]:
        """Where every driven part goes when the parts stand as given."""
        values = {**self.inputs, **driven}
        made = [self.truth(item.when, item.name, values, _never_asked) for item in self.circuit.contacts]

        def joined(node: str, sources: Iterable[str]) -> Term:
            return z3.Or(
                [
                    z3.And([made[number] for number in way])
                    for source in sources
                    for way in self.paths(self.group[source], self.group[node])
                ]
            )

        return {item.name: self.truth(item.when, item.name, values, joined) for item in self.circuit.driven}


def _never_asked(node: str, sources: Iterable[str]) -> Term:
    """A contact is moved by inputs and parts, never by a voltage itself."""
    raise AssertionError(f"a contact asks what {node} is joined to, of {list(sources)}")


def firing(reference: str) -> str:
    """The driven part that is on while the heat source of a house is called."""
    return f"{BOILER.get(reference, 'boiler')}.firing"


def unsure_of(part: str) -> Term:
    """The variable that stands for what nobody knows of a device."""
    return z3.Bool(f"unsure {part.split('.', 1)[0]}")


def formula(reference: str, of: Formula) -> Term:
    """A formula written by hand, with the isolators on."""
    lines = [
        z3.And(
            [
                z3.Not(z3.Bool(name.removeprefix("not "))) if name.startswith("not ") else z3.Bool(name)
                for name in line
            ]
        )
        for line in of
    ]
    lines += [z3.Bool(f"{valve}.lever") for valve in LEVER_CALLS.get(reference, ())]
    lines += [
        z3.And(z3.Bool(f"{valve}.lever"), unsure_of(valve)) for valve in LEVER_MAY_CALL.get(reference, ())
    ]
    isolators = [z3.Bool(name) for name in ISOLATORS.get(reference, ["spur.isolator"])]
    return z3.And(z3.Or(lines), *isolators)


def expected(reference: str) -> Term:
    """When the boiler is called, from rest at least."""
    return formula(reference, BOILER_CALLED[reference])


def expected_if_called_before(reference: str) -> Term:
    """When the boiler may be called, whatever came before."""
    return formula(reference, [*BOILER_CALLED[reference], *BOILER_KEPT.get(reference, ())])


def proved(*claims: Term, given: Iterable[Term] = ()) -> bool | Term:
    """True when the claims follow from what is given, else the values that break them."""
    solver = z3.Solver()
    solver.add(*given)
    solver.add(z3.Not(z3.And(*claims)))
    answer = solver.check()
    assert answer != z3.unknown
    return True if answer == z3.unsat else solver.model()


REFERENCES = sorted(recorded_circuits())


def test_every_record_has_its_formula() -> None:
    assert sorted(BOILER_CALLED) == REFERENCES


@pytest.mark.parametrize("reference", REFERENCES)
def test_formula_names_inputs_of_the_house(reference: str) -> None:
    """A name that the circuit does not have would be a free variable, and a proof about nothing."""
    inputs = {item.name for item in recorded_circuits()[reference].inputs}
    named = {name.removeprefix("not ") for line in BOILER_CALLED[reference] for name in line}
    named |= set(ISOLATORS.get(reference, ["spur.isolator"]))
    levers = [*LEVER_CALLS.get(reference, ()), *LEVER_MAY_CALL.get(reference, ())]
    assert named | {f"{valve}.lever" for valve in levers} <= inputs


@pytest.mark.parametrize("reference", REFERENCES)
def test_boiler_is_called_exactly_when_it_should_be(reference: str) -> None:
    """In every settled position of every part, for every value of every input, whatever came before."""
    house = Encoding(recorded_circuits()[reference])
    parts = {item.name: z3.Bool(f"part {item.name}") for item in house.circuit.driven}
    settled = [parts[name] == after for name, after in house.step(parts).items()]
    fires = parts[firing(reference)]
    assert proved(z3.Implies(expected(reference), fires), given=settled) is True
    assert proved(z3.Implies(fires, expected_if_called_before(reference)), given=settled) is True


@pytest.mark.parametrize("reference", sorted(BOILER_KEPT))
def test_what_came_before_matters_where_it_is_said_to(reference: str) -> None:
    """Both results stay, in every state that the formula names: the boiler called, and not."""
    circuit = recorded_circuits()[reference]
    solution = solve(circuit)
    fires = firing(reference)
    only_kept = [
        state
        for state in range(solution.space.size)
        if holds(BOILER_KEPT[reference], solution.inputs_in(state))
        and not holds(BOILER_CALLED[reference], solution.inputs_in(state))
    ]
    assert only_kept
    after = [memory.answer for memory in solution.memories]
    for state in only_kept:
        assert not solution.settled.on[fires] >> state & 1
        assert any(answer.at >> state & answer.on[fires] >> state & 1 for answer in after)
    for state in set(range(solution.space.size)) - set(only_kept):
        called = holds(BOILER_CALLED[reference], solution.inputs_in(state))
        for answer in solution.answers:
            assert not answer.at >> state & 1 or bool(answer.on[fires] >> state & 1) is called


def holds(of: Formula, values: Mapping[str, bool]) -> bool:
    """Whether a formula written by hand holds for the values of inputs, isolators on."""
    return any(
        all(values[name.removeprefix("not ")] is not name.startswith("not ") for name in line) for line in of
    )


@pytest.mark.parametrize("reference", REFERENCES)
def test_every_state_comes_to_rest(reference: str) -> None:
    """From everything at rest, as many rounds as there are parts lead to a position that stays."""
    house = Encoding(recorded_circuits()[reference])
    given: list[Term] = []
    now: dict[str, Term] = {item.name: z3.BoolVal(False) for item in house.circuit.driven}
    for number in range(len(now)):
        following = {name: z3.Bool(f"{name} after {number}") for name in now}
        given += [following[name] == after for name, after in house.step(now).items()]
        now = following
    stays = [now[name] == after for name, after in house.step(now).items()]
    assert proved(*stays, given=given) is True
    assert proved(now[firing(reference)] == expected(reference), given=given) is True


def test_a_wrong_formula_is_not_proved() -> None:
    """The proof would fail if it could: without hot water the formula of a house no longer holds."""
    house = Encoding(recorded_circuits()["EB-0012"])
    parts = {item.name: z3.Bool(f"part {item.name}") for item in house.circuit.driven}
    settled = [parts[name] == after for name, after in house.step(parts).items()]
    wrong = z3.And(z3.Bool("programmer.channel-2"), z3.Bool("heating-thermostat.calling"))
    assert proved(parts["boiler.firing"] == wrong, given=settled) is not True
