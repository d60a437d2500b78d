"""Rules on calls between a zone's controls and its valve.

Knows these rules only. What a zone's controls are meant to be is the record's intent; what they do is solved.
"""

from collections.abc import Iterator
from functools import partial
from itertools import chain

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Is, Leaf, atoms
from generator.catalogue.parts import InputKind, LoadKind
from generator.circuit.model import ZoneIntent
from generator.findings.finding import Severity
from generator.rules.behaviour import (
    any_firing,
    by_design,
    call,
    calling,
    calls_for,
    can_open,
    conductors_at,
    first_answer,
    held_off,
    opened,
    way_of_load,
    way_words,
    ways_of,
)
from generator.rules.calls_diverter import goes_first, rivals
from generator.rules.counter_example import counter_example, drive_of
from generator.rules.crossed import crossed_ways, crossed_zones, crossings
from generator.rules.example_house import HOUSE, change, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import when_in_words
from generator.rules.valve_mechanism import open_without_supply
from generator.rules.words import (
    conductor_name,
    device_of,
    lets_through,
    the_conductor,
    the_device,
    the_zone,
)
from generator.states.answer import Answer


def _judged(subject: Subject) -> Iterator[ZoneIntent]:
    """Zones with controls, and with a valve or a pump that lets water to them."""
    for zone in subject.circuit.zones:
        if zone.call_inputs and can_open(subject, zone.opens):
            yield zone


def _open(answer: Answer, opens: str, at: int) -> int:
    return at & opened(answer, opens)


def _unmet(subject: Subject, answer: Answer, zone: ZoneIntent) -> int:
    """The states in which a zone calls and its way is shut; not where a diverter valve serves another, or the sun does."""
    vector = call(subject, zone) & ~opened(answer, zone.opens) & ~held_off(subject, answer, zone)
    for other in rivals(subject, zone):
        vector &= ~goes_first(subject, answer, zone, other)
    return vector


def _does_not_open(subject: Subject) -> Iterator[Seen]:
    for zone in _judged(subject):
        if zone.name in crossed_zones(subject):
            continue
        when = subject.when(partial(_unmet, subject, zone=zone))
        if not when:
            continue
        opens = partial(_open, opens=zone.opens, at=call(subject, zone))
        who, does, _ = lets_through(subject.circuit, zone.opens)
        verb, space, rest = does.partition(" ")
        not_so = f"does not {verb[:-1]}" if subject.ever(opens) else f"never {verb}"
        yield Seen(
            path=zone.path,
            key=True,
            subject=zone.name,
            message=f"{the_zone(zone)} calls and {who} {not_so}{space}{rest}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, drive_of(subject, zone.opens)),
        )


ZONE_DOES_NOT_OPEN_ITS_VALVE = Rule(
    name="zone-does-not-open-its-valve",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A zone calls and its valve does not open",
    why="That part of the house stays cold, or the water does, whatever the tenant sets.",
    fix="Follow the call from the channel through the thermostat to the valve's motor, and look for the conductor that is "
    "missing or in the wrong terminal. If the zone is meant to have other controls, correct the zone.",
    source=COMMON_PRACTICE,
    limits="Settled states only. States in which line meets neutral or earth are left out: the fuse has blown. So are "
    "those in which a solar controller holds off the boiler's hot water call.",
    right=HOUSE,
    wrong=moved(
        HOUSE, "- { to: heating-valve.motor, core: BN }", after="- { to: water-valve.E, core: GNYE }"
    ),
    look=_does_not_open,
)


def _shows_crossing(subject: Subject, first: ZoneIntent, second: ZoneIntent) -> str:
    """The way of the second zone driven while only the first calls."""
    ref = drive_of(subject, second.opens)
    if not ref:
        return ""
    alone = call(subject, first) & ~call(subject, second)
    return counter_example(subject, subject.when(lambda answer: alone & answer.line[ref]), ref)


def _crossed(subject: Subject) -> Iterator[Seen]:
    for crossing in subject.once(crossings):
        first, second = crossing.first, crossing.second
        one, other = crossing.swaps[0]
        if len(crossing.swaps) > 1:
            third, fourth = crossing.swaps[1]
            instead = f". Swapping {the_conductor(third)} and {the_conductor(fourth)} instead does the same"
        else:
            instead = ""
        yield Seen(
            path=one.path,
            subject=conductor_name(one),
            message=f"{the_zone(first)} and {the_zone(second)} are crossed: the controls of one work the valve of the other",
            fix=f"Swap {the_conductor(one)} and {the_conductor(other)} in their terminals{instead}. "
            "It is worked out from the record: look first which of them is wrong in the house.",
            example=_shows_crossing(subject, first, second),
            related=(
                (other.path, "the other conductor"),
                (first.path, "one zone"),
                (second.path, "the other zone"),
            ),
        )


