"""The second solver: what every part of a circuit does, found from voltages instead of from joins.

Independent of the logic solver: it evaluates the conditions of contacts and driven parts itself, a load counting
as fed by the volts across it, and points as joined by a search of its own through what conducts. Must not know
rules, pages or faults.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.catalogue.logic import All, Any, Back, Expr, Fed, Is, Joined, Live, Not, Unsure, atoms
from generator.circuit.model import Circuit
from generator.states.mains import NOMINAL_V
from generator.states.volts_network import Closed, Network, network_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """When a load counts as fed, in volt across it; between the two it stays as it was, and is uncertain.

    From memory: motors and relays of 230 V are made to work down to 85 % of it, and let go well below half.
    """

    drive_v: float = 0.85 * NOMINAL_V
    release_v: float = 0.3 * NOMINAL_V


@dataclass(frozen=True, slots=True, kw_only=True)
class VoltsResult:
    """A circuit's state as the volts have it.

    Attributes:
        volts: phasor of each node against the point where the house's neutral and earth are joined; r.m.s.
        floating: nodes that no path through any element joins to a supply; their volts are 0.
        apart: those of them that hang on a sensing source: a circuit of its own, not an open end.
        driven: each driven part.
        fed: each load.
        load_volts: volts across each load.
        uncertain: loads with volts between release and drive, which stayed as they were.
        hunting: driven parts and loads that never come to rest; empty where settled.
        closed: contacts closed.
        supply_v: the supply voltage it was solved for.
        sensed: volts that each sensing source (a volt-free input, a bus) puts between its own two terminals.
        diodes: the diodes that are connected; `volts` holds without what they let through.
    """

    volts: Mapping[str, complex]
    floating: tuple[str, ...]
    driven: Mapping[str, bool]
    fed: Mapping[str, bool]
    load_volts: Mapping[str, float]
    uncertain: tuple[str, ...]
    hunting: tuple[str, ...]
    closed: tuple[str, ...]
    supply_v: float
    sensed: Mapping[str, float] = field(default_factory=dict)
    diodes: tuple[str, ...] = ()
    apart: tuple[str, ...] = ()

    @property
    def settled(self) -> bool:
        """True where the circuit comes to rest."""
        return not self.hunting


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """All that an expression may ask for, at one moment.

    Attributes:
        values: inputs and driven parts by name.
        fed: loads by name.
        net: for each point a number shared by those that metal joins to it.
        lines: the numbers of the supplies' lines.
        backs: the numbers of their neutrals and earths.
        unsure: what every ``Unsure`` is taken for.
    """

    values: Mapping[str, bool]
    fed: Mapping[str, bool]
    net: Mapping[str, int]
    lines: frozenset[int]
    backs: frozenset[int]
    unsure: bool


def is_true(expr: Expr, seen: Seen) -> bool:
    """Whether an expression holds."""
    match expr:
        case Not(inner):
            return not is_true(inner, seen)
        case All(parts):
            return all(is_true(part, seen) for part in parts)
        case Any(parts):
            return any(is_true(part, seen) for part in parts)
        case leaf:
            return _leaf_is_true(leaf, seen)


def _leaf_is_true(leaf: Is | Fed | Live | Back | Joined | Unsure, seen: Seen) -> bool:
    match leaf:
        case Is(name):
            return seen.values[name]
        case Fed(load):
            return seen.fed[load]
        case Live(point):
            return seen.net[point] in seen.lines
        case Back(point):
            return seen.net[point] in seen.backs
        case Joined(a, b):
            return seen.net[a] == seen.net[b]
        case Unsure():
            return seen.unsure


def solve_volts(
    circuit: Circuit,
    inputs: Mapping[str, bool],
    *,
    unsure: bool = False,
    start: Mapping[str, bool] | None = None,
    supply_v: float = NOMINAL_V,
    bands: Bands | None = None,
) -> VoltsResult:
    """Solve the circuit for one set of inputs, letting driven parts move until nothing moves any more.

    All parts that want to move do so at once; a set of positions met for the second time means that the circuit
    hunts. Costs one sparse linear solve for each new set of closed contacts.

    Args:
        circuit: the circuit.
        inputs: the inputs that are not at their normal value; of those without one, the ones that are on.
        unsure: what every unknown is taken for.
        start: driven parts that are on before; the others are at rest.
        supply_v: open-circuit voltage of the supply.
        bands: when a load counts as fed.

    Raises:
        KeyError: an input or driven part is named that the circuit does not have.
    """
    search = _Search(circuit, network_of(circuit, supply_v), bands or Bands(), unsure)
    return search.run(_all_inputs(circuit, inputs), _all_driven(circuit, start or {}), supply_v)


def _all_inputs(circuit: Circuit, given: Mapping[str, bool]) -> dict[str, bool]:
    values = {item.name: bool(item.normal) for item in circuit.inputs}
    for name, value in given.items():
        if name not in values:
            raise KeyError(name)
        values[name] = value
    return values


def _all_driven(circuit: Circuit, given: Mapping[str, bool]) -> dict[str, bool]:
    values = {part.name: False for part in circuit.driven}
    for name, value in given.items():
        if name not in values:
            raise KeyError(name)
        values[name] = value
    return values


_NONE: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class _Search:
    circuit: Circuit
    network: Network
    bands: Bands
    unsure: bool

    def run(self, inputs: Mapping[str, bool], driven: dict[str, bool], supply_v: float) -> VoltsResult:
        fed = self._fed_before(driven)
        past: list[tuple[dict[str, bool], dict[str, bool]]] = []
        while (driven, fed) not in past:
            past.append((driven, fed))
            values = {**inputs, **driven}
            closed = self._closed(values, fed)
            fed_next = self._fed_now(self._across(closed), fed)
            seen = self._seen(values, fed_next, closed)
            driven = {part.name: is_true(part.when, seen) for part in self.circuit.driven}
            fed = fed_next
        cycle = past[past.index((driven, fed)) :]
        return self._result(inputs, driven, fed, cycle, supply_v)

    def _fed_before(self, driven: Mapping[str, bool]) -> dict[str, bool]:
        """A load counts as fed before if a part that it drives is on: what is held needs less to stay."""
        fed = {load.name: False for load in self.circuit.loads}
        for part in self.circuit.driven:
            if driven[part.name]:
                fed.update({atom.load: True for atom in atoms(part.when) if isinstance(atom, Fed)})
        return fed

    def _closed(self, values: Mapping[str, bool], fed: Mapping[str, bool]) -> Closed:
        # What moves a contact is an input or a driven part; only driven parts may ask what is joined to what.
        seen = Seen(values=values, fed=fed, net={}, lines=_NONE, backs=_NONE, unsure=self.unsure)
        return bytes(is_true(contact.when, seen) for contact in self.circuit.contacts)

    def _seen(self, values: Mapping[str, bool], fed: Mapping[str, bool], closed: Closed) -> Seen:
        metal = self.network.metal(closed)
        net = {node: metal[at] for node, at in self.network.index.items()}
        supplies = self.circuit.supplies
        return Seen(
            values=values,
            fed=fed,
            net=net,
            lines=frozenset(net[supply.line] for supply in supplies),
            backs=frozenset(net[end] for supply in supplies for end in (supply.neutral, supply.earth)),
            unsure=self.unsure,
        )

    def _across(self, closed: Closed) -> dict[str, float]:
        volts = self.network.voltages(closed)
        ends = self.network.load_ends
        return {
            load.name: abs(volts[a] - volts[b]) for load, (a, b) in zip(self.circuit.loads, ends, strict=True)
        }

    def _fed_now(self, across: Mapping[str, float], before: Mapping[str, bool]) -> dict[str, bool]:
        return {
            load: volts >= self.bands.drive_v or (volts > self.bands.release_v and before[load])
            for load, volts in across.items()
        }

    def _result(
        self,
        inputs: Mapping[str, bool],
        driven: dict[str, bool],
        fed: dict[str, bool],
        cycle: list[tuple[dict[str, bool], dict[str, bool]]],
        supply_v: float,
    ) -> VoltsResult:
        values = {**inputs, **driven}
        closed = self._closed(values, fed)
        seen = self._seen(values, fed, closed)
        volts = self.network.voltages(closed)
        across = self._across(closed)
        floating, joined = self.network.floating(closed), self.network.joined(closed)
        own = {joined[self.network.index[sense.a]] for sense in self.circuit.senses}
        moving = [
            name for values in (driven, fed) for name in values if len({(d | f)[name] for d, f in cycle}) > 1
        ]
        return VoltsResult(
            volts={node: volts[at] for node, at in self.network.index.items()},
            floating=tuple(node for node, at in self.network.index.items() if floating[at]),
            driven=driven,
            fed=fed,
            load_volts=across,
            uncertain=tuple(
                load for load, v in across.items() if self.bands.release_v < v < self.bands.drive_v
            ),
            hunting=tuple(moving),
            closed=tuple(
                contact.name
                for contact, is_closed in zip(self.circuit.contacts, closed, strict=True)
                if is_closed
            ),
            supply_v=supply_v,
            sensed=self.network.sensed(closed),
            apart=tuple(
                node for node, at in self.network.index.items() if floating[at] and joined[at] in own
            ),
            diodes=tuple(diode.name for diode in self.circuit.diodes if is_true(diode.when, seen)),
        )
