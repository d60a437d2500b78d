"""The shortest steps for every single fault, followed one by one; and every other set of steps tried, to see that none is shorter.

Rests on the same second method as the walk through instructions.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.faults.fault import Fault
from generator.overrides.model import Caution, FaultPlan, Move, Step
from tests.second_method.override_walk import Stand, Walk
from tests.second_method.tenant_hands import immersion_tested, is_immersion, movable
from tests.second_method.walked_house import Want

EVERY_CAUTION = {Caution.SCALD, Caution.TIME_LIMIT, Caution.LETS_GO}


class PlanWalk(Walk):
    """One house with its plans, and one value of what nobody knows."""

    def all_plans(self) -> None:
        """Every plan does what it says."""
        for plan in self.found.plans:
            self.count.plans += 1
            fault, want = self.faults[plan.fault], self.at.wants[plan.service]
            if plan.steps or plan.only_while:
                now = self.after(fault, plan.steps)
                if self.hazard(fault, now):
                    self.say_plan(plan, f"not safe: {self.hazard(fault, now)}")
                if not self.brings(want, fault, plan.only_while, now, plan.steps, alone=False):
                    self.say_plan(plan, "does not bring it")
            elif plan.reason is None and not self.unharmed(fault, want):
                self.say_plan(plan, "said to work, and does not")

    def say_plan(self, plan: FaultPlan, what: str) -> None:
        """Note something wrong."""
        steps = " + ".join(step.input for step in plan.steps if step.input)
        self.wrong.append(f"plan, {plan.fault}, {plan.service} by [{steps}]: {what}")

    def after(self, fault: Fault, steps: Sequence[Step]) -> Stand:
        """The house after some steps."""
        now = self.stand(fault)
        way: tuple[object, ...] = (id(now.house), fault.unset, fault.latched, fault.off, fault.credit)
        for step in steps:
            way = (*way, step)
            now = self.take(way, now, step, fault)
        return now

    def hazard(self, fault: Fault, now: Stand) -> str:
        """The first hazard of a house after some steps, empty where there is none."""
        rest = self.at.start(self.at.house(fault), fault.latched) | self.at.start(now.house)
        plain: dict[int, list[int]] = {}
        for state in rest:
            plain.setdefault(self.at.inputs(state), []).append(state)
        for state in now.states:
            for what in self.bad(now, state, plain.get(self.at.inputs(state), ()), EVERY_CAUTION):
                return what
        return ""

    def unharmed(self, fault: Fault, want: Want) -> bool:
        """Whether the fault takes the service away in no state in which the sound house gives it."""
        own = self.at.works.bits(name for group in want.calls for name in group)
        now = self.stand(fault)
        seen = False
        for state in now.states:
            called = self.at.called(want, state) and not state & self.at.trips
            if called and self.at.inputs(state) & ~own in self.at.usual(want):
                seen = True
                if not self.at.given(want, now.house, state):
                    return False
        return seen

    # -- every other set of steps

    def moves(self) -> Iterator[Step]:
        """Every step that a tenant may take to get heat, in the order in which steps are done."""
        levers = []
        for device in self.circuit.devices:
            kinds = {item.name: item.kind for item in device.parts.inputs}
            for control in device.parts.controls:
                kind = kinds.get(control.input)
                step = _step(kind, device.name, control.name, control.input)
                if step is None or not movable(self.circuit, control.input):
                    continue
                if kind is InputKind.LEVER:
                    if not self.forbidden(device.name):
                        levers.append(step)
                    continue
                heater = kind is InputKind.ISOLATOR and is_immersion(self.circuit, device.name)
                if not heater or immersion_tested(self.circuit):
                    yield step
        yield from levers

    def forbidden(self, valve: str) -> bool:
        """Whether a valve's lever is never latched: of an unvented cylinder, or of a floor that nothing keeps cool."""
        through = [item for item in self.circuit.water.circuits if item.valve == valve]
        floor = any("underfloor" in item.feeds and not item.blending for item in through)
        return floor or (self.at.unvented and self.heats_water(valve))

    def shorter(self) -> set[str]:
        """The sets of steps that are safe and shorter than a plan, or there where there is said to be none.

        A set is only better than a plan if it is so for both values of what nobody knows.
        """
        better = set[str]()
        steps = list(self.moves())
        stats = [
            f"{zone.thermostat}.calling"
            for zone in self.circuit.zones
            if zone.thermostat and self.circuit.device(zone.thermostat).duty is Duty.CYLINDER_THERMOSTAT
        ]
        for plan in self.found.plans:
            # What comes only of work on the wiring is behind no symptom, and the search need not be sharp there.
            if (not plan.steps and plan.reason is None) or self.faults[plan.fault].by_work:
                continue
            fault, want = self.faults[plan.fault], self.at.wants[plan.service]
            sure = bool(plan.steps) and not plan.only_while
            most = sum(1 for step in plan.steps if step.input) - 1 if sure else len(steps)
            own = {name for group in want.calls for name in group}
            ways: list[tuple[str, ...]] = [()]
            ways += [(name,) for name in stats if plan.reason is not None and name not in own]
            for size in range(most + 1):
                for chosen in combinations(steps, size):
                    if fault.off and all(step.input != fault.off for step in chosen):
                        continue  # a switch found off is put on before anything else
                    self.count.shorter += 1
                    now = self.after(fault, chosen)
                    if any(
                        self.brings(want, fault, way, now, chosen, alone=False) for way in ways
                    ) and not self.hazard(fault, now):
                        names = " + ".join(step.input for step in chosen)
                        why = plan.reason or "more than needed"
                        better.add(f"{plan.fault}, {plan.service}: {why}, and [{names}] brings it")
        return better


def _step(kind: InputKind | None, device: str, control: str, name: str) -> Step | None:
    moves = {
        InputKind.CHANNEL: Move.TIMER_ON,
        InputKind.BOOST: Move.BOOST,
        InputKind.THERMOSTAT: Move.ROOM_UP,
        InputKind.LEVER: Move.LEVER_LATCHED,
        InputKind.ISOLATOR: Move.SWITCH_ON,
    }
    if kind not in moves or control.endswith("fuse carrier"):
        return None
    return Step(move=moves[kind], device=device, control=control, input=name)
