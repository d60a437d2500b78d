"""Rules on calls between valves and the boiler: calls that do not arrive, and a boiler that runs with no call.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind, Role
from generator.circuit.model import PlacedDevice, ZoneIntent
from generator.findings.finding import Severity
from generator.rules.behaviour import (
    any_firing,
    call,
    calling,
    can_open,
    conductors_at,
    dead,
    firing,
    first_answer,
    heated_otherwise,
    held_off,
    joined_points,
    opened,
    overrun_of,
    way_between,
    way_of_load,
    way_words,
    with_role,
)
from generator.rules.counter_example import asking, counter_example
from generator.rules.crossed import crossed_ways
from generator.rules.example_house import HOUSE, change, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject, When
from generator.rules.states_in_words import when_in_words
from generator.rules.words import lets_through, the_device, the_terminal, the_zone
from generator.states.answer import Answer
from generator.states.trace import Step

_INTERLOCK = "Approved Document L, volume 1 (2021), 5.15 and 5.25"


def _unanswered(subject: Subject, answer: Answer, zone: ZoneIntent, opens: str) -> int:
    """The states in which a zone calls and no boiler fires, those left out in which the sun heats in its place.

    States with the zone's valve shut are left out: there the fault lies before it, and another rule finds that.
    """
    calls = call(subject, zone) & ~held_off(subject, answer, zone)
    through = opened(answer, opens) if opens else calls
    return calls & through & ~any_firing(subject, answer)


def _silent_for(subject: Subject, when: When) -> str:
    """Why no boiler fires although the call is there, in words: without its permanent live it cannot."""
    for place in with_role(subject.circuit, Role.PERMANENT_LINE):
        if place.device.duty is Duty.BOILER and not when.total & ~dead(subject, place.ref):
            return f": {the_terminal(subject.circuit, place.ref)}, its permanent live, is dead"
    return ""


def _does_not_reach(subject: Subject) -> Iterator[Seen]:
    if not subject.circuit.with_duty(Duty.BOILER):
        return
    for zone in subject.circuit.zones:
        if heated_otherwise(subject, zone.opens):
            continue
        opens = zone.opens if can_open(subject, zone.opens) else ""
        when = subject.when(partial(_unanswered, subject, zone=zone, opens=opens))
        if not when:
            continue
        through = f", {' '.join(lets_through(subject.circuit, opens)[:2])}," if opens else ""
        yield Seen(
            path=zone.path,
            key=True,
            subject=zone.name,
            message=f"{the_zone(zone)} calls{through} and no boiler is called{_silent_for(subject, when)}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, asking(subject)),
        )


CALL_DOES_NOT_REACH_BOILER = Rule(
    name="call-does-not-reach-boiler",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A call does not reach the boiler",
    why="The valve opens and the boiler stays silent. It is warm only while another zone happens to call.",
    fix="Follow the call from the end switch to the boiler, and look for the conductor that is missing or in the wrong terminal.",
    source=COMMON_PRACTICE,
    limits="States with the zone's valve shut are left out: the fault lies before it, and another rule finds that. So are "
    "those in which a solar controller holds off the boiler's hot water call.",
    right=HOUSE,
    wrong=moved(
        HOUSE,
        "- { to: heating-valve.switch-b, core: OG }",
        after="- { to: heating-valve.switch-a, core: GY }",
    ),
    look=_does_not_reach,
)


def _fires(answer: Answer, boiler: PlacedDevice, at: int) -> int:
    return at & firing(answer, boiler)


def _fires_of_itself(answer: Answer, boiler: PlacedDevice, at: int, crossed: frozenset[str]) -> int:
    """The states in which a boiler fires and no way of crossed zones is open, which would explain it."""
    vector = _fires(answer, boiler, at)
    for opens in crossed:
        vector &= ~opened(answer, opens)
    return vector


def _own_way(subject: Subject, boiler: PlacedDevice, answer: Answer, vector: int) -> tuple[Step, ...]:
    """The path to the boiler's demand input where it leads through the boiler's own contact; else empty."""
    for load in boiler.parts.loads:
        if load.kind is LoadKind.DEMAND:
            steps = way_of_load(subject, answer, vector, load)
            if any(step.contact is not None and step.contact in boiler.parts.contacts for step in steps):
                return steps
    return ()


def _held_on(subject: Subject, boiler: PlacedDevice) -> tuple[When, tuple[Step, ...]] | None:
    """When a boiler calls itself with no zone calling, and by which path."""
    quiet = subject.solution.space.everywhere & ~calling(subject)
    overrun = overrun_of(boiler)
    scenarios = [subject.solution, *([subject.scenario(overrun, True)] if overrun else [])]
    for solution in scenarios:
        when = subject.when(partial(_fires, boiler=boiler, at=quiet), solution)
        found = [(solution.settled, when.settled)] if when.settled else []
        found += [(memory.answer, vector) for memory, vector in when.after]
        for answer, vector in found:
            steps = _own_way(subject, boiler, answer, vector)
            if steps:
                return when, steps
    return None


def _holds_itself_on(subject: Subject) -> Iterator[Seen]:
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        found = _held_on(subject, boiler)
        if found is None:
            continue
        when, steps = found
        conductors = [step.conductor for step in steps if step.conductor is not None]
        # A link between its output and its input is there to be taken out; of cores the last brings the call.
        conductors.sort(key=lambda item: item.is_link)
        yield Seen(
            path=conductors[-1].path if conductors else boiler.path,
            subject=boiler.name,
            message=f"{the_device(boiler)} calls itself through its own output once it has been called: "
            f"{way_words(subject, steps)}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, asking(subject, boiler)),
        )


BOILER_HOLDS_ITSELF_ON = Rule(
    name="boiler-holds-itself-on",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The boiler holds itself on",
    why="Once called it never stops: its pump output feeds its own switched live. It runs on its own thermostat "
    "against shut valves until somebody switches the spur off.",
    fix="Take the pump's conductor off the boiler's switched live; the pump belongs on the pump output alone.",
    source=COMMON_PRACTICE,
    limits="Only by contacts that the kind of boiler is recorded to have.",
    right=change(
        HOUSE,
        ("boiler: { kind: boiler }", "boiler: { kind: boiler, settings: { pump_output: true } }"),
        ("        - { to: pump.L, core: BN }\n", ""),
        ("\nzones:\n", "  direct:\n    - { ends: [boiler.pump, pump.L], core: BN, cable: pump }\n\nzones:\n"),
    ),
    wrong=change(
        HOUSE,
        ("boiler: { kind: boiler }", "boiler: { kind: boiler, settings: { pump_output: true } }"),
        (
            "        - { to: pump.L, core: BN }\n",
            "        - { to: pump.L, core: BN }\n        - { to: boiler.pump, core: WH }\n",
        ),
    ),
    look=_holds_itself_on,
)


def _what_calls(
    subject: Subject, boiler: PlacedDevice, answer: Answer, vector: int
) -> tuple[tuple[Step, ...], str]:
    """The path by which a boiler is called in some states, and the terminal where it arrives; empty for a bus."""
    for load in boiler.parts.loads:
        if load.kind is LoadKind.DEMAND and vector & answer.fed[load.name]:
            return way_of_load(subject, answer, vector & answer.fed[load.name], load), load.a
    for sense in boiler.parts.senses:
        joined = vector & joined_points(subject, answer, sense.a, sense.b)
        if joined:
            return way_between(subject, answer, joined, sense.a, sense.b), sense.a
    return (), ""


def _on_without_call(subject: Subject) -> Iterator[Seen]:
    quiet = subject.solution.space.everywhere & ~calling(subject)
    if not subject.circuit.zones:
        return
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        when = subject.when(partial(_fires_of_itself, boiler=boiler, at=quiet, crossed=crossed_ways(subject)))
        if not when or _held_on(subject, boiler):
            continue
        answer, vector = first_answer(subject, when)
        steps, at = _what_calls(subject, boiler, answer, vector)
        conductors = conductors_at(subject.circuit, at) if at else ()
        fed = f", by {way_words(subject, steps)}" if steps else ""
        yield Seen(
            path=conductors[0].path if conductors else boiler.path,
            key=not conductors,
            subject=boiler.name,
            message=f"{the_device(boiler)} is called though no zone calls{fed}",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, asking(subject, boiler)),
        )


BOILER_ON_WITHOUT_CALL = Rule(
    name="boiler-on-without-call",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="The boiler is on with no call",
    why="It burns fuel to keep itself hot, day and night, and wears itself out.",
    fix="Follow the path named, and take away the conductor that brings the voltage there. With no zone calling, boiler and "
    "pump must be off (interlock).",
    source=_INTERLOCK,
    limits="A boiler's own frost protection is not modelled.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: boiler.call, core: BK }", after="- { to: spur.L, core: BN }"),
    look=_on_without_call,
)


CALLS_BOILER: tuple[Rule, ...] = (
    CALL_DOES_NOT_REACH_BOILER,
    BOILER_ON_WITHOUT_CALL,
    BOILER_HOLDS_ITSELF_ON,
)