CROSSED_ZONES = Rule(
    name="crossed-zones",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="Two zones are crossed",
    why="One thermostat heats the other's rooms: the room that calls stays cold while the other overheats.",
    fix="Swap the two conductors.",
    source=COMMON_PRACTICE,
    limits="Two zones that one swap of two conductors puts right in every state.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: water-valve.motor, core: BN }", "{ to: heating-valve.motor, core: BN }"),
        ("{ to: heating-valve.motor, core: BN }", "{ to: water-valve.motor, core: BN }"),
    ),
    look=_crossed,
)


def _unasked(subject: Subject, answer: Answer, opens: str, only_heated: bool) -> int:
    """The states in which a way is open with no call of its own; ``only_heated`` for those that the boiler heats."""
    vector = answer.at & opened(answer, opens) & ~calls_for(subject, opens) & ~by_design(subject)
    for zone in subject.circuit.zones:
        for other in rivals(subject, zone):
            if other.opens == opens:
                # Another rule tells of a diverter valve that serves the wrong one of two.
                vector &= ~goes_first(subject, answer, zone, other)
    return vector & any_firing(subject, answer) if only_heated else vector


def _runs_unasked(subject: Subject, answer: Answer, opens: str, at: int) -> int:
    return at & _unasked(subject, answer, opens, only_heated=False)


def _runs_without_call(subject: Subject) -> Iterator[Seen]:
    """The pumps of zones that run for another zone's call; with no call at all another rule finds them."""
    for zone in _judged(subject):
        if not zone.pump or zone.opens in crossed_ways(subject):
            continue
        when = subject.when(partial(_runs_unasked, subject, opens=zone.opens, at=calling(subject)))
        ref = drive_of(subject, zone.opens)
        if not when or not ref:
            continue
        answer, vector = first_answer(subject, when)
        pump = subject.circuit.device(zone.pump)
        load = next(each for each in pump.parts.loads if each.a == ref)
        conductors = conductors_at(subject.circuit, ref)
        yield Seen(
            path=conductors[0].path if conductors else pump.path,
            subject=pump.name,
            message=f"{the_device(pump)} runs with no call of its own, fed by "
            f"{way_words(subject, way_of_load(subject, answer, vector, load))}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, ref),
        )


def _opens_without_call(subject: Subject) -> Iterator[Seen]:
    meant = {zone.opens for zone in _judged(subject)}
    yield from _runs_without_call(subject)
    for valve in subject.circuit.with_duty(Duty.VALVE):
        for opens in ways_of(valve):
            if opens not in meant or opens in crossed_ways(subject):
                continue
            # What the spring opens, or holds, is open at rest by design: it counts while it takes heat.
            resting = len(ways_of(valve)) > 1 or open_without_supply(valve, opens)
            when = subject.when(partial(_unasked, subject, opens=opens, only_heated=resting))
            if not when:
                continue
            answer, vector = first_answer(subject, when)
            motors = [load for load in valve.parts.loads if load.kind is LoadKind.MOTOR]
            steps = way_of_load(subject, answer, vector, motors[0]) if motors else ()
            conductors = conductors_at(subject.circuit, motors[0].a) if motors else ()
            fed = f"; its motor is fed by {way_words(subject, steps)}" if steps else ""
            heated = " while the boiler fires" if resting else ""
            who, _, is_open = lets_through(subject.circuit, opens)
            yield Seen(
                path=conductors[0].path if conductors else valve.path,
                subject=valve.name,
                message=f"{who} {is_open} with no call of its own{heated}{fed}",
                holds=when_in_words(when, subject.solution.space, subject.circuit),
                example=counter_example(subject, when, motors[0].a if motors else ""),
            )


