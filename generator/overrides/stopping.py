"""How a tenant stops heat that nobody asked for: the calls off, a lever back, at last the switch.

Goes by the faults behind the symptom, like every other search here.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from generator.faults.fault import Change, Fault, Of
from generator.overrides.house import House
from generator.overrides.model import Attempt, Caution, Move, Step
from generator.overrides.outcomes import Cell, Faulty, outcomes
from generator.overrides.services import Wanted
from generator.overrides.symptoms import Seen


@dataclass(slots=True, kw_only=True)
class Stopped:
    """The attempts, the faults that are left, and how many states were gone through."""

    attempts: list[Attempt] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    states: int = 0


def stop(house: House, seen: Seen) -> Stopped:
    """The steps that stop it, in order: each leaves what was done before."""
    done = Stopped(left=[each.fault.name for each in seen.faults])
    off: list[Step] = []
    for attempt, cured in _attempts(house, seen, off):
        if not done.left:
            break
        helps = [each.fault.name for each in seen.faults if each.fault.name in done.left and cured(each)]
        if not helps:
            continue
        done.states += house.space.size * len(seen.faults)
        done.left = [name for name in done.left if name not in helps]
        new = tuple(step for step in attempt.steps if step not in off)
        off += new
        done.attempts.append(
            Attempt(
                steps=new,
                wanted=seen.symptom.never_stops,
                wait_s=attempt.wait_s,
                helps=tuple(helps),
                cautions=attempt.cautions,
            )
        )
    return done


class _Cured:
    """Whether a fault shows no longer with some inputs held off, and with its lever back."""

    def __init__(self, house: House, seen: Seen, off: frozenset[str], *, levers: frozenset[str]) -> None:
        self.house = house
        self.seen = seen
        self.off = off
        self.levers = levers

    def __call__(self, faulty: Faulty) -> bool:
        cell = faulty.cells[frozenset()]
        if faulty.fault.latched in self.levers:
            cell = self.house.solved.sound.cells[frozenset()]
        return not any(self._warm(cell, name) for name in self.seen.symptom.never_stops)

    def _warm(self, cell: Cell, name: str) -> int:
        held = self.house.space.everywhere
        for each in self.off:
            held &= ~self.house.space.where(each)
        wanted = next(each for each in self.house.wanted if each.name == name)
        sound = self.house.solved.sound.cells[frozenset()].warmed[name]
        return cell.warmed[name] & ~self.house.called(wanted) & ~sound & held


class _SwitchedOff:
    """Whether nothing of the symptom is heated in any state with some supplies switched off as well."""

    def __init__(self, house: House, seen: Seen, switches: Sequence[str]) -> None:
        self.names = seen.symptom.never_stops
        off = [each.fault for each in house.solved.faulty if each.fault.off in switches and each.fault.off]
        self.cells: dict[str, Cell] = {}
        if off:
            both = [_with(each.fault, off) for each in seen.faults]
            solved = outcomes(house.circuit, both, house.wanted, ())
            self.cells = {each.fault.name: each.cells[frozenset()] for each in solved.faulty}

    def __call__(self, faulty: Faulty) -> bool:
        cell = self.cells.get(faulty.fault.name)
        return cell is not None and not any(cell.warmed[name] for name in self.names)


def _with(fault: Fault, off: Sequence[Fault]) -> Fault:
    """All faults at once, under the name of the first; a lever stays latched."""
    lever = (Change(of=Of.INPUT, name=fault.latched, on=True),) if fault.latched else ()
    switched = (change for each in off for change in each.changes)
    return replace(fault, changes=(*fault.changes, *switched, *lever), latched="", off="")


_Test = Callable[[Faulty], bool]


def _attempts(house: House, seen: Seen, done: Sequence[Step]) -> Iterator[tuple[Attempt, _Test]]:
    """What may stop it, easiest first. ``done`` grows by the steps of those that were taken."""
    controls = house.controls
    levers = frozenset(
        each.fault.latched
        for each in seen.faults
        if each.fault.latched in controls.off and each.fault.latched
    )
    names = seen.symptom.never_stops
    if levers:
        steps = tuple(step for name, step in controls.off.items() if name in levers)
        yield _attempt(steps, names), _Cured(house, seen, frozenset(), levers=levers)
    own = _held(house, [each for each in house.wanted if each.name in names])
    every = _held(house, house.wanted)
    for held in (own, every):
        if held:
            steps = tuple(step for name, step in controls.off.items() if name in held)
            yield _attempt(steps, names), _Cured(house, seen, held, levers=levers)
    for supply in controls.supplies:
        # What gives the heat may have a switch of its own, as an electric boiler or a heat pump has.
        last = controls.off[supply.input]
        before = [each.input for each in controls.supplies if controls.off[each.input] in done]
        yield (
            Attempt(steps=(last,), wanted=names, wait_s=0, helps=(), cautions=(Caution.FROST,)),
            _SwitchedOff(house, seen, [*before, supply.input]),
        )


def _attempt(steps: tuple[Step, ...], names: tuple[str, ...]) -> Attempt:
    return Attempt(steps=steps, wanted=names, wait_s=0, helps=())


def _held(house: House, wanted: Sequence[Wanted]) -> frozenset[str]:
    """The inputs of the calls that a tenant can turn off."""
    return frozenset(
        name
        for each in wanted
        for group in each.calls
        for name in group
        if house.controls.off.get(name) is not None
        and house.controls.off[name].move in (Move.TIMER_OFF, Move.ROOM_DOWN)
    )
