"""Rules on what no zone names: further valves and actuators of a zone, and the pump of a blending set.

Knows these rules only. What they should do follows from the zones: open along with one, run while its floor is open.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Load
from generator.circuit.model import Circuit, WaterCircuit
from generator.findings.finding import Severity
from generator.rules.behaviour import (
    any_firing,
    by_design,
    call,
    calling,
    conductors_at,
    first_answer,
    opened,
    pump_loads,
    way_of_load,
    way_words,
    ways_of,
)
from generator.rules.counter_example import counter_example, drive_of
from generator.rules.example_house import change
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject, When, sound
from generator.rules.states_in_words import when_in_words
from generator.rules.valve_mechanism import open_without_supply
from generator.rules.words import device_name, device_of, the_device, the_zone
from generator.states.answer import Answer

FLOOR = """\
format: 1
property:
  reference: EX-0002
  address: { lines: [2 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 82 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }

arrangement:
  name: underfloor-and-radiators
  zones:
    kitchen: { serves: heating, emitter: underfloor, loops: 2 }
    upstairs: { serves: heating }

wiring:
  centres:
    centre:
      D: # controller's pump output
        - { to: blending-set.L, core: BN }
"""
"""A house with a floor of two loops, written the short way."""


def _nobodys(subject: Subject) -> Iterator[str]:
    """The ways of valves that no zone names and that do not rest open."""
    named = {zone.opens for zone in subject.circuit.zones}
    for valve in subject.circuit.with_duty(Duty.VALVE):
        for opens in ways_of(valve):
            if opens not in named and not open_without_supply(valve, opens):
                yield opens


def _beside(subject: Subject, opens: str) -> WaterCircuit | None:
    """The circuit of a zone that heats the same place by the same means as a valve's own circuit."""
    circuits = subject.circuit.water.circuits
    mine = next((item for item in circuits if item.opens == opens), None)
    named = {zone.opens for zone in subject.circuit.zones}
    if mine is None or not mine.where:
        return None
    alike = (item for item in circuits if (item.feeds, item.where) == (mine.feeds, mine.where))
    return next((item for item in alike if item.opens in named), None)


def _unlike(subject: Subject, opens: str) -> When | None:
    """The states in which a valve is not as it should be: like its zone's, or like some of them; None where it is."""
    settled = subject.solution.settled
    at = sound(settled, subject.solution)
    mine = opened(settled, opens) & at
    zones = [opened(settled, zone.opens) & at for zone in subject.circuit.zones if zone.opens]
    zones += [call(subject, zone) & at for zone in subject.circuit.zones if zone.call_inputs]
    beside = _beside(subject, opens)
    if beside is not None:
        wrong = mine ^ (opened(settled, beside.opens) & at)
        return When(wrong) if wrong else None
    covered = 0
    for vector in zones:
        covered |= vector if not vector & ~mine else 0
    designed = (calling(subject) | by_design(subject)) & at
    if not zones or (mine and mine in (covered, designed)):
        return None
    return When(mine & ~covered or at)


def _loop(subject: Subject) -> Iterator[Seen]:
    for opens in _nobodys(subject):
        when = _unlike(subject, opens)
        drive = drive_of(subject, opens)
        cores = conductors_at(subject.circuit, drive) if drive else ()
        if when is None or not cores:
            continue
        device = device_of(subject.circuit, opens)
        beside = _beside(subject, opens)
        like = "any zone's valve"
        if beside is not None:
            like = next(the_zone(zone) for zone in subject.circuit.zones if zone.opens == beside.opens)
            like = f"the valve of {like}, whose part of the house it feeds"
        ever = bool(opened(subject.solution.settled, opens))
        yield Seen(
            path=cores[0].path,
            subject=device.name,
            message=f"{the_device(device)} {'opens' if ever else 'never opens,'} unlike {like}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, drive),
        )


LOOP_UNLIKE_ITS_ZONE = Rule(
    name="loop-unlike-its-zone",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A loop or circuit opens unlike any zone",
    why="One part of a room stays cold while the rest of it warms, or is heated whatever anybody calls for.",
    fix="Join what drives it to what drives the valve that its zone names.",
    source=COMMON_PRACTICE,
    limits="Valves that no zone names and that rest shut. One that opens along with other zones is taken to serve them, unless its "
    "water circuit says that it feeds the same part of the house as a zone's.",
    right=FLOOR,
    wrong=FLOOR + "  direct:\n    - { ends: [kitchen-actuator-2.L, controller.live-1], core: BN }\n",
    look=_loop,
)


def blending_pumps(circuit: Circuit) -> tuple[Load, ...]:
    """The pumps of blending sets: those that serve no single circuit or source, with a limit thermostat beside them."""
    water = circuit.water
    own = {item.pump for item in water.circuits} | {item.pump for item in water.sources}
    own |= {item.device for item in water.sources}
    local = {item.name for item in circuit.devices if item.duty is not Duty.BOILER and item.parts.contacts}
    return tuple(load for load in pump_loads(circuit) if device_name(load.name) in local - own)


def _floor_open(subject: Subject, answer: Answer) -> int:
    vector = 0
    for item in subject.circuit.water.circuits:
        if item.blending:
            vector |= opened(answer, item.opens)
    return vector


def _still(subject: Subject, answer: Answer, pump: Load) -> int:
    return _floor_open(subject, answer) & any_firing(subject, answer) & ~answer.fed[pump.name]


def _in_vain(subject: Subject, answer: Answer, pump: Load) -> int:
    return answer.at & answer.fed[pump.name] & ~_floor_open(subject, answer) & calling(subject)


def _blending(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    pumps = blending_pumps(circuit)
    if len(pumps) != 1 or not any(item.blending and item.opens for item in circuit.water.circuits):
        return
    pump = pumps[0]
    device = device_of(circuit, pump.name)
    cores = conductors_at(circuit, pump.a) or conductors_at(circuit, f"{device.name}.L")
    for look, words, severity in (
        (_still, "does not run while a floor that it serves is open and the boiler fires", None),
        (_in_vain, "runs while every floor that it serves is shut", Severity.WARNING),
    ):
        when = subject.when(partial(look, subject, pump=pump))
        if not when:
            continue
        by = ""
        if severity is not None:
            answer, vector = first_answer(subject, when)
            by = f", by {way_words(subject, way_of_load(subject, answer, vector, pump))}"
        yield Seen(
            path=cores[0].path if cores else device.path,
            key=not cores,
            subject=device.name,
            message=f"{the_device(device)} {words}{by}",
            holds=when_in_words(when, subject.solution.space, circuit),
            example=counter_example(subject, when, f"{device.name}.L"),
            severity=severity,
        )
        return


BLENDING_PUMP_UNLIKE_THE_FLOOR = Rule(
    name="blending-pump-unlike-the-floor",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The pump of a blending set does not go with its floor",
    why="A floor whose pump stands still gets no water and stays cold. One whose pump runs against shut loops wears out.",
    fix="Feed it from the output for the pump of the zone controller, and from nothing else.",
    source=COMMON_PRACTICE,
    limits="One blending set with a limit thermostat, and circuits recorded with `blending: true`. A warning where it only runs in vain.",
    right=FLOOR,
    wrong=change(FLOOR, ("      D: # controller's pump output\n", "      C: # upstairs calls\n")),
    look=_blending,
)

CALLS_LOOPS: tuple[Rule, ...] = (LOOP_UNLIKE_ITS_ZONE, BLENDING_PUMP_UNLIKE_THE_FLOOR)
