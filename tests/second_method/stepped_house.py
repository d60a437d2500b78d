"""A house followed step by step, one state at a time: the second method behind everything said about overrides.

Shares with the package only the circuit and the list of what may fail. It floods the copper for one setting of the contacts,
moves every driven part once, and again, until all rest; a fault is a few bits that hold a contact, a part, a control or a load.
A state is one number: a bit for each input, each driven part, and one for what nobody knows.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import reduce

from generator.catalogue.logic import All, Any, Back, Expr, Fed, Is, Joined, Live, Not, Unsure, atoms
from generator.catalogue.parts import InputKind, LoadKind
from generator.circuit.model import Circuit
from generator.faults.fault import SOUND, Fault, Of

Test = Callable[[int, int, "Copper"], bool]


@dataclass(frozen=True, slots=True)
class Copper:
    """What metal joins with one setting of the contacts: the island of every point, which are live, which lead back."""

    island: tuple[int, ...]
    live: frozenset[int]
    back: frozenset[int]
    fed: int


@dataclass(slots=True)
class _Moved:
    """A contact or part with the bits that it goes by, and what it was found to be for some of them."""

    test: Test
    state_bits: int
    fed_bits: int
    joins: tuple[Live | Back | Joined, ...]
    known: dict[object, bool] = field(default_factory=dict)


class Works:
    """What all variants of one circuit have in common: numbers for its names, and its expressions made ready."""

    def __init__(self, circuit: Circuit) -> None:
        """Number everything."""
        self.circuit = circuit
        names = [*(i.name for i in circuit.inputs), *(d.name for d in circuit.driven), "unsure"]
        self.bit = {name: 1 << at for at, name in enumerate(names)}
        self.parts = self.bits(d.name for d in circuit.driven)
        self.point = {node: at for at, node in enumerate(circuit.nodes)}
        self.load = {load.name: 1 << at for at, load in enumerate(circuit.loads)}
        self.contact = {contact.name: 1 << at for at, contact in enumerate(circuit.contacts)}
        self.contacts = [self._moved(contact.when) for contact in circuit.contacts]
        self.driven = [(self.bit[d.name], self._moved(d.when)) for d in circuit.driven]
        self.levers = [i.name for i in circuit.inputs if i.kind is InputKind.LEVER]
        self.motors = {
            lever: self.bits_of_loads(lever.split(".", 1)[0], LoadKind.MOTOR) for lever in self.levers
        }
        self.normal = self.bits(i.name for i in circuit.inputs if i.normal)
        self.folds: dict[object, _Fold] = {}

    def bits(self, names: Iterable[str]) -> int:
        """The bits of some names."""
        return reduce(int.__or__, (self.bit[name] for name in names), 0)

    def bits_of_loads(self, device: str, kind: LoadKind) -> int:
        """The bits of the loads of one sort in one device."""
        mine = (x for x in self.circuit.loads if x.kind is kind and x.name.split(".", 1)[0] == device)
        return reduce(int.__or__, (self.load[load.name] for load in mine), 0)

    def _moved(self, expr: Expr) -> _Moved:
        leaves = list(atoms(expr))
        names = [x.name for x in leaves if isinstance(x, Is)]
        names += ["unsure" for x in leaves if isinstance(x, Unsure)]
        loads = [self.load[x.load] for x in leaves if isinstance(x, Fed)]
        return _Moved(
            test=self._test(expr),
            state_bits=self.bits(names),
            fed_bits=reduce(int.__or__, loads, 0),
            joins=tuple(x for x in leaves if isinstance(x, Live | Back | Joined)),
        )

    def _test(self, expr: Expr) -> Test:
        match expr:
            case Not(inner):
                of = self._test(inner)
                return lambda v, f, c: not of(v, f, c)
            case All(parts):
                tests = [self._test(part) for part in parts]
                return lambda v, f, c: all(test(v, f, c) for test in tests)
            case Any(parts):
                tests = [self._test(part) for part in parts]
                return lambda v, f, c: any(test(v, f, c) for test in tests)
            case Is(name):
                bit = self.bit[name]
                return lambda v, _f, _c: bool(v & bit)
            case Unsure():
                bit = self.bit["unsure"]
                return lambda v, _f, _c: bool(v & bit)
            case Fed(name):
                load = self.load[name]
                return lambda _v, f, _c: bool(f & load)
            case Live(point):
                at = self.point[point]
                return lambda _v, _f, c: c.island[at] in c.live
            case Back(point):
                at = self.point[point]
                return lambda _v, _f, c: c.island[at] in c.back
            case Joined(a, b):
                first, second = self.point[a], self.point[b]
                return lambda _v, _f, c: c.island[first] == c.island[second]


class _Fold:
    """The copper that no contact opens, with some conductors cut and some points bridged."""

    def __init__(self, works: Works, cut: frozenset[int], bridges: frozenset[tuple[str, str]]) -> None:
        self.works = works
        circuit = works.circuit
        island = list(range(len(works.point)))
        for conductor in circuit.conductors:
            if conductor.index not in cut:
                _unite(island, works.point[conductor.a], works.point[conductor.b])
        for a, b in bridges:
            _unite(island, works.point[a], works.point[b])
        self.island = [_root(island, at) for at in range(len(island))]
        self.known: dict[int, Copper] = {}

    def copper(self, made: int) -> Copper:
        """With these contacts made."""
        found = self.known.get(made)
        if found is None:
            found = self.known[made] = self._flood(made)
        return found

    def _flood(self, made: int) -> Copper:
        works = self.works
        island = list(self.island)
        for at, contact in enumerate(works.circuit.contacts):
            if made >> at & 1:
                _unite(island, works.point[contact.a], works.point[contact.b])
        roots = tuple(_root(island, at) for at in range(len(island)))
        supplies = works.circuit.supplies
        live = frozenset(roots[works.point[s.line]] for s in supplies)
        back = frozenset(roots[works.point[p]] for s in supplies for p in (s.neutral, s.earth))
        fed = 0
        for at, load in enumerate(works.circuit.loads):
            a, b = roots[works.point[load.a]], roots[works.point[load.b]]
            if (a in live and b in back) or (b in live and a in back):
                fed |= 1 << at
        return Copper(island=roots, live=live, back=back, fed=fed)


def _root(island: list[int], at: int) -> int:
    while island[at] != at:
        island[at] = island[island[at]]
        at = island[at]
    return at


def _unite(island: list[int], a: int, b: int) -> None:
    island[_root(island, a)] = _root(island, b)


class Stepped:
    """One circuit with one fault in it."""

    def __init__(self, works: Works, fault: Fault = SOUND) -> None:
        """Read the fault's changes as bits."""
        self.works = works
        self.fault = fault

        def bits(of: Of, numbers: dict[str, int], *, on: bool) -> int:
            changed = (c.name for c in fault.changes if c.of is of and c.on is on)
            return reduce(int.__or__, (numbers[name] for name in changed), 0)

        self.contacts = tuple(bits(Of.CONTACT, works.contact, on=on) for on in (True, False))
        self.inputs = tuple(bits(Of.INPUT, works.bit, on=on) for on in (True, False))
        self.parts = tuple(bits(Of.PART, works.bit, on=on) for on in (True, False))
        self.dead = bits(Of.LOAD, works.load, on=False)
        self.no_flow = frozenset(c.name for c in fault.changes if c.of is Of.FLOW)
        self.no_heat = frozenset(c.name for c in fault.changes if c.of is Of.HEAT)
        self.bypass_shut = any(c.of is Of.BYPASS for c in fault.changes)
        cut = frozenset(int(c.name) for c in fault.changes if c.of is Of.CONDUCTOR)
        bridges = frozenset((c.name, c.other) for c in fault.changes if c.of is Of.BRIDGE)
        if (cut, bridges) not in works.folds:
            works.folds[cut, bridges] = _Fold(works, cut, bridges)
        self.fold = works.folds[cut, bridges]
        self.key = (
            (cut, bridges, self.contacts, self.inputs, self.parts, self.dead),
            (self.no_flow, self.no_heat, self.bypass_shut),
        )
        self._next: dict[int, int] = {}
        self._rest: dict[int, tuple[int, ...]] = {}
        self._made: dict[int, int] = {}

    def _held(self, state: int) -> int:
        return (state | self.inputs[0]) & ~self.inputs[1]

    def made(self, state: int) -> int:
        """The bits of the contacts that are made."""
        held = self._held(state)
        found = self._made.get(held)
        if found is None:
            found = 0
            for at, moved in enumerate(self.works.contacts):
                key = held & moved.state_bits
                value = moved.known.get(key)
                if value is None:
                    value = moved.known[key] = moved.test(held, 0, _NONE)
                found |= value << at
            found = self._made[held] = (found | self.contacts[0]) & ~self.contacts[1]
        return found

    def copper(self, state: int) -> Copper:
        """What is joined in a state."""
        return self.fold.copper(self.made(state))

    def fed(self, state: int) -> int:
        """The bits of the loads that are fed and do something."""
        return self.copper(state).fed & ~self.dead

    def step(self, state: int) -> int:
        """Every part moved once."""
        following = self._next.get(state)
        if following is not None:
            return following
        copper = self.copper(state)
        fed, held = copper.fed & ~self.dead, self._held(state)
        moved_to = 0
        for bit, moved in self.works.driven:
            key: object = (held & moved.state_bits, fed & moved.fed_bits)
            if moved.joins:
                key = (key, tuple(self._joined(copper, leaf) for leaf in moved.joins))
            value = moved.known.get(key)
            if value is None:
                value = moved.known[key] = moved.test(held, fed, copper)
            if value:
                moved_to |= bit
        moved_to = (moved_to | self.parts[0]) & ~self.parts[1]
        self._next[state] = following = (state & ~self.works.parts) | moved_to
        return following

    def _joined(self, copper: Copper, leaf: Live | Back | Joined) -> bool:
        point, island = self.works.point, copper.island
        match leaf:
            case Live(at):
                return island[point[at]] in copper.live
            case Back(at):
                return island[point[at]] in copper.back
            case Joined(a, b):
                return island[point[a]] == island[point[b]]

    def rest(self, state: int) -> tuple[int, ...]:
        """Where a state comes to rest; more than one where it never does."""
        found = self._rest.get(state)
        if found is None:
            way = [state]
            place = {state: 0}
            while (following := self.step(way[-1])) not in place:
                place[following] = len(way)
                way.append(following)
            found = self._rest[state] = tuple(way[place[following] :])
        return found

    def drift(self, states: Iterable[int], free: Sequence[int]) -> frozenset[int]:
        """Every state at rest that single changes of some inputs, and levers that let go, lead to.

        Args:
            states: where to begin; they need not be at rest.
            free: the bits of the inputs that nobody holds.
        """
        waiting = [end for state in states for end in self.rest(state)]
        found = set(waiting)
        while waiting:
            state = waiting.pop()
            turned = [state ^ bit for bit in free]
            turned += [state & ~self.works.bit[lever] for lever in self.taken_back(state)]
            for each in turned:
                for end in self.rest(each):
                    if end not in found:
                        found.add(end)
                        waiting.append(end)
        return frozenset(found)

    def taken_back(self, state: int) -> list[str]:
        """The latched levers whose motor drives."""
        works = self.works
        latched = [lever for lever in works.levers if state & works.bit[lever]]
        return [lever for lever in latched if self.fed(state) & works.motors[lever]]


_NONE = Copper(island=(), live=frozenset(), back=frozenset(), fed=0)