VALVE_OPENS_WITHOUT_ITS_CALL = Rule(
    name="valve-opens-without-its-call",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A valve opens, or a zone's pump runs, with no call of its own",
    why="Rooms heat that nobody asked for, or the cylinder heats past its thermostat. Often voltage comes the wrong way "
    "round, through a switch that is still made.",
    fix="Follow the path named, and take away the conductor that brings the voltage there.",
    source=COMMON_PRACTICE,
    limits="Settled states only. What the hand lever opens is not meant, nor what a frost thermostat opens.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: water-valve.motor, core: BN }", after="- { to: programmer.on-1, core: BK }"),
    implied=("boiler-on-without-call", "control-changes-nothing", "stored-water-without-thermostat"),
    look=_opens_without_call,
)


_WORKING = (Duty.VALVE, Duty.BOILER, Duty.PUMP, Duty.RELAY, Duty.IMMERSION, Duty.CONTROLLER)


def _works(subject: Subject, answer: Answer) -> Iterator[int]:
    """What a control can be seen to change: valves, boilers, pumps, controllers, relays and immersion heaters."""
    for device in subject.circuit.devices:
        if device.duty in _WORKING:
            for item in device.parts.driven:
                yield answer.on[item.name]


def _wired(subject: Subject, name: str) -> bool:
    """Whether any contact that the input moves, itself or by a part it drives, has a conductor at its output."""
    parts = device_of(subject.circuit, name).parts
    moved: set[Leaf] = {Is(name)}
    moved |= {Is(item.name) for item in parts.driven if moved & set(atoms(item.when))}
    outputs = [item.b for item in parts.contacts if moved & set(atoms(item.when))]
    outputs += [bus.a for bus in parts.buses if bus.tells is not None and moved & set(atoms(bus.tells))]
    return any(conductors_at(subject.circuit, ref) for ref in outputs)


def _changes_nothing(subject: Subject) -> Iterator[Seen]:
    space, answer = subject.solution.space, subject.solution.settled
    every = space.everywhere
    shut = {
        zone.name for zone in _judged(subject) if not subject.ever(partial(_open, opens=zone.opens, at=every))
    }
    for item in subject.circuit.called_inputs:
        used_by = [zone for zone in subject.circuit.zones if item.name in zone.call_inputs]
        if not _wired(subject, item.name) or (used_by and all(zone.name in shut for zone in used_by)):
            continue
        if any(space.turned(vector, item.name) != vector for vector in _works(subject, answer)):
            continue
        device = device_of(subject.circuit, item.name)
        what = (
            f"{item.words} of {the_device(device)}" if item.kind is InputKind.CHANNEL else the_device(device)
        )
        yield Seen(
            path=device.path,
            key=True,
            subject=device.name,
            message=f"{what} changes nothing in any state: whatever it should switch is on or off without it",
            holds="in every state",
        )


def _stops_nothing(subject: Subject) -> Iterator[Seen]:
    """Safety switches, which stand as they usually do in every state that is solved: moved, they have to stop something."""
    working = list(_works(subject, subject.solution.settled))
    for device in subject.circuit.with_duty(Duty.SAFETY):
        for item in device.parts.inputs:
            if item.normal is None or not _wired(subject, item.name):
                continue
            moved = subject.scenario(item.name, not item.normal)
            if list(_works(subject, moved.settled)) == working:
                words = item.off_words if item.normal else item.on_words
                yield Seen(
                    path=device.path,
                    key=True,
                    subject=device.name,
                    message=f"{the_device(device)} stops nothing in any state: while the {item.words} is {words}, all works as before",
                    holds="in every state",
                )


CONTROL_CHANGES_NOTHING = Rule(
    name="control-changes-nothing",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A thermostat, channel or safety switch changes nothing",
    why="It is bypassed: the tenant turns it, or the switch trips, and nothing happens. Rooms overheat, or the cylinder does.",
    fix="Look for the conductor or link that takes the call round it.",
    source=COMMON_PRACTICE,
    limits="Keeps quiet where the zone's valve never opens, which another rule finds, and for outputs without a conductor.",
    right=HOUSE,
    wrong=change(HOUSE, ("\nzones:\n", "  links:\n    - { ends: [centre.C, centre.D] }\n\nzones:\n")),
    implied=("valve-opens-without-its-call", "boiler-on-without-call"),
    look=lambda subject: chain(_changes_nothing(subject), _stops_nothing(subject)),
)

CALLS_ZONES: tuple[Rule, ...] = (
    ZONE_DOES_NOT_OPEN_ITS_VALVE,
    CROSSED_ZONES,
    VALVE_OPENS_WITHOUT_ITS_CALL,
    CONTROL_CHANGES_NOTHING,
)
