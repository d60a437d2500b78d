"""The rule on diverter valves that keep to the cylinder though only heating calls.

Knows this rule and when the two rules on zones and their valves leave its states to it.
"""

from collections.abc import Iterator
from functools import partial

from generator.circuit.model import ZoneIntent
from generator.findings.finding import Severity
from generator.rules.behaviour import call, opened
from generator.rules.counter_example import counter_example, drive_of
from generator.rules.example_house import change
from generator.rules.example_three_port import DIVERTER
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import when_in_words
from generator.rules.valve_mechanism import never_both
from generator.rules.words import the_device, the_zone
from generator.states.answer import Answer


def rivals(subject: Subject, zone: ZoneIntent) -> tuple[ZoneIntent, ...]:
    """The zones on the other outlet of a zone's diverter valve, of which one is open at a time."""
    if not zone.valve or not never_both(subject.circuit.device(zone.valve)):
        return ()
    zones = subject.circuit.zones
    return tuple(other for other in zones if other.valve == zone.valve and other.opens != zone.opens)


def goes_first(subject: Subject, answer: Answer, zone: ZoneIntent, other: ZoneIntent) -> int:
    """The states in which a zone calls and a diverter valve serves the other, whose thermostat calls.

    Whether the other zone's time is on does not count here.
    """
    space = subject.solution.space
    thermostat = f"{other.thermostat}.calling"
    wants = space.where(thermostat) if thermostat in space.inputs else call(subject, other)
    return call(subject, zone) & wants & opened(answer, other.opens) & ~opened(answer, zone.opens)


def _untimely(subject: Subject, answer: Answer, zone: ZoneIntent, other: ZoneIntent) -> int:
    return answer.at & goes_first(subject, answer, zone, other) & ~call(subject, other)


def _keeps_to_the_cylinder(subject: Subject) -> Iterator[Seen]:
    for zone in subject.circuit.zones:
        for other in rivals(subject, zone):
            when = subject.when(partial(_untimely, subject, zone=zone, other=other))
            if not when:
                continue
            valve = subject.circuit.device(zone.valve)
            yield Seen(
                path=zone.path,
                key=True,
                subject=zone.name,
                message=f"only {the_zone(zone)} calls, and {the_device(valve)} stays at {the_zone(other)}, "
                "whose thermostat calls with its time off",
                holds=when_in_words(when, subject.solution.space, subject.circuit),
                example=counter_example(subject, when, drive_of(subject, zone.opens)),
            )


DIVERTER_GOES_BY_THERMOSTAT_ALONE = Rule(
    name="diverter-goes-by-thermostat-alone",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="A diverter valve heats the cylinder outside its times",
    why="The tenant turns the heating on with hot water off, and the rooms stay cold until the whole cylinder is hot.",
    fix="Feed the valve's motor also while the time of hot water is off: from the timer's off terminal, with the cylinder "
    "thermostat's common on the timer's on terminal. Or record that it is meant so, and accept the finding.",
    source=COMMON_PRACTICE,
    limits="How the valve is fed differs from house to house; where both have one time there is nothing to find.",
    right=DIVERTER,
    wrong=change(
        DIVERTER,
        ("        - { to: programmer.off-1, core: OG }\n", ""),
        ("{ to: water-thermostat.common, core: BN }", "{ to: water-thermostat.call, core: BK }"),
        ("{ to: water-thermostat.call, core: BK }", "{ to: water-thermostat.common, core: BN }"),
    ),
    look=_keeps_to_the_cylinder,
)

CALLS_DIVERTER: tuple[Rule, ...] = (DIVERTER_GOES_BY_THERMOSTAT_ALONE,)
