"""The Overrides page of a property for engineers: what a tenant is told, why, and the proof, as plain words.

Puts what the search found into sentences; it proves nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.circuit.model import Circuit
from generator.overrides.model import (
    Attempt,
    Caution,
    FaultPlan,
    Instruction,
    Move,
    Overrides,
    Sign,
    Step,
)
from generator.overrides.prove import calls_by_itself
from generator.views.tenant_heat import heard
from generator.views.wording import capital, listed, plural


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownAttempt:
    """Steps that are tried together, with what they bring and for which faults."""

    steps: tuple[str, ...]
    brings: str
    says: tuple[str, ...]
    helps: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownInstruction:
    """What a tenant is told about one symptom, and its proof. ``reasons`` say why there is no step, or no further one."""

    slug: str
    heading: str
    attempts: tuple[ShownAttempt, ...]
    reasons: tuple[str, ...]
    still_works: tuple[str, ...]
    put_back: tuple[str, ...]
    covered: str
    shown: tuple[str, ...]
    not_helped: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ShownPlan:
    """The shortest safe steps for one service, and all single faults for which they are the same.

    ``steps`` is empty where there are none; ``why`` then says why.
    """

    service: str
    steps: tuple[str, ...]
    while_: str
    why: str
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class OverridesView:
    """The whole page.

    ``refused`` is empty where the house may have steps. ``hazards`` are those looked for in every state and found in
    none; ``limits`` is what was left out, and why.
    """

    refused: str
    covered: str
    instructions: tuple[ShownInstruction, ...]
    plans: tuple[ShownPlan, ...]
    hazards: tuple[str, ...]
    limits: tuple[str, ...]


_WITHOUT_DEVICE = {
    Move.CHECK_CREDIT: "Check that there is fuel: credit on the meter, or the gauge of the tank",
    Move.CHECK_TAP: "Check that water runs from a hot tap: the cylinder is full",
}
_WITH_DEVICE = {
    Move.TIMER_ON: "{input} to constant on",
    Move.TIMER_OFF: "{input} to constant off",
    Move.ROOM_UP: "turn up until it calls",
    Move.ROOM_DOWN: "turn down until it no longer calls",
    Move.BOOST: "boost",
    Move.LEVER_LATCHED: "lever over, latched open",
    Move.LEVER_BACK: "lever back to rest",
    Move.PUT_BACK: "{input} as it was before",
    Move.SWITCH_ON: "switch on",
    Move.SWITCH_OFF: "switch off",
}
LIMITS = (
    "Joins of metal only: what a motor does on part of the voltage, through other loads, is not counted.",
    "Cores exchanged, and line and neutral reversed, come only with work on the wiring: solved one by one, behind no symptom.",
    "Where somebody has just worked on the wiring a tenant is to ring.",
    "One fault at a time. How long rooms or water take to warm is from memory; the wait until heat is called is computed.",
    "Nothing here asks a tenant to take a cover off, to reset a cut-out or to touch what makes the heat (Approved Document G, 3.24).",
)


def overrides_view(circuit: Circuit | None, found: Overrides) -> OverridesView:
    """The page of a house.

    Args:
        circuit: of the house; None where it could not be made, and nothing was found.
        found: what the search found.
    """
    if circuit is None or found.refused is not None:
        why = found.refused.value if found.refused is not None else "the record could not be solved"
        return OverridesView(
            refused=f"No step is given to the tenant: {why}.",
            covered="",
            instructions=(),
            plans=(),
            hazards=(),
            limits=(),
        )
    words = _Words(circuit, found)
    return OverridesView(
        refused="",
        covered=f"{plural(found.faults, 'single fault')} tried, each in all {found.states:,} states of the controls, with every "
        "lever at rest and latched.",
        instructions=tuple(words.instruction(each) for each in found.instructions),
        plans=tuple(words.plans()),
        hazards=_in_all([each.proof.hazards for each in found.instructions if each.proof.hazards]),
        limits=(*_unsolved(found), *LIMITS),
    )


def _in_all(lists: Sequence[tuple[str, ...]]) -> tuple[str, ...]:
    """What every one of them has, in the order of the first."""
    return tuple(each for each in lists[0] if all(each in other for other in lists)) if lists else ()


def _unsolved(found: Overrides) -> tuple[str, ...]:
    if not found.unsolved:
        return ()
    return (f"Not solved, so that nothing is claimed of them: {'; '.join(found.unsolved)}.",)


class _Words:
    def __init__(self, circuit: Circuit, found: Overrides) -> None:
        self.circuit = circuit
        self.found = found
        self.faults = {plan.fault: plan.words for plan in found.plans}
        self.services = {service.name: service.words for service in found.services}
        self.inputs = {item.name: item for item in circuit.inputs}

    def names(self, services: Sequence[str]) -> str:
        return listed([self.services.get(name, name) for name in services])

    def device(self, step: Step) -> str:
        device = self.circuit.device(step.device)
        return f"{device.words} ({device.place})" if device.place else device.words

    def step(self, step: Step) -> str:
        """One step for an engineer."""
        if not step.device:
            return _WITHOUT_DEVICE[step.move]
        item = self.inputs[step.input].words if step.input else ""
        return f"{self.device(step)}: {_WITH_DEVICE[step.move].format(input=item)}"

    def instruction(self, each: Instruction) -> ShownInstruction:
        proof = each.proof
        count = len(proof.faults)
        covered = f"{capital(plural(count, 'fault'))} can show as this."
        if proof.states:
            covered += f" Gone through in {proof.states:,} states, timers, thermostats and cut-outs free."
        return ShownInstruction(
            slug=each.symptom.slug,
            heading=self.heading(each),
            attempts=tuple(self.attempt(a, stops=bool(each.symptom.never_stops)) for a in each.attempts),
            reasons=tuple(f"{reason.value[:1].upper()}{reason.value[1:]}." for reason in each.reasons),
            still_works=tuple(self.services.get(name, name) for name in each.still_works),
            put_back=tuple(self.step(step) for step in each.put_back),
            covered=covered,
            shown=proof.shown,
            not_helped=tuple(self.faults.get(name, name) for name in proof.not_helped),
        )

    def heading(self, each: Instruction) -> str:
        match each.symptom.sign:
            case Sign.NOTHING_WARM:
                return "Nothing gets warm"
            case Sign.ROOMS_COLD:
                return "No room gets warm, the hot water is right"
            case Sign.ZONE_COLD:
                return f"{self.names(each.symptom.cold)} stays cold, something else works"
            case Sign.WATER_COLD:
                return "No hot water, the rooms are right"
            case Sign.ROOMS_NEVER_STOP:
                return "The rooms get warm unasked"
            case Sign.WATER_NEVER_STOPS:
                return "The hot water is heated unasked"

    def attempt(self, attempt: Attempt, *, stops: bool) -> ShownAttempt:
        sure = "" if attempt.certain else ", if its lever works that way"
        brings = "Stops the heat" if stops else f"Brings back {self.names(attempt.wanted)}{sure}"
        says = [self.while_(attempt.only_while)] if attempt.only_while else []
        if attempt.wait_s:
            says.append(f"{self.start(attempt)} within {attempt.wait_s:.0f} s.")
        for caution in attempt.cautions:
            if caution is Caution.TIME_LIMIT:
                says.append(f"Put it back within {self.found.hours:g} h.")
            elif caution is not Caution.ONLY_WHILE:
                says.append(f"{caution.value[:1].upper()}{caution.value[1:]}.")
        if attempt.also_heats:
            says.append(f"May be heated unasked: {self.names(attempt.also_heats)}.")
        return ShownAttempt(
            steps=tuple(self.step(step) for step in attempt.steps),
            brings=f"{brings}.",
            says=tuple(says),
            helps=tuple(self.faults.get(name, name) for name in attempt.helps),
        )

    def start(self, attempt: Attempt) -> str:
        """What should be noticed after an attempt: the sound of what makes the heat, where it makes one."""
        sound = heard(self.circuit, attempt.wanted).replace("-", " ")
        return f"The {sound} should be heard" if sound else "Heat should be on its way"

    def while_(self, inputs: Sequence[str]) -> str:
        parts = [calls_by_itself(self.circuit, name) for name in inputs]
        return f"Only while {listed(parts)}." if parts else ""

    def plans(self) -> Iterator[ShownPlan]:
        """The plans of every service, those with the same steps together, in the order of their first fault."""
        for service in self.found.services:
            groups: dict[tuple[object, ...], list[FaultPlan]] = {}
            for plan in self.found.plans:
                if plan.service == service.name and service.name not in plan.still_works:
                    groups.setdefault((plan.steps, plan.only_while, plan.reason), []).append(plan)
            for (_, only_while, _), plans in groups.items():
                first = plans[0]
                why = first.reason.value if first.reason is not None else ""
                yield ShownPlan(
                    service=service.words,
                    steps=tuple(self.step(step) for step in first.steps),
                    while_=self.while_(first.only_while) if only_while else "",
                    why=f"{why[:1].upper()}{why[1:]}." if why else "",
                    faults=tuple(plan.words for plan in plans),
                )
