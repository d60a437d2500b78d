"""Follows every instruction of a house as a tenant would, with every fault behind the symptom, and says what went wrong.

After every step the house comes to rest and drifts wherever clocks, thermostats, cut-outs and motors that take levers back may
lead it. Knows the answer of the search (`Overrides`) and nothing of how it was found.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.faults.fault import SOUND, Fault
from generator.overrides.model import Attempt, Caution, Instruction, Move, Overrides, Step
from generator.overrides.policy import Policy
from tests.second_method.stepped_house import Stepped
from tests.second_method.tenant_hands import immersion_tested, is_immersion, movable
from tests.second_method.walked_house import States, WalkedHouse, Want
from tests.second_method.water_by_state import COILS

HELD_ON = (Move.TIMER_ON, Move.ROOM_UP, Move.BOOST)
HELD_OFF = (Move.TIMER_OFF, Move.ROOM_DOWN)


@dataclass(slots=True)
class Count:
    """What was gone through. ``states`` are those in which the house was looked at after a step."""

    instructions: int = 0
    faults: int = 0
    attempts: int = 0
    steps: int = 0
    states: int = 0
    claims: int = 0
    plans: int = 0
    shorter: int = 0

    def add(self, other: "Count") -> None:
        """Put another count to this one."""
        for each in fields(self):
            setattr(self, each.name, getattr(self, each.name) + getattr(other, each.name))


@dataclass(frozen=True, slots=True)
class Stand:
    """Where the house and the tenant's hands are: the states it may be in, and what is held.

    ``moved`` from the first step that may make the boiler fire.
    """

    house: Stepped
    states: States
    held: Mapping[str, bool] = field(default_factory=dict)
    moved: bool = False


class Walk:
    """One house with its instructions, and one value of what nobody knows.

    ``wrong`` are the failures in words. ``perhaps`` are the claims made for one value of what is not known, by whether they hold.
    """

    def __init__(
        self, circuit: Circuit, found: Overrides, policy: Policy, faults: Sequence[Fault], *, unsure: bool
    ) -> None:
        """Prepare."""
        self.circuit, self.found, self.policy = circuit, found, policy
        self.at = WalkedHouse(circuit, found.services, unsure=unsure)
        self.works = self.at.works
        self.faults = {fault.name: fault for fault in faults}
        self.count = Count()
        self.wrong: list[str] = []
        self.perhaps: dict[str, bool] = {}
        self._walked: dict[object, Stand] = {}
        self._safe: set[object] = set()

    def all(self, only: Collection[str] | None = None) -> None:
        """Every instruction, with every fault behind its symptom, or only with some."""
        for instruction in self.found.instructions:
            self.count.instructions += 1
            self.count.attempts += len(instruction.attempts)
            for step in (s for a in instruction.attempts for s in a.steps):
                self.hand(step, instruction)
            for name in instruction.proof.faults:
                if only is None or name in only:
                    self.count.faults += 1
                    self.follow(instruction, self.faults[name])

    def say(self, instruction: Instruction, fault: Fault, what: str) -> None:
        """Note something wrong."""
        unsure = "lever makes its switch" if self.at.unsure else "lever makes nothing"
        self.wrong.append(f"{instruction.symptom.slug}, {fault.name}, {unsure}: {what}")

    # -- following

    def stand(self, fault: Fault) -> Stand:
        """Before the first step."""
        house = self.at.house(fault)
        unset = dict.fromkeys(fault.unset, False)
        blocked = self.works.bits(unset)
        states = self.at.start(house, fault.latched, fault.off)
        return Stand(house=house, states=frozenset(s for s in states if not s & blocked), held=unset)

    def follow(self, instruction: Instruction, fault: Fault) -> None:
        """Every attempt, then everything put back."""
        now = self.stand(fault)
        way: tuple[object, ...] = (id(now.house), fault.unset, fault.latched, fault.off, fault.credit)
        done: list[Step] = []
        said: set[Caution] = set()
        warmed: tuple[str, ...] = ()
        for attempt in instruction.attempts:
            said |= set(attempt.cautions)
            warmed = (*warmed, *attempt.also_heats)
            for step in attempt.steps:
                done.append(step)
                way = (*way, step)
                now = self.take(way, now, step, fault)
                self.count.steps += 1
                self.count.states += len(now.states)
                self.safe(way, instruction, fault, now, said, warmed)
            hot = any(self.at.uncontrolled(now.house, state) for state in now.states)
            on = any(now.held.values()) or (now.moved and fault.off)
            if hot and on and Caution.SCALD not in said:
                self.say(
                    instruction, fault, "what is switched on heats a cylinder past its thermostat, unsaid"
                )
            if fault.name in attempt.helps:
                self.count.claims += 1
                self.claim(instruction, fault, attempt, now, done)
        self.put_back(way, instruction, fault, now)

    def take(self, way: tuple[object, ...], now: Stand, step: Step, fault: Fault) -> Stand:
        """One step, and whatever may follow."""
        if way in self._walked:
            return self._walked[way]
        held = dict(now.held)
        house, states, moved = now.house, now.states, now.moved
        bit = self.works.bit.get(step.input, 0)
        on, off = frozenset(s | bit for s in states), frozenset(s & ~bit for s in states)
        if step.move is Move.CHECK_CREDIT and fault.credit:
            house = self.at.house(SOUND)
        elif step.move in HELD_ON:
            states, held[step.input], moved = on, True, True
        elif step.move in HELD_OFF:
            states, held[step.input] = off, False
        elif step.move is Move.LEVER_LATCHED:
            states, moved = on, True
        elif step.move is Move.SWITCH_ON:
            if fault.off == step.input:
                house, moved = self.at.house(SOUND), True
            states = on
        elif step.move in {Move.SWITCH_OFF, Move.LEVER_BACK}:
            states = off
        elif step.move is Move.PUT_BACK:
            held.pop(step.input, None)
        free = [self.works.bit[name] for name in self.at.free if name not in held]
        result = Stand(house=house, states=house.drift(states, free), held=held, moved=moved)
        self._walked[way] = result
        return result

    # -- what must hold

    def safe(
        self,
        way: object,
        instruction: Instruction,
        fault: Fault,
        now: Stand,
        said: set[Caution],
        warmed: Sequence[str],
    ) -> None:
        """No hazard in any state, and nothing that is not said."""
        key = (way, frozenset(said), warmed)
        if key in self._safe:
            return
        rest = self.at.start(self.at.house(fault), fault.latched) | self.at.start(now.house)
        plain: dict[int, list[int]] = {}
        for state in rest:
            plain.setdefault(self.at.inputs(state), []).append(state)
        for state in now.states:
            for what in self.bad(now, state, plain.get(self.at.inputs(state), ()), said):
                self.say(instruction, fault, what)
                return
            if instruction.symptom.never_stops:
                continue
            for want in self.unasked(now.house, state, plain.get(self.at.inputs(state), ())):
                if want.name not in warmed:
                    self.say(instruction, fault, f"{want.name} is warmed unasked, and it is not said")
                    return
        self._safe.add(key)

    def bad(self, now: Stand, state: int, plain: Sequence[int], said: set[Caution]) -> Iterator[str]:
        """What is wrong with a state.

        Args:
            now: the house.
            state: the state.
            plain: those with the same inputs and every lever as it was before the first step.
            said: the cautions that were given.
        """
        house, at = now.house, self.at
        if at.uncontrolled(house, state):
            if at.unvented and now.moved:
                yield "an unvented cylinder heated past its thermostat or cut-out"
            if not any(at.uncontrolled(house, s) for s in plain):
                if self.policy.vented_lever == "not allowed":
                    yield "a vented cylinder heated past its thermostat, against the firm's choice"
                if not {Caution.SCALD, Caution.TIME_LIMIT} <= said:
                    yield "a vented cylinder heated past its thermostat, without a warning"
        if len(house.rest(state)) > 1 and not any(len(house.rest(s)) > 1 for s in plain):
            yield "it never comes to rest"
        if at.seen(house, state).blocked and not any(at.seen(house, s).blocked for s in plain):
            yield "a pump against shut ways"
        if (
            now.moved
            and Caution.LETS_GO not in said
            and house.taken_back(state)
            and not any(house.taken_back(s) for s in plain)
        ):
            yield "a lever may go back by itself, and it is not said"

    def unasked(self, house: Stepped, state: int, plain: Sequence[int]) -> Iterator[Want]:
        """The services that are warmed with no call of their own, and were not before."""
        warm = self.at.seen(house, state).any_way
        for want in self.at.wants.values():
            before = (want.circuits & self.at.seen(house, s).any_way for s in plain)
            if want.circuits & warm and not self.at.called(want, state) and not any(before):
                yield want

    def claim(
        self, instruction: Instruction, fault: Fault, attempt: Attempt, now: Stand, done: Sequence[Step]
    ) -> None:
        """What an attempt says that it brings, it brings."""
        if not any(step.input for step in attempt.steps):
            if not fault.credit:
                self.say(instruction, fault, "helps by moving nothing")
            return
        if instruction.symptom.never_stops:
            self.stopped(instruction, fault, now)
            return
        # What is said to work only while something calls may work always with this fault.
        ways = ((), attempt.only_while) if attempt.only_while else ((),)
        brings = any(
            self.brings(self.at.wants[name], fault, way, now, done) for name in attempt.wanted for way in ways
        )
        moves = " + ".join(step.input or step.move for step in attempt.steps)
        if not attempt.certain:
            self.perhaps[f"{instruction.symptom.slug}, {fault.name}: {moves}"] = brings
        elif not brings:
            self.say(instruction, fault, f"{moves} does not help")

    def brings(
        self,
        want: Want,
        fault: Fault,
        only_while: Sequence[str],
        now: Stand,
        done: Sequence[Step],
        *,
        alone: bool = True,
    ) -> bool:
        """Whether a service is given in every state that is spoken of.

        Args:
            want: the service.
            fault: the fault.
            only_while: inputs that have to call by themselves.
            now: the house after the steps.
            done: the steps.
            alone: with a switch found off, take the service to be called: it is as it was before.
        """
        # What no tenant can move of the call itself calls as it should.
        on = list(only_while)
        on += [
            group[0]
            for group in want.calls
            if (alone and fault.off and now.house is self.at.house(SOUND))
            or (group[0] not in fault.unset and not any(movable(self.circuit, name) for name in group))
        ]
        needed = self.works.bits(on)
        own = self.works.bits(name for group in want.calls for name in group)
        here = [s for s in now.states if s & needed == needed and not s & self.at.trips]
        due = [s for s in here if self.at.inputs(s) & ~own in self.at.usual(want)] or here
        element = any(s.move is Move.SWITCH_ON and is_immersion(self.circuit, s.device) for s in done)
        return bool(due) and all(self.at.given(want, now.house, s, element=element) for s in due)

    def stopped(self, instruction: Instruction, fault: Fault, now: Stand) -> None:
        """Nothing is warmed unasked any more, but for what the sound house warms."""
        sound = self.at.house(SOUND)
        usual: dict[int, set[str]] = {}
        for state in self.at.start(sound):
            usual.setdefault(self.at.inputs(state), set()).update(self.at.seen(sound, state).any_way)
        for state in now.states:
            warm = self.at.seen(now.house, state).any_way - usual.get(self.at.inputs(state), set())
            for name in instruction.symptom.never_stops:
                want = self.at.wants[name]
                if want.circuits & warm and not self.at.called(want, state):
                    self.say(instruction, fault, f"{name} does not stop")
                    return

    def put_back(self, way: tuple[object, ...], instruction: Instruction, fault: Fault, now: Stand) -> None:
        """Everything as it was, or as it could have been."""
        for step in instruction.put_back:
            way = (*way, "back", step)
            now = self.take(way, now, step, fault)
            self.count.steps += 1
            self.count.states += len(now.states)
        steps = [step for attempt in instruction.attempts for step in attempt.steps]
        left = [name for name, value in now.held.items() if name not in fault.unset or value]
        if left:
            self.say(instruction, fault, f"still held at the end: {left}")
        latched = "" if any(step.input == fault.latched for step in steps) else fault.latched
        if any(step.move is Move.SWITCH_OFF for step in steps):
            return  # the supply stays off, and with it everything
        off = "" if now.house is self.at.house(SOUND) else fault.off
        for step in instruction.put_back:
            off = step.input if step.move is Move.SWITCH_OFF else off
        if now.states - self.at.start(now.house, latched, off):
            self.say(instruction, fault, "not as it was once all is put back")

    def hand(self, step: Step, instruction: Instruction) -> None:
        """No hand is sent where none may go."""
        if not step.input:
            return
        device = self.circuit.device(step.device)
        kind = next(item.kind for item in self.circuit.inputs if item.name == step.input)
        why = ""
        if not movable(self.circuit, step.input):
            why = "not for a tenant, or nobody has looked at its wiring"
        elif kind is InputKind.TRIP:
            why = "a reset"
        elif device.duty is Duty.CYLINDER_THERMOSTAT:
            why = "a cylinder thermostat"
        elif step.move is Move.LEVER_LATCHED and self.at.unvented and self.heats_water(device.name):
            why = "the lever of an unvented cylinder's valve"
        elif step.move is Move.SWITCH_ON and is_immersion(self.circuit, step.device):
            why = "" if immersion_tested(self.circuit) else "an immersion heater that nobody tested"
        if why:
            self.say(instruction, SOUND, f"{step.move} {step.input}: {why}")

    def heats_water(self, valve: str) -> bool:
        """Whether a valve lets water to a cylinder."""
        return any(c.valve == valve and c.feeds in COILS for c in self.circuit.water.circuits)
