"""What was proved of a property over all its states, straight from the solver; and what was not, with a counter-example.

Goes by duty and by parts, not by rules. It says what was covered, and never more than that.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Input, InputKind, LoadKind, Role
from generator.circuit.model import Circuit, ZoneIntent
from generator.pipeline import Examination, today
from generator.rules.behaviour import (
    any_firing,
    by_design,
    call,
    calling,
    calls_for,
    can_open,
    heated_otherwise,
    held_off,
    isolator_of,
    opened,
    pump_loads,
    pumping,
    ways_of,
)
from generator.rules.counter_example import counter_example, drive_of, example_state
from generator.rules.joins import conceivable
from generator.rules.rule import Subject, When, sound
from generator.rules.states_in_words import state_in_words
from generator.rules.valve_mechanism import never_both, open_without_supply
from generator.rules.words import and_so_on, device_of, lets_through, the_device, the_zone
from generator.states.answer import Answer, Solution
from generator.states.solve import solve
from generator.states.space import fewest_on
from generator.states.water import water_answer
from generator.views.wording import capital, plural


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """One claim.

    Attributes:
        claim: What should be so, a sentence.
        proved: Whether it is so in everything that was covered.
        covered: What was covered, with the number of states.
        counter: Where it is not so: one state, the path and the reading; empty where it is, or none can be given.
    """

    claim: str
    proved: bool
    covered: str
    counter: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Proofs:
    """All claims on one property, and the controls of which every combination was solved."""

    claims: tuple[Proof, ...]
    states: int
    controls: tuple[str, ...]


def proofs(examination: Examination) -> Proofs | None:
    """What was proved of an examined record; None where it could not be solved."""
    loaded, solution = examination.loaded, examination.solution
    if solution is None or loaded.record is None:
        return None
    subject = Subject(
        record=loaded.record,
        circuit=solution.circuit,
        places=loaded.places,
        solution=solution,
        today=today(),
        folder=None,
    )
    return Proofs(
        claims=tuple(_Claims(subject).all()),
        states=solution.space.size,
        controls=tuple(_control_words(subject.circuit, name) for name in solution.space.inputs),
    )


def _control_words(circuit: Circuit, name: str) -> str:
    item = next(each for each in circuit.inputs if each.name == name)
    device = device_of(circuit, name)
    alone = sum(1 for each in device.parts.inputs if each.normal is None) <= 1
    return the_device(device) if alone else f"{item.words} of {the_device(device)}"


class _Claims:
    def __init__(self, subject: Subject) -> None:
        self.subject = subject
        self.circuit = subject.circuit
        self.solution = subject.solution

    def all(self) -> Iterator[Proof]:
        yield from self.at_rest()
        yield from self.no_call()
        for zone in self.circuit.zones:
            yield from self.zone(zone)
        yield from self.isolated()
        yield from self.earths()
        yield self.line_and_neutral()
        yield from self.water()

    def covered(self, solution: Solution | None = None) -> str:
        """The states of a scenario, those in which the controls never rest left out."""
        solution = solution or self.solution
        size, at = solution.space.size, 0
        for answer in solution.answers:
            at |= sound(answer, solution)
        if at.bit_count() == size:
            return "all states" if size == 1 else f"all {size:,} states"
        return f"the {at.bit_count():,} of {size:,} states that come to rest and blow no fuse"

    def claim(
        self,
        words: str,
        bad: Callable[[Answer], int],
        ref: str,
        *,
        to: str = "line",
        solution: Solution | None = None,
    ) -> Proof:
        when = self.subject.when(bad, solution)
        counter = counter_example(self.subject, when, ref, to=to, solution=solution) if when else ""
        if when and not counter:
            counter = example_state(self.subject, when, solution=solution)
        return Proof(claim=words, proved=not when, covered=self.covered(solution), counter=capital(counter))

    def at_rest(self) -> Iterator[Proof]:
        size, hunting = self.solution.space.size, self.solution.hunting
        remembered = 0
        for memory in self.solution.memories:
            remembered |= memory.answer.at
        also = (
            f", {remembered.bit_count():,} of them also after each change of one control"
            if remembered
            else ""
        )
        if self.circuit.driven:
            never = f"In {hunting.bit_count():,} states they never do, for example {self._first_of(hunting)}"
            yield Proof(
                claim="The controls always come to rest.",
                proved=not hunting,
                covered=f"all {size:,} states{also}",
                counter=never if hunting else "",
            )

    def _first_of(self, vector: int) -> str:
        return state_in_words(fewest_on(vector) or 0, self.solution.space, self.circuit)

    def no_call(self) -> Iterator[Proof]:
        if not self.circuit.zones:
            return
        quiet = self.solution.space.everywhere & ~calling(self.subject)
        excepted = []
        if by_design(self.subject):
            quiet &= ~by_design(self.subject)
            named = [
                _control_words(self.circuit, item.name) for item in self.circuit.called_inputs if item.calls
            ]
            excepted.append(f"calls of {and_so_on(named)}")
        if any(item.kind is InputKind.OVERRUN for item in self.circuit.inputs):
            excepted.append("the pump's overrun")
        boilers = self.circuit.with_duty(Duty.BOILER)
        if boilers:
            excepted.append("the boiler's own frost protection, which is not modelled")
        apart = f" Apart from {and_so_on(excepted)}." if excepted else ""
        demands = [
            load.a for boiler in boilers for load in boiler.parts.loads if load.kind is LoadKind.DEMAND
        ]
        if boilers:
            yield self.claim(
                f"With nothing calling, no boiler is called.{apart}",
                lambda answer: quiet & any_firing(self.subject, answer),
                demands[0] if demands else "",
            )
        if pump_loads(self.circuit):
            yield self.claim(
                f"With nothing calling, no pump runs.{apart}",
                lambda answer: quiet & pumping(self.subject, answer),
                pump_loads(self.circuit)[0].a,
            )

    def zone(self, zone: ZoneIntent) -> Iterator[Proof]:
        if not zone.call_inputs:
            return
        words, calls = the_zone(zone), call(self.subject, zone)
        sun, held = self._held_off(zone)
        if can_open(self.subject, zone.opens):
            who, does, _ = lets_through(self.circuit, zone.opens)
            ref = drive_of(self.subject, zone.opens)
            first, instead = self._first(zone)
            yield self.claim(
                f"Whenever {words} calls, {who} {does}{first}{sun}.",
                lambda answer: calls & ~opened(answer, zone.opens) & ~instead(answer) & ~held(answer),
                ref,
            )
            heated = self._rests_open(zone)
            own = calls_for(self.subject, zone.opens) | by_design(self.subject)
            yield self.claim(
                f"{capital(who)} {does} for no other call{' while the boiler fires' if heated else ''}.",
                lambda answer: (
                    opened(answer, zone.opens)
                    & ~own
                    & (any_firing(self.subject, answer) if heated else answer.at)
                ),
                ref,
            )
        boilers = self.circuit.with_duty(Duty.BOILER)
        demands = [load for boiler in boilers for load in boiler.parts.loads if load.kind is LoadKind.DEMAND]
        if boilers and not heated_otherwise(self.subject, zone.opens):
            yield self.claim(
                f"Whenever {words} calls, a boiler is called{sun}.",
                lambda answer: calls & ~any_firing(self.subject, answer) & ~held(answer),
                demands[0].a if demands else "",
            )

    def _first(self, zone: ZoneIntent) -> tuple[str, Callable[[Answer], int]]:
        """Of a diverter valve, which serves one outlet at a time: the words, and when the other goes first."""
        valve = self.circuit.device(zone.valve) if zone.valve else None
        if valve is None or not never_both(valve):
            return "", lambda _: 0
        others = [opens for opens in ways_of(valve) if opens != zone.opens]

        def instead(answer: Answer) -> int:
            vector = 0
            for opens in others:
                vector |= calls_for(self.subject, opens) & opened(answer, opens)
            return vector

        return ", unless its other outlet is called for and goes first", instead

    def _held_off(self, zone: ZoneIntent) -> tuple[str, Callable[[Answer], int]]:
        """Where a solar controller can keep the boiler from heating a zone: the words, and when it does."""
        held = partial(held_off, self.subject, zone=zone)
        words = ", unless a solar controller holds it off" if self.subject.ever(held) else ""
        return words, held

    def _rests_open(self, zone: ZoneIntent) -> bool:
        valve = self.circuit.device(zone.valve) if zone.valve else None
        return valve is not None and (len(ways_of(valve)) > 1 or open_without_supply(valve, zone.opens))

    def isolated(self) -> Iterator[Proof]:
        supplies = self.circuit.with_duty(Duty.SUPPLY)
        if not supplies:
            return
        words = "With every isolator off, nothing is live."
        without = [the_device(device) for device in supplies if not isolator_of(device)]
        if without:
            yield Proof(
                claim=words,
                proved=False,
                covered="",
                counter=f"{capital(and_so_on(without))} has no isolator.",
            )
            return
        off = solve(self.circuit, {isolator_of(device): False for device in supplies})
        for place in self.circuit.terminals:
            vector = 0
            for answer in off.answers:
                vector |= answer.at & answer.line[place.ref]
            if vector:
                counter = counter_example(
                    self.subject,
                    When(vector & off.settled.at),
                    place.ref,
                    solution=off,
                    lead="with every isolator off",
                )
                yield Proof(claim=words, proved=False, covered=self.covered(off), counter=capital(counter))
                return
        yield Proof(claim=words, proved=True, covered=self.covered(off))

    def earths(self) -> Iterator[Proof]:
        lines = [supply.line for supply in self.circuit.supplies]
        refs = [supply.earth for supply in self.circuit.supplies]
        refs += [
            place.ref
            for place in self.circuit.terminals
            if place.terminal.role is Role.EARTH and place.device.duty is not Duty.CENTRE
        ]
        if lines:
            yield self.never_joined(
                "No earth terminal is ever live.", [(line, ref) for line in lines for ref in refs]
            )

    def line_and_neutral(self) -> Proof:
        supplies = self.circuit.supplies
        pairs = [(first.line, second.neutral) for first in supplies for second in supplies]
        return self.never_joined("Line is never joined to neutral by metal.", pairs)

    def never_joined(self, words: str, pairs: list[tuple[str, str]]) -> Proof:
        """Two points are never joined: by structure, or in every state and with everything else moved, one at a time."""
        possible = [(line, ref) for line, ref in pairs if ref in conceivable(self.circuit, line)]
        if not possible:
            return Proof(
                claim=words, proved=True, covered="any state: not even with every contact made at once"
            )
        moved = [item for item in self.circuit.inputs if item.normal is not None]
        for lead, solution in self._scenarios(moved):
            for answer in solution.answers:
                for line, ref in possible:
                    vector = answer.at & answer.joined[line][ref]
                    if vector:
                        counter = counter_example(
                            self.subject, When(vector), ref, solution=solution, lead=lead
                        )
                        return Proof(
                            claim=words,
                            proved=False,
                            covered=self.covered(solution),
                            counter=capital(counter),
                        )
        also = (
            f", and with {plural(len(moved), 'lever, cut-out or isolator')} moved one at a time"
            if moved
            else ""
        )
        return Proof(claim=words, proved=True, covered=f"{self.covered()}{also}")

    def _scenarios(self, moved: list[Input]) -> Iterator[tuple[str, Solution]]:
        """As all stands normally; then each other input moved, what is unknown of a lever taken both ways."""
        yield "", self.solution
        for item in moved:
            device = the_device(device_of(self.circuit, item.name))
            lead = f"with the {item.words} of {device} {item.off_words if item.normal else item.on_words}"
            for unsure in (False, True):
                yield lead, self.subject.scenario(item.name, not item.normal, unsure=unsure)

    def water(self) -> Iterator[Proof]:
        if not self.circuit.water.circuits or not pump_loads(self.circuit):
            return
        ref = pump_loads(self.circuit)[0].a
        unseen = " Whether there is a bypass was not seen." if self.circuit.water.bypass == "not seen" else ""
        overruns = [item for item in self.circuit.inputs if item.kind is InputKind.OVERRUN]
        scenarios = [("", self.solution)]
        scenarios += [(" during overrun", self.subject.scenario(item.name, True)) for item in overruns]
        for lead, solution in scenarios:
            proof = self.claim(
                f"Water can move whenever a pump runs{lead}.",
                partial(_dead_head, solution=solution),
                ref,
                solution=solution,
            )
            counter = f"{proof.counter}.{unseen}" if proof.counter and unseen else proof.counter
            yield Proof(claim=proof.claim, proved=proof.proved, covered=proof.covered, counter=counter)


def _dead_head(answer: Answer, solution: Solution) -> int:
    return answer.at & water_answer(solution, answer).dead_head
