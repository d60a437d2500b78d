"""What devices do in the solved states: valves open, boilers called, pumps running, and by which path.

Goes by duty and by parts, never by names that a record gave. Knows no rule.
"""

from collections.abc import Iterator
from typing import cast

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind, Load, LoadKind, Role
from generator.circuit.model import Circuit, Conductor, PlacedDevice, TerminalPlace, ZoneIntent
from generator.rules.rule import Subject, When
from generator.rules.states_in_words import any_call, call_of, designed_call
from generator.rules.words import way
from generator.states.answer import Answer, Solution
from generator.states.network import Network, fold
from generator.states.space import fewest_on
from generator.states.trace import Step, path, why_fed


def setting(device: PlacedDevice, name: str) -> object:
    """A setting of a device by its name, None where its kind has none of that name."""
    return getattr(device.settings, name, None)


def opened(answer: Answer, opens: str) -> int:
    """The states in which a part that lets water through does so: a zone's or a circuit's ``opens``; empty for none."""
    return answer.on.get(opens, 0)


def can_open(subject: Subject, opens: str) -> bool:
    """Whether there is such a part."""
    return opens in subject.solution.settled.on


def ways_of(valve: PlacedDevice) -> tuple[str, ...]:
    """The parts of a valve that let water through: one, or one for each outlet."""
    wanted = {f"{valve.name}.{part}" for part in ("open", "open-heating", "open-water")}
    return tuple(part.name for part in valve.parts.driven if part.name in wanted)


def firing(answer: Answer, boiler: PlacedDevice) -> int:
    """The states in which a boiler is called and can fire."""
    return answer.on.get(f"{boiler.name}.firing", 0)


def any_firing(subject: Subject, answer: Answer) -> int:
    """The states in which any boiler fires."""
    vector = 0
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        vector |= firing(answer, boiler)
    return vector


def pump_loads(circuit: Circuit) -> tuple[Load, ...]:
    """The motors of pumps, those inside boilers among them."""
    return tuple(load for load in circuit.loads if load.kind is LoadKind.PUMP)


def pumping(subject: Subject, answer: Answer) -> int:
    """The states in which any pump runs."""
    vector = 0
    for load in pump_loads(subject.circuit):
        vector |= answer.fed[load.name]
    return vector


def call(subject: Subject, zone: ZoneIntent) -> int:
    """The states in which the controls meant for a zone call."""
    return call_of(subject.solution.space, zone)


def calling(subject: Subject) -> int:
    """The states in which any zone calls."""
    return any_call(subject.solution.space, subject.circuit)


def by_design(subject: Subject) -> int:
    """The states in which something calls by design, whatever the zones want: frost, heat to be carried away."""
    return designed_call(subject.solution.space, subject.circuit)


def heated_otherwise(subject: Subject, opens: str) -> bool:
    """Whether what opens for a zone lets in the heat of another source alone, as that of a thermal store."""
    circuits = [item for item in subject.circuit.water.circuits if opens and item.opens == opens]
    return bool(circuits) and all(item.source for item in circuits)


def held_off(subject: Subject, answer: Answer, zone: ZoneIntent) -> int:
    """The states in which a zone of hot water may call in vain by design: a solar controller keeps the boiler off.

    Whatever else keeps its call back shows as well in the states without sun.
    """
    vector = 0
    for device in subject.circuit.with_duty(Duty.SOLAR) if zone.serves == "hot water" else ():
        for contact in device.parts.contacts:
            if contact.name == f"{device.name}.hold":
                vector |= answer.at & ~answer.made[contact.name]
    return vector


def calls_for(subject: Subject, opens: str) -> int:
    """The states in which a zone calls to which the part is meant to let water."""
    vector = 0
    for zone in subject.circuit.zones:
        if zone.opens == opens:
            vector |= call(subject, zone)
    return vector


def isolator_of(device: PlacedDevice) -> str:
    """The isolator's input of a supply; empty where it has none."""
    return next((item.name for item in device.parts.inputs if item.kind is InputKind.ISOLATOR), "")


def rating_of(supply: PlacedDevice) -> str:
    """The setting that gives what a supply is fused at: its cartridge fuse, or its breaker where it is a circuit of its own."""
    return "fuse_a" if setting(supply, "breaker_a") is None else "breaker_a"


def rated_a(supply: PlacedDevice) -> float:
    """What a supply is fused at, in ampere."""
    return float(cast("float", setting(supply, rating_of(supply))))


def overrun_of(boiler: PlacedDevice) -> str:
    """The overrun's input of a boiler; empty where it has none."""
    return next((item.name for item in boiler.parts.inputs if item.kind is InputKind.OVERRUN), "")


def live(subject: Subject, ref: str, solution: Solution | None = None) -> int:
    """The states in which a point can be joined to a line."""
    return subject.ever(lambda answer: answer.line[ref], solution)


def dead(subject: Subject, ref: str) -> int:
    """The states in which a point can be joined to no line."""
    return subject.ever(lambda answer: answer.at & ~answer.line[ref])


def joined_to(subject: Subject, point: str, ref: str, solution: Solution | None = None) -> int:
    """The states in which a point can be joined to one point of a supply."""
    return subject.ever(lambda answer: answer.joined[point][ref], solution)


def conductors_at(circuit: Circuit, ref: str) -> tuple[Conductor, ...]:
    """Every conductor and link that ends at a terminal, in record order."""
    return tuple(item for item in circuit.conductors if ref in (item.a, item.b))


def joined_points(subject: Subject, answer: Answer, a: str, b: str) -> int:
    """The states of an answer in which two points are joined to each other by metal, whatever they carry."""
    network = subject.once(_network)
    made = [answer.made[contact.name] for contact in subject.circuit.contacts]
    reached = network.reach([a], made, subject.solution.space.everywhere)
    return answer.at & reached[network.group[b]]


def _network(subject: Subject) -> Network:
    return fold(subject.circuit)


def terminals_of(circuit: Circuit, device: str) -> tuple[TerminalPlace, ...]:
    """The terminals of a device, in its own order."""
    return tuple(place for place in circuit.terminals if place.device.name == device)


def with_role(circuit: Circuit, role: Role) -> Iterator[TerminalPlace]:
    """Terminals of one role at devices, wiring centres left out."""
    for place in circuit.terminals:
        if place.terminal.role is role and place.device.duty is not Duty.CENTRE:
            yield place


def way_between(subject: Subject, answer: Answer, vector: int, start: str, end: str) -> tuple[Step, ...]:
    """A path by metal in the simplest state of a vector; empty where there is none."""
    state = fewest_on(vector)
    if state is None:
        return ()
    return path(subject.circuit, answer, state, [start], end) or ()


def way_of_load(subject: Subject, answer: Answer, vector: int, load: Load) -> tuple[Step, ...]:
    """The path from the supply to a load in the simplest state of a vector; empty where it is not fed."""
    state = fewest_on(vector)
    trace = None if state is None else why_fed(subject.circuit, answer, state, load)
    return () if trace is None else trace.out


def way_words(subject: Subject, steps: tuple[Step, ...]) -> str:
    """The path in words."""
    return way(subject.circuit, steps)


def first_answer(subject: Subject, when: When) -> tuple[Answer, int]:
    """An answer in which something is so, and the states there: from rest where it is so from rest."""
    if when.settled or not when.after:
        return subject.solution.settled, when.settled
    memory, vector = when.after[0]
    return memory.answer, vector
