"""One house as the search sees it: what a set of moves gives with a fault, and whether it is safe.

Every answer is over all states of what nobody holds: timers, thermostats, cut-outs. It tries nothing by itself.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.faults.fault import SOUND, Fault
from generator.faults.simulate import Levers
from generator.overrides.controls import Controls
from generator.overrides.model import Reason
from generator.overrides.outcomes import Cell, Faulty, Outcomes
from generator.overrides.policy import Policy
from generator.overrides.returns import Returned
from generator.overrides.services import Wanted, unvented


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """Where the controls are put: inputs held on, levers latched, and whether the immersion heater is switched on.

    ``switched`` are supplies seen to be on.
    """

    held: frozenset[str] = frozenset()
    levers: Levers = frozenset()
    immersion: bool = False
    switched: frozenset[str] = frozenset()

    def with_(self, other: "Moves") -> "Moves":
        """Both together."""
        return Moves(
            held=self.held | other.held,
            levers=self.levers | other.levers,
            immersion=self.immersion or other.immersion,
            switched=self.switched | other.switched,
        )

    @property
    def count(self) -> int:
        """How many controls are moved."""
        return len(self.held) + len(self.levers) + self.immersion + len(self.switched)


@dataclass(frozen=True, slots=True, kw_only=True)
class Given:
    """How a service is given: in every state, or only while some inputs are on by themselves."""

    only_while: tuple[str, ...] = ()


class House:
    """A circuit with its faults solved."""

    def __init__(
        self,
        circuit: Circuit,
        solved: Outcomes,
        wanted: Sequence[Wanted],
        controls: Controls,
        policy: Policy,
        returns: Returned,
    ) -> None:
        """Prepare.

        Args:
            circuit: the house.
            solved: what each fault does in it.
            wanted: its services.
            controls: what a tenant may move.
            policy: the firm's choices.
            returns: with which faults everything goes back after a lever was latched.
        """
        self.not_returned = returns.not_shown
        self.returned_together = returns.together
        self.circuit = circuit
        self.solved = solved
        self.wanted = tuple(wanted)
        self.controls = controls
        self.policy = policy
        self.space = solved.space
        self.unvented = unvented(circuit)
        self.tripped = 0
        for name in solved.cut_outs:
            self.tripped |= self.space.where(name)
        self.tank_calls = {
            f"{zone.thermostat}.calling"
            for zone in circuit.zones
            if zone.serves == "hot water"
            and zone.thermostat
            and circuit.device(zone.thermostat).duty is Duty.CYLINDER_THERMOSTAT
        } & set(self.space.inputs)
        self.coil_asked = 0
        for name in self.tank_calls:
            self.coil_asked |= self.space.where(name)
        self._usual = {each.name: self._given_when_called(each) for each in self.wanted}

    def _given_when_called(self, wanted: Wanted) -> int:
        """The states of everything else in which the sound house gives a service that is called."""
        vector = self.solved.sound.cells[frozenset()].given[wanted.name] & self.called(wanted)
        vector &= ~self.tripped
        for group in wanted.calls:
            for name in group:
                vector |= self.space.turned(vector, name)
        return vector

    def called(self, wanted: Wanted, *, unset: Sequence[str] = ()) -> int:
        """The states in which a service is called as it is meant to be; ``unset`` inputs are off."""
        vector = self.space.everywhere
        for group in wanted.calls:
            on = 0
            for name in group:
                if name not in unset:
                    on |= self.space.where(name)
            vector &= on
        return vector

    def fails(self, faulty: Faulty, wanted: Wanted) -> bool:
        """Whether the service is missed in some state in which the sound house gives it, or in any if it never does."""
        due = self.called(wanted) & self._usual[wanted.name] & ~self.tripped
        if not due or wanted.starved(faulty.fault.unset):
            return True
        called = self.called(wanted, unset=faulty.fault.unset)
        return bool(due & ~(called & self._while_unset(faulty, wanted)))

    def works(self, faulty: Faulty, wanted: Wanted) -> bool:
        """Whether the service is given in some state in which it is called."""
        called = self.called(wanted, unset=faulty.fault.unset)
        return bool(called & self._while_unset(faulty, wanted))

    def _while_unset(self, faulty: Faulty, wanted: Wanted) -> int:
        """The states in which a service is given, with what stays off by the fault off in each of them."""
        vector = faulty.cells[frozenset()].given[wanted.name]
        for name in faulty.fault.unset:
            off = vector & ~self.space.where(name)
            vector = off | self.space.turned(off, name)
        return vector

    def warms_unasked(self, faulty: Faulty, wanted: Wanted) -> int:
        """The states in which a part of the house is heated, its own call is not whole, and the sound house does not heat it."""
        sound = self.solved.sound.cells[frozenset()].warmed[wanted.name]
        return faulty.cells[frozenset()].warmed[wanted.name] & ~self.called(wanted) & ~sound

    def cells(self, faulty: Faulty, levers: Levers) -> list[tuple[Levers, Cell]] | None:
        """The cell with these levers and those with any of them let go; None where not all were solved."""
        found = []
        for let_go in _subsets(levers):
            cell = faulty.cells.get(levers - let_go)
            if cell is None:
                return None
            found.append((let_go, cell))
        return found

    def given(self, moves: Moves, faulty: Faulty, wanted: Wanted, *, perhaps: bool = False) -> Given | None:
        """Whether the moves give the service for sure, in every state of what nobody holds; None where not.

        A lever that the motor can take back has to be right both latched and let go.

        Args:
            moves: where the controls are.
            faulty: the fault.
            wanted: the service.
            perhaps: be content with one value of what is not known.
        """
        fault = faulty.fault
        if fault.off:
            if fault.off not in moves.switched:
                return None
            faulty = self.solved.sound
        cells = self.cells(faulty, moves.levers)
        if cells is None or wanted.starved(set(fault.unset) - moves.held):
            return None
        vector = self._surely(moves, fault, wanted, cells, perhaps=perhaps)
        held = self._held(moves, fault, wanted)
        usual = held & self._usual[wanted.name]
        if usual and not usual & ~vector:
            return Given(only_while=self._needed(wanted, usual, held & ~vector))
        if held and not held & ~vector:
            return Given()
        for name in sorted(self.tank_calls - _own(wanted), key=self.space.inputs.index):
            here = held & self.space.where(name)
            due = here & self._usual[wanted.name] or here
            if due and not due & ~vector:
                return Given(only_while=(name,))
        return None

    def _needed(self, wanted: Wanted, usual: int, missed: int) -> tuple[str, ...]:
        """What besides its own call has to be on for a service, in the sound house too: a second thermostat in its line."""
        return tuple(
            name
            for name in self.space.inputs
            if name not in _own(wanted)
            and missed & ~self.space.where(name)
            and not usual & ~self.space.where(name)
        )

    def _region(self, moves: Moves, fault: Fault) -> int:
        """The states that there may be while the moves stand."""
        region = self.space.everywhere
        for name in moves.held:
            region &= self.space.where(name)
        for name in set(fault.unset) - moves.held:
            region &= ~self.space.where(name)
        return region

    def _surely(
        self,
        moves: Moves,
        fault: Fault,
        wanted: Wanted,
        cells: Sequence[tuple[Levers, Cell]],
        *,
        perhaps: bool,
    ) -> int:
        """The states in which a service is given, whichever levers a motor has taken back by then."""
        region = self._region(moves, fault)
        vector = -1
        for let_go, cell in cells:
            # Once a motor has taken a lever back it stays so, whatever calls later.
            if all(
                any(each.driven.get(lever, 0) & region for gone, each in cells if lever not in gone)
                for lever in let_go
            ):
                here = (cell.perhaps if perhaps else cell.given)[wanted.name]
                if moves.immersion and wanted.service.serves == "hot water":
                    here |= cell.immersion
                vector &= here
        return vector

    def _held(self, moves: Moves, fault: Fault, wanted: Wanted) -> int:
        """The states that there may be: what is held is on, and what no tenant can move of the service's own call."""
        vector = self.space.everywhere & ~self.tripped
        for name in moves.held:
            vector &= self.space.where(name)
        for name in set(fault.unset) - moves.held:
            vector &= ~self.space.where(name)
        for group in wanted.calls:
            if not any(name in self.controls.on for name in group) and group[0] not in fault.unset:
                vector &= self.space.where(group[0])
        return vector

    def unsafe(self, moves: Moves, faulty: Faulty) -> Reason | None:
        """Why the moves are not safe with a fault, in any state that anything can drift into; None where they are."""
        if faulty.fault.off and faulty.fault.off in moves.switched:
            faulty = self.solved.sound
        cells = self.cells(faulty, moves.levers)
        if cells is None:
            return Reason.HAZARD
        plain = faulty.cells[frozenset()]
        moved = moves.held or moves.levers
        if moves.levers and self.not_returned & {faulty.fault.name, SOUND.name}:
            return Reason.NOT_RETURNED
        if len(moves.levers) > 1 and not self.returned_together:
            return Reason.NOT_RETURNED
        for _, cell in cells:
            if self.unvented and moved and self.uncontrolled(cell):
                return Reason.UNVENTED_STUCK
            if cell.hunting & ~plain.hunting or cell.dead_head & ~plain.dead_head:
                return Reason.HAZARD
            if self.policy.vented_lever == "not allowed" and self.newly_uncontrolled(cell, plain):
                return Reason.VENTED_POLICY
        return None

    def uncontrolled(self, cell: Cell) -> int:
        """The states in which a cylinder is heated although its thermostat is satisfied or its cut-out has tripped."""
        return cell.coil & (~self.coil_asked | self.tripped) & self.space.everywhere

    def newly_uncontrolled(self, cell: Cell, plain: Cell) -> int:
        """Those of them that there are not with every lever at rest."""
        return self.uncontrolled(cell) & ~self.uncontrolled(plain)

    def scalds(self, moves: Moves, faulty: Faulty) -> bool:
        """Whether the moves can heat a cylinder past its thermostat, where it would not be otherwise."""
        plain = faulty.cells[frozenset()]
        return any(self.newly_uncontrolled(cell, plain) for _, cell in self.cells(faulty, moves.levers) or ())

    def overheats(self, moves: Moves, faulty: Faulty) -> bool:
        """Whether a cylinder may be heated past its thermostat in some state while the calls that are held stand."""
        region = self._region(moves, faulty.fault)
        return any(self.uncontrolled(cell) & region for _, cell in self.cells(faulty, moves.levers) or ())

    def also_warmed(self, moves: Moves, faulty: Faulty) -> tuple[str, ...]:
        """The services whose part is heated without its own call while the moves stand, and is not otherwise."""
        plain = faulty.cells[frozenset()]
        found = []
        for wanted in self.wanted:
            called = self.called(wanted)
            for _, cell in self.cells(faulty, moves.levers) or ():
                if cell.warmed[wanted.name] & ~called & ~plain.warmed[wanted.name]:
                    found.append(wanted.name)
                    break
        return tuple(found)

    def lets_go(self, moves: Moves, faulty: Faulty) -> bool:
        """Whether a motor may take a latched lever back while the moves stand."""
        cell = faulty.cells.get(moves.levers)
        return cell is not None and any(cell.driven.get(lever, 0) for lever in moves.levers)

    def states(self, moves: Moves) -> int:
        """How many states one fault is gone through in, with every lever latched and let go."""
        return self.space.size << len(moves.levers)


def _own(wanted: Wanted) -> set[str]:
    return {name for group in wanted.calls for name in group}


def _subsets(levers: Levers) -> Iterator[Levers]:
    ordered = sorted(levers)
    for size in range(len(ordered) + 1):
        for chosen in combinations(ordered, size):
            yield frozenset(chosen)
