"""What a tenant may do about every symptom of a house, searched and proved; the one door to this package.

Where no step is safe, it says so and says why; it never gives a step that is not proved.
"""

from collections.abc import Iterable, Iterator, Sequence

from generator.catalogue.kind import Duty
from generator.faults.every_fault import every_fault
from generator.findings.finding import Finding, Severity
from generator.overrides.attempts import Attempts, Tried
from generator.overrides.controls import Controls, tenant_controls
from generator.overrides.house import House, Moves
from generator.overrides.model import (
    Attempt,
    FaultPlan,
    Instruction,
    Move,
    Overrides,
    Proof,
    Reason,
    Sign,
    Step,
)
from generator.overrides.outcomes import outcomes
from generator.overrides.plans import Planner
from generator.overrides.policy import Policy
from generator.overrides.prove import not_found, shown
from generator.overrides.returns import returned
from generator.overrides.services import wanted_services
from generator.overrides.stopping import stop
from generator.overrides.symptoms import Seen, symptoms
from generator.states.answer import Solution
from generator.states.solve import TooManyStates

_ORDER = tuple(Reason)


def overrides(solution: Solution | None, findings: Iterable[Finding], policy: Policy) -> Overrides:
    """Search and prove the steps for every symptom.

    Args:
        solution: of the house as it is recorded; None where it could not be solved.
        findings: what is wrong in the record; danger stops every step.
        policy: the firm's choices.
    """
    if any(finding.severity is Severity.DANGER for finding in findings):
        return refused_for(Reason.DANGER, policy)
    return refused_for(Reason.NOT_SOLVED, policy) if solution is None else searched(solution, policy)


def refused_for(reason: Reason, policy: Policy) -> Overrides:
    """No step at all, for one reason."""
    return Overrides(
        services=(),
        instructions=(),
        plans=(),
        refused=reason,
        hours=policy.lever_hours,
        states=0,
        faults=0,
        unsolved=(),
    )


def searched(solution: Solution, policy: Policy) -> Overrides:
    """The steps for every symptom of a house in which no danger is found; depends on the circuit alone.

    Args:
        solution: of the house as it is recorded.
        policy: the firm's choices.

    Complexity: a simulation of every single fault with every lever, then a search on vectors of as many bits as the
        controls have states.
    """
    circuit = solution.circuit
    if circuit.with_duty(Duty.UNCONTROLLED_HEAT) or any(s.of == "solid fuel" for s in circuit.water.sources):
        return refused_for(Reason.SOLID_FUEL, policy)
    try:
        return _Search(solution, policy).run()
    except TooManyStates:
        # The controls can be solved alone, and are too many once every fault is solved beside them.
        return refused_for(Reason.TOO_LARGE, policy)


