"""The moves that may bring a service back, easiest first, and the shortest of them that does.

Tries; whether a try is right and safe, the house answers.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from generator.overrides.house import Given, House, Moves
from generator.overrides.model import FaultPlan, Move, Reason, Step
from generator.overrides.outcomes import Faulty
from generator.overrides.services import Wanted


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Moves that are tried together; the lower its ease, the sooner it is tried."""

    ease: int
    moves: Moves


def own_call(house: House, wanted: Wanted) -> Moves:
    """The controls of a service's own call that a tenant may move."""
    held = []
    for group in wanted.calls:
        held += [name for name in group if name in house.controls.on][:1]
    return Moves(held=frozenset(held))


def lever_of(wanted: Wanted) -> str:
    """The input of the lever of the service's own valve; empty without one."""
    return f"{wanted.valve}.lever" if wanted.valve else ""


def plans(house: House, wanted: Wanted, *, levers: Sequence[str] | None = None) -> Iterator[Plan]:
    """Every set of moves that is tried for a service, easiest first.

    Args:
        house: the house.
        wanted: the service.
        levers: the levers that may be latched; None for those that the tenant may move.
    """
    allowed = [name for name in house.controls.on if name.endswith(".lever")] if levers is None else levers
    own = own_call(house, wanted)
    others = [own_call(house, each) for each in house.wanted if each is not wanted and not each.part]
    others = [each for each in others if each.held - own.held]
    yield Plan(ease=0, moves=Moves())
    yield Plan(ease=1, moves=own)
    for other in others:
        yield Plan(ease=2, moves=own.with_(other))
    if house.controls.immersion and wanted.service.serves == "hot water":
        yield Plan(ease=3, moves=Moves(immersion=True))
    lever = lever_of(wanted)
    if lever in allowed:
        latched = Moves(levers=frozenset({lever}))
        yield Plan(ease=4, moves=latched)
        yield Plan(ease=4, moves=latched.with_(own))
        for other in others:
            yield Plan(ease=5, moves=latched.with_(own).with_(other))
        for second in allowed:
            if second != lever:
                both = Moves(levers=frozenset({lever, second})).with_(own)
                yield Plan(ease=6, moves=both)
                for other in others:
                    yield Plan(ease=7, moves=both.with_(other))


def steps_of(house: House, moves: Moves, *, before: Moves | None = None) -> tuple[Step, ...]:
    """The steps from one position of the controls to another, in the order in which they are done.

    Supplies first, then clocks and room thermostats in the order of the record, the hot tap before the immersion
    heater, levers last: a motor that drives would take a lever back.
    """
    old = before or Moves()
    controls = house.controls
    steps = [step for name, step in controls.on.items() if name in moves.switched - old.switched]
    steps += [step for name, step in controls.on.items() if name in moves.held - old.held]
    if moves.immersion and not old.immersion and controls.immersion is not None:
        steps += [Step(move=Move.CHECK_TAP), controls.immersion]
    steps += [step for name, step in controls.on.items() if name in moves.levers - old.levers]
    return tuple(steps)


class Planner:
    """Finds the shortest safe plan for single faults, each kind of outcome once."""

    def __init__(self, house: House) -> None:
        """Prepare."""
        self.house = house
        self._known: dict[object, tuple[Moves | None, Given | None, Reason | None]] = {}
        self._works = {each.fault.name: self._working(each) for each in house.solved.faulty}

    def _working(self, faulty: Faulty) -> tuple[str, ...]:
        return tuple(w.name for w in self.house.wanted if not self.house.fails(faulty, w))

    def still_works(self, faulty: Faulty) -> tuple[str, ...]:
        """The services that the fault does not touch."""
        return self._works[faulty.fault.name]

    def plan(self, faulty: Faulty, wanted: Wanted) -> FaultPlan:
        """The shortest safe steps for one fault and one service."""
        works = self.still_works(faulty)
        fault = faulty.fault
        found: tuple[Moves | None, Given | None, Reason | None] = (Moves(), Given(), None)
        if wanted.name not in works:
            cells = tuple(cell.signature for cell in faulty.cells.values())
            key = (cells, fault.unset, fault.off, wanted.name)
            if key not in self._known:
                self._known[key] = self._search(faulty, wanted)
            found = self._known[key]
        moves, given, reason = found
        return FaultPlan(
            fault=fault.name,
            words=fault.words,
            service=wanted.name,
            steps=steps_of(self.house, moves) if moves else (),
            only_while=given.only_while if given else (),
            reason=reason,
            still_works=works,
        )

    def _search(self, faulty: Faulty, wanted: Wanted) -> tuple[Moves | None, Given | None, Reason | None]:
        house = self.house
        switched = frozenset({faulty.fault.off} & set(house.controls.on)) if faulty.fault.off else frozenset()
        best: tuple[int, int, Moves, Given] | None = None
        reasons: list[Reason] = []
        for plan in plans(house, wanted):
            moves = plan.moves.with_(Moves(switched=switched))
            given = house.given(moves, faulty, wanted)
            if given is None:
                continue
            reason = house.unsafe(moves, faulty)
            if reason is not None:
                reasons.append(reason)
                continue
            slim = self._slim(moves, faulty, wanted, given)
            rank = (len(given.only_while), slim.count, plan.ease)
            if best is None or rank < (len(best[3].only_while), best[0], best[1]):
                best = (slim.count, plan.ease, slim, given)
        if best is not None:
            return best[2], best[3], None
        return None, None, _first(reasons) or self._against(faulty, wanted, switched)

    def _slim(self, moves: Moves, faulty: Faulty, wanted: Wanted, given: Given) -> Moves:
        house = self.house

        def still(fewer: Moves) -> bool:
            return house.given(fewer, faulty, wanted) == given and house.unsafe(fewer, faulty) is None

        for name in sorted(moves.held, key=house.space.inputs.index):
            fewer = replace(moves, held=moves.held - {name})
            if still(fewer):
                moves = fewer
        return moves

    def _against(self, faulty: Faulty, wanted: Wanted, switched: frozenset[str]) -> Reason:
        """Why a control that would help may not be moved; that nothing helps, where none would."""
        house = self.house
        if faulty.fault.off and faulty.fault.off in house.controls.against:
            return house.controls.against[faulty.fault.off]
        lever = lever_of(wanted)
        if lever in house.controls.on and frozenset({lever}) not in house.solved.sound.cells:
            return Reason.TOO_LARGE
        if lever in house.controls.against:
            for plan in plans(house, wanted, levers=[lever]):
                moves = plan.moves.with_(Moves(switched=switched))
                if lever in moves.levers and house.given(moves, faulty, wanted):
                    return house.controls.against[lever]
        if wanted.service.serves == "hot water" and house.controls.no_immersion is not None:
            return house.controls.no_immersion
        for group in wanted.calls:
            for name in group:
                if name in house.controls.against and name in faulty.fault.unset:
                    return house.controls.against[name]
        return Reason.NO_WAY


def _first(reasons: Sequence[Reason]) -> Reason | None:
    """The most telling reason: what would hurt somebody comes before what the firm decided."""
    order = (Reason.UNVENTED_STUCK, Reason.HAZARD, Reason.VENTED_POLICY)
    return next((reason for reason in order if reason in reasons), None)
