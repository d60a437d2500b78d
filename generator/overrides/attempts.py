"""Steps against a symptom, to be tried in order, that are right or harmless whichever of its faults it is.

Each attempt stands on those before it. One is only given that some fault behind the symptom calls for, and that is safe
with every one of them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from generator.catalogue.kind import Duty
from generator.faults.fault import Fault
from generator.overrides.house import Given, House, Moves
from generator.overrides.model import Attempt, Caution, Move, Reason, Sign, Step
from generator.overrides.outcomes import Faulty
from generator.overrides.plans import Plan, plans, steps_of
from generator.overrides.services import Wanted
from generator.overrides.symptoms import Seen


@dataclass(slots=True, kw_only=True)
class Tried:
    """What a search has come to: the attempts, where they leave the controls, and what was gone through."""

    attempts: list[Attempt] = field(default_factory=list)
    positions: list[Moves] = field(default_factory=list)
    reasons: list[Reason] = field(default_factory=list)
    left: dict[str, set[str]] = field(default_factory=dict)
    states: int = 0

    @property
    def moves(self) -> Moves:
        """Where the controls stand."""
        return self.positions[-1] if self.positions else Moves()


class Attempts:
    """The search for one symptom of one house."""

    def __init__(self, house: House, seen: Seen) -> None:
        """Prepare."""
        self.house = house
        self.seen = seen
        self.tried = Tried()
        self.cold = [each for each in house.wanted if each.name in seen.symptom.cold]
        # One warm room is what is wanted of many; water is wanted for itself.
        for faulty in seen.faults:
            self.tried.left[faulty.fault.name] = {each.service.serves for each in self.cold}
        self.classes = _classes(house, seen.faults)

    def search(self) -> Tried:
        """Find the attempts."""
        self._credit()
        self._supply()
        for perhaps in (False, True):
            while self._extend(perhaps=perhaps):
                pass
        return self.tried

    def _credit(self) -> None:
        paid = [each.fault.name for each in self.seen.faults if each.fault.credit]
        if paid and self.seen.symptom.sign is Sign.NOTHING_WARM:
            self._add(
                Attempt(
                    steps=(Step(move=Move.CHECK_CREDIT),),
                    wanted=self._wanted(),
                    wait_s=0,
                    helps=tuple(paid),
                    cautions=self._as_built(Moves()),
                )
            )
            for name in paid:
                self.tried.left[name] = set()

    def _supply(self) -> None:
        faults = {each.fault.off for each in self.seen.faults}
        supplies = tuple(step for step in self.house.controls.supplies if step.input in faults)
        switched = frozenset(step.input for step in supplies)
        off = [each for each in self.seen.faults if each.fault.off in switched]
        moves = Moves(switched=switched)
        if off and not any(self._unsafe(moves)):
            # Once it is on the house is sound, and its own call brings the service back.
            self._add(
                Attempt(
                    steps=supplies,
                    wanted=self._wanted(),
                    wait_s=0,
                    helps=tuple(f.fault.name for f in off),
                    cautions=self._as_built(moves, off),
                ),
                moves,
            )

    def _as_built(self, moves: Moves, off: Sequence[Faulty] = ()) -> tuple[Caution, ...]:
        """What has to be said where a step makes a house work as it was built.

        There may be nothing on a cylinder that stops its heat, and what is switched on may feed the immersion heater too.
        """
        sound = self.house.solved.sound
        fed = sound.cells[frozenset()].immersion
        feeds = any(each.cells[frozenset()].immersion != fed for each in off)
        return (Caution.SCALD,) if feeds or self.house.overheats(moves, sound) else ()

    def _wanted(self) -> tuple[str, ...]:
        return tuple(each.name for each in self.cold)

    def _add(self, attempt: Attempt, moves: Moves | None = None) -> None:
        self.tried.attempts.append(attempt)
        self.tried.positions.append(moves or self.tried.moves)

    def _extend(self, *, perhaps: bool) -> bool:
        """Add the easiest attempt that helps; False where none does."""
        before = self.tried.moves
        choices = sorted(
            ((plan, wanted) for wanted in self.cold for plan in plans(self.house, wanted)),
            # Rooms first: a lever of hot water can scald.
            key=lambda choice: (choice[0].ease, not choice[1].heating),
        )
        for plan, wanted in choices:
            found = self._try(plan, wanted, before, perhaps=perhaps)
            if found is not None:
                attempt, moves = found
                self._add(attempt, moves)
                return True
        return False

    def _try(
        self, plan: Plan, wanted: Wanted, before: Moves, *, perhaps: bool
    ) -> tuple[Attempt, Moves] | None:
        moves = before.with_(plan.moves)
        helped = self._helped(moves, wanted, perhaps=perhaps)
        if moves == before or not helped:
            return None
        reasons = [reason for reason in self._unsafe(moves) if reason is not None]
        if reasons:
            self.tried.reasons += reasons
            return None
        for name in sorted(plan.moves.held - before.held, key=self.house.space.inputs.index):
            fewer = replace(moves, held=moves.held - {name})
            if self._helped(fewer, wanted, perhaps=perhaps) == helped and not any(self._unsafe(fewer)):
                moves = fewer
        if moves == before:
            return None
        self._count(moves)
        names = {name for name, _ in helped}
        wanted_too = [wanted.name]
        only = {name for _, given in helped for name in given.only_while}
        for name, _ in helped:
            self.tried.left[name].discard(wanted.service.serves)
        for other in self.cold:
            if other is not wanted:
                more = self._helped(moves, other, perhaps=perhaps)
                names.update(name for name, _ in more)
                only.update(name for _, given in more for name in given.only_while)
                wanted_too += [other.name] if more else []
                for name, _ in more:
                    self.tried.left[name].discard(other.service.serves)
        return (
            Attempt(
                steps=steps_of(self.house, moves, before=before),
                wanted=tuple(each.name for each in self.cold if each.name in wanted_too),
                wait_s=self._wait_s(moves, before, wanted),
                helps=tuple(f.fault.name for f in self.seen.faults if f.fault.name in names),
                certain=not perhaps,
                only_while=tuple(sorted(only, key=self.house.space.inputs.index)),
                also_heats=self._also(moves),
                cautions=tuple(self._cautions(moves, before, only=bool(only))),
            ),
            moves,
        )

    def _helped(self, moves: Moves, wanted: Wanted, *, perhaps: bool) -> list[tuple[str, Given]]:
        helped = []
        for members in self.classes:
            due = [m for m in members if wanted.service.serves in self.tried.left[m.fault.name]]
            if not due:
                continue
            given = self.house.given(moves, due[0], wanted, perhaps=perhaps)
            if given is not None:
                helped += [(member.fault.name, given) for member in due]
        return helped

    def _unsafe(self, moves: Moves) -> Iterator[Reason | None]:
        return (self.house.unsafe(moves, members[0]) for members in self.classes)

    def _count(self, moves: Moves) -> None:
        self.tried.states += self.house.states(moves) * len(self.seen.faults)

    def _also(self, moves: Moves) -> tuple[str, ...]:
        found: set[str] = set()
        for members in self.classes:
            found.update(self.house.also_warmed(moves, members[0]))
        return tuple(each.name for each in self.house.wanted if each.name in found)

    def _cautions(self, moves: Moves, before: Moves, *, only: bool) -> Iterator[Caution]:
        """What has to be said with this attempt that an earlier one has not said."""
        first = [members[0] for members in self.classes]
        latched = bool(moves.levers - before.levers)
        immersion = moves.immersion and not before.immersion
        # A call that is held goes on by itself, and a valve that failed towards the cylinder is not shut by its thermostat.
        calls = bool(moves.held - before.held) and any(
            self.house.overheats(moves, each) and not (before.held and self.house.overheats(before, each))
            for each in first
        )
        if immersion or calls or (latched and any(self.house.scalds(moves, each) for each in first)):
            yield Caution.SCALD
        if latched:
            yield Caution.TIME_LIMIT
        if set(self._also(moves)) - set(self._also(before)):
            yield Caution.STAYS_WARM if latched else Caution.ALSO_HEATS
        if immersion:
            yield Caution.COSTS
        if only:
            yield Caution.ONLY_WHILE
        if latched and any(self.house.lets_go(moves, each) for each in first):
            yield Caution.LETS_GO

    def _wait_s(self, moves: Moves, before: Moves, wanted: Wanted) -> float:
        """How long until the boiler should be heard: what moves by itself, one after the other, at the longest.

        0 for the immersion heater, which nothing is heard of.
        """
        if moves.immersion and not before.immersion:
            return 0.0
        circuit = self.house.circuit
        travel = {part.name: part.on_s for part in circuit.driven}
        opens = [travel.get(each.opens, 0.0) for each in self.house.wanted if set(_names(each)) & moves.held]
        opens.append(0.0 if f"{wanted.valve}.lever" in moves.levers else travel.get(wanted.opens, 0.0))
        between = sum(
            part.on_s
            for part in circuit.driven
            if circuit.device(part.name.split(".", 1)[0]).duty
            in (Duty.RELAY, Duty.BOILER, Duty.PUMP, Duty.CONTROLLER)
            and not part.name.split(".", 1)[1].startswith("zone-")
        )
        return max(opens) + between


def _names(wanted: Wanted) -> Iterator[str]:
    for group in wanted.calls:
        yield from group


def _classes(house: House, faults: Sequence[Faulty]) -> list[list[Faulty]]:
    """Faults that no attempt can tell apart, together; the first of each speaks for all."""
    found: dict[object, list[Faulty]] = {}
    for each in faults:
        signature = tuple((levers, cell.signature) for levers, cell in each.cells.items())
        key = (signature, _own(each.fault), each.fault.name in house.not_returned)
        found.setdefault(key, []).append(each)
    return list(found.values())


def _own(fault: Fault) -> tuple[object, ...]:
    return (fault.unset, fault.off, fault.latched, fault.credit)
