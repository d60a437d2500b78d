"""What each fault does to each service, with each lever latched, in every state: small vectors, ready to search.

Joins simulated faults with what a tenant wants. It searches nothing.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind, LoadKind
from generator.circuit.model import Circuit
from generator.faults.fault import SOUND, Fault
from generator.faults.simulate import Batch, Levers, Outcome, simulate
from generator.overrides.services import Charge, Wanted, coil_circuits
from generator.states.solve import TooManyStates
from generator.states.space import StateSpace

MOST_STATES = 1 << 23
"""Of all faults and levers together; more take minutes. Above it two levers at once are left out, then levers, then the house."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One fault with some levers latched, in every state of the free inputs.

    ``given`` and ``warmed`` go by service: it is given for sure whatever is not known and whatever came before; its
    part of the house may be heated. ``perhaps`` is given with one value of what is not known. ``coil`` is where a
    cylinder may be heated by the boiler, ``dead_head`` where a pump has no way, ``hunting`` where nothing settles,
    ``driven`` by lever where the motor may take it back, ``immersion`` where the immersion heater's element is fed for sure.
    """

    given: Mapping[str, int]
    perhaps: Mapping[str, int]
    warmed: Mapping[str, int]
    coil: int
    dead_head: int
    hunting: int
    driven: Mapping[str, int]
    immersion: int

    @property
    def signature(self) -> tuple[object, ...]:
        """Equal for cells that nothing here can tell apart."""
        return (
            tuple(self.given.values()),
            tuple(self.perhaps.values()),
            tuple(self.warmed.values()),
            self.coil,
            self.dead_head,
            self.hunting,
            tuple(self.driven.values()),
            self.immersion,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Faulty:
    """A fault with its cells, one for each set of levers that it was solved with."""

    fault: Fault
    cells: Mapping[Levers, Cell]


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcomes:
    """The house without a fault, and with each.

    ``remembers`` are the faults (``none`` for the sound house) with which something may depend on history while every lever
    is at rest. ``unsolved`` are faults of which no state could be solved: nothing is claimed of them.
    """

    space: StateSpace
    sound: Faulty
    faulty: tuple[Faulty, ...]
    unsolved: tuple[Fault, ...]
    remembers: tuple[Fault, ...]
    cut_outs: tuple[str, ...]


def outcomes(
    circuit: Circuit, faults: Sequence[Fault], wanted: Sequence[Wanted], levers: Sequence[str]
) -> Outcomes:
    """Simulate every fault.

    Args:
        circuit: the house.
        faults: what may fail.
        wanted: its services.
        levers: inputs of the levers that may be latched on purpose; every other lever only by its fault.
    """
    every = [item.name for item in circuit.inputs if item.kind is InputKind.LEVER]
    singles = [frozenset({name}) for name in every]
    pairs = [frozenset(pair) for pair in combinations(every, 2) if set(pair) & set(levers)]
    cut_outs = _cut_outs(circuit)
    taps = [group[0] for item in wanted if item.part for group in item.calls]
    states = (len(faults) + 1) << (len(circuit.called_inputs) + len(cut_outs) + len(taps))
    sets = _lever_sets(singles, pairs, at_most=MOST_STATES // states)
    reader = _Reader(circuit, wanted, every)
    space: StateSpace | None = None
    solved: list[Faulty] = []
    unsolved: list[Fault] = []
    remembers: list[Fault] = []
    latched = [fault for fault in faults if fault.latched]
    simulated = [SOUND, *(fault for fault in faults if not fault.latched)]
    for batch in simulate(circuit, simulated, sets, free=(*cut_outs, *taps)):
        if not isinstance(batch, Batch):
            unsolved += batch.faults
            continue
        space = batch.free
        solved += reader.faulty(batch)
        rest = batch.blocks(batch.open_at)[:: len(batch.levers)]
        remembers += [fault for fault, open_at in zip(batch.faults, rest, strict=True) if open_at]
    by_name = {each.fault.name: each for each in solved}
    sound = by_name.pop(SOUND.name, None)
    if space is None or sound is None:
        return Outcomes(
            space=StateSpace(()),
            sound=Faulty(fault=SOUND, cells={}),
            faulty=(),
            unsolved=tuple(faults),
            remembers=(),
            cut_outs=cut_outs,
        )
    for fault in latched:
        cells = {
            each: sound.cells[each | {fault.latched}]
            for each in sets
            if each | {fault.latched} in sound.cells
        }
        if cells:
            by_name[fault.name] = Faulty(fault=fault, cells=cells)
        else:
            unsolved.append(fault)
    ordered = tuple(by_name[fault.name] for fault in faults if fault.name in by_name)
    return Outcomes(
        space=space,
        sound=sound,
        faulty=ordered,
        unsolved=tuple(unsolved),
        remembers=tuple(remembers),
        cut_outs=cut_outs,
    )


def _lever_sets(singles: list[Levers], pairs: list[Levers], *, at_most: int) -> list[Levers]:
    """The sets of levers that are solved: two at once, one at a time, or none, as far as a large house can be gone through."""
    every: list[Levers] = [frozenset(), *singles, *pairs]
    for sets in (every, every[: 1 + len(singles)], every[:1]):
        if len(sets) <= at_most:
            return sets
    raise TooManyStates(1, at_most, "times the states that can be gone through with every fault")


def _cut_outs(circuit: Circuit) -> tuple[str, ...]:
    """The energy cut-outs of cylinders that act through the wiring."""
    return tuple(
        item.name
        for device in circuit.devices
        if device.duty in (Duty.CYLINDER, Duty.CYLINDER_THERMOSTAT)
        for item in device.parts.inputs
        if item.kind is InputKind.TRIP
    )


class _Reader:
    """Cuts the vectors of a batch into cells."""

    def __init__(self, circuit: Circuit, wanted: Sequence[Wanted], levers: Sequence[str]) -> None:
        self.wanted = wanted
        self.coils = coil_circuits(circuit)
        self.motors = {
            lever: [
                load.name
                for load in circuit.loads
                if load.kind is LoadKind.MOTOR and load.name.startswith(f"{lever.split('.', 1)[0]}.")
            ]
            for lever in levers
        }
        self.elements = [
            load.name
            for device in circuit.with_duty(Duty.IMMERSION)
            for load in circuit.loads
            if load.name.startswith(f"{device.name}.") and load.kind is LoadKind.HEATER
        ]

    def faulty(self, batch: Batch) -> Iterator[Faulty]:
        """Every fault of a batch."""
        results = [outcome for outcomes in batch.outcomes for outcome in outcomes]
        hunting = batch.blocks(batch.hunting)
        given = {each.name: batch.blocks(self.surely(results, _given(batch, each))) for each in self.wanted}
        perhaps = {each.name: batch.blocks(self.perhaps(batch, each)) for each in self.wanted}
        warmed = {each.name: batch.blocks(_any(each.warmed(r) for r in results)) for each in self.wanted}
        coil = batch.blocks(_any(self.coil(result) for result in results))
        dead = batch.blocks(_any(r.water.dead_head | (r.water.shut & r.bypass_shut) for r in results))
        driven = {
            lever: batch.blocks(_any(_any(r.answer.fed[m] & r.answer.at for m in motors) for r in results))
            for lever, motors in self.motors.items()
        }
        heated = batch.blocks(
            self.surely(results, lambda r: _any(r.answer.fed[name] for name in self.elements))
        )
        count = len(batch.levers)
        for number, fault in enumerate(batch.faults):
            cells = {}
            for position, levers in enumerate(batch.levers):
                at = number * count + position
                still = ~hunting[at]
                cells[levers] = Cell(
                    given={name: blocks[at] & still for name, blocks in given.items()},
                    perhaps={name: blocks[at] & still for name, blocks in perhaps.items()},
                    warmed={name: blocks[at] for name, blocks in warmed.items()},
                    coil=coil[at],
                    dead_head=dead[at],
                    hunting=hunting[at],
                    driven={name: blocks[at] for name, blocks in driven.items()},
                    immersion=heated[at],
                )
            yield Faulty(fault=fault, cells=cells)

    def coil(self, outcome: Outcome) -> int:
        """Where any cylinder coil is heated."""
        return _any(outcome.water.flow(name).hot & ~outcome.no_flow.get(name, 0) for name in self.coils)

    def surely(self, results: Sequence[Outcome], of: Callable[[Outcome], int]) -> int:
        """Where something holds in every outcome that there may be."""
        vector = -1
        for outcome in results:
            vector &= of(outcome) | ~outcome.answer.at
        return vector

    def perhaps(self, batch: Batch, each: Wanted) -> int:
        """Where it is given for at least one value of what is not known, whatever came before."""
        return _any(self.surely(outcomes, _given(batch, each)) for outcomes in batch.outcomes)


def _given(batch: Batch, each: Wanted) -> Callable[[Outcome], int]:
    """When a service is given: what it draws from a store only while that is hot, or is being heated."""
    cold = [(charge, batch.everywhere(_cold(batch.free, charge))) for charge in each.charges]

    def given(outcome: Outcome) -> int:
        return each.given(outcome) & ~_any(charge.missed(outcome, where) for charge, where in cold)

    return given


def _cold(space: StateSpace, charge: Charge) -> int:
    """The states in which a store calls for heat."""
    vector = space.everywhere
    for group in charge.cold:
        vector &= _any(space.where(name) for name in group)
    return vector


def _any(vectors: Iterable[int]) -> int:
    total = 0
    for vector in vectors:
        total |= vector
    return total