class _Search:
    def __init__(self, solution: Solution, policy: Policy) -> None:
        self.policy = policy
        circuit = solution.circuit
        self.wanted = wanted_services(circuit)
        self.controls = tenant_controls(circuit)
        self.faults = every_fault(solution)
        levers = [name for name, step in self.controls.on.items() if step.move is Move.LEVER_LATCHED]
        solved = outcomes(circuit, self.faults, self.wanted, levers)
        remembers = [fault for fault in solved.remembers if not fault.by_work]
        self.house = House(
            circuit,
            solved,
            self.wanted,
            self.controls,
            policy,
            returned(circuit, remembers, levers),
        )
        self.planner = Planner(self.house) if self.house.solved.faulty else None

    def run(self) -> Overrides:
        if self.planner is None:
            found: tuple[Instruction, ...] = ()
        else:
            found = tuple(self.instruction(seen) for seen in symptoms(self.house))
        return Overrides(
            services=tuple(each.service for each in self.wanted),
            instructions=found,
            plans=tuple(self.plans()),
            refused=None if self.planner else Reason.NOT_SOLVED,
            hours=self.policy.lever_hours,
            states=self.house.space.size,
            faults=len(self.faults),
            unsolved=tuple(fault.words for fault in self.house.solved.unsolved),
        )

    def plans(self) -> Iterator[FaultPlan]:
        if self.planner is None:
            return
        for faulty in self.house.solved.faulty:
            for wanted in self.wanted:
                yield self.planner.plan(faulty, wanted)

    def instruction(self, seen: Seen) -> Instruction:
        if seen.symptom.never_stops:
            return self.stopping(seen)
        tried = Attempts(self.house, seen).search()
        left = [f for f in seen.faults if tried.left[f.fault.name]]
        reasons = [*tried.reasons, *self.reasons(seen, tried)] if left else []
        attempts = tuple(tried.attempts)
        return Instruction(
            symptom=seen.symptom,
            attempts=attempts,
            reasons=_ordered(reasons) or (() if attempts else (Reason.NO_WAY,)),
            still_works=self.still_works(seen),
            put_back=_put_back(self.controls, tried.moves),
            proof=self.proof(seen, attempts, tuple(f.fault.name for f in left), tried.states),
        )

    def stopping(self, seen: Seen) -> Instruction:
        done = stop(self.house, seen)
        reasons = [Reason.ONLY_STOP] if seen.symptom.sign is Sign.WATER_NEVER_STOPS else []
        attempts = tuple(done.attempts)
        steps = [step for attempt in attempts for step in attempt.steps]
        return Instruction(
            symptom=seen.symptom,
            attempts=attempts,
            reasons=tuple(reasons + ([Reason.OUT_OF_REACH] if done.left or not attempts else [])),
            still_works=(),
            put_back=tuple(
                Step(move=Move.PUT_BACK, device=s.device, control=s.control, input=s.input, zone=s.zone)
                for s in reversed(steps)
                if s.move in (Move.TIMER_OFF, Move.ROOM_DOWN)
            ),
            proof=self.proof(seen, attempts, tuple(done.left), done.states),
        )

    def reasons(self, seen: Seen, tried: Tried) -> Iterator[Reason]:
        """Why the faults that are left get no step, one kind of outcome at a time."""
        if self.planner is None:
            return
        for faulty in seen.faults:
            for wanted in self.wanted:
                if (
                    wanted.service.serves in tried.left[faulty.fault.name]
                    and wanted.name in seen.symptom.cold
                ):
                    reason = self.planner.plan(faulty, wanted).reason
                    if reason is not None:
                        yield reason

    def still_works(self, seen: Seen) -> tuple[str, ...]:
        if self.planner is None:
            return ()
        works = [set(self.planner.still_works(each)) for each in seen.faults]
        return tuple(w.name for w in self.wanted if all(w.name in each for each in works))

    def proof(self, seen: Seen, attempts: Sequence[Attempt], left: tuple[str, ...], states: int) -> Proof:
        names = tuple(each.fault.name for each in seen.faults)
        return Proof(
            states=states,
            faults=names,
            helped=tuple(name for name in names if name not in left),
            not_helped=left,
            # Turning things off is solved for what it stops, not searched for hazards.
            hazards=() if seen.symptom.never_stops else not_found(attempts),
            shown=tuple(shown(self.house, seen, attempts)),
        )


def _ordered(reasons: Iterable[Reason]) -> tuple[Reason, ...]:
    found = set(reasons)
    return tuple(reason for reason in _ORDER if reason in found)


def _put_back(controls: Controls, moves: Moves) -> tuple[Step, ...]:
    """The steps that undo all moves, the last first; a supply that was switched on stays on."""
    steps = [step for name, step in controls.off.items() if name in moves.levers]
    if moves.immersion and controls.immersion is not None:
        steps.append(controls.off[controls.immersion.input])
    steps += [
        Step(move=Move.PUT_BACK, device=s.device, control=s.control, input=s.input, zone=s.zone)
        for name, s in reversed(list(controls.off.items()))
        if name in moves.held
    ]
    return tuple(steps)
