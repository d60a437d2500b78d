"""Rules on calls by design, that no zone makes: frost protection.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.findings.finding import Severity
from generator.rules.behaviour import any_firing, call, opened
from generator.rules.counter_example import asking, counter_example
from generator.rules.example_house import FROST, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import when_in_words
from generator.rules.words import the_device
from generator.states.answer import Answer


def _frost_alone(subject: Subject, inputs: tuple[str, ...]) -> int:
    """The states in which a frost thermostat calls and no zone does."""
    space = subject.solution.space
    vector = 0
    for name in inputs:
        vector |= space.where(name) if name in space.inputs else 0
    for zone in subject.circuit.zones:
        vector &= ~call(subject, zone)
    return vector & space.everywhere


def _open(subject: Subject, answer: Answer) -> int:
    """The states in which some circuit is open; a bypass is not counted, for it warms the boiler alone."""
    vector = 0
    for circuit in subject.circuit.water.circuits:
        if not circuit.opens:
            return subject.solution.space.everywhere
        vector |= opened(answer, circuit.opens)
    return vector


def _fires_shut(subject: Subject, answer: Answer, inputs: tuple[str, ...]) -> int:
    """The states in which a frost thermostat alone fires a boiler with no circuit open, and nothing would without it."""
    space = subject.solution.space
    vector = any_firing(subject, answer) & ~_open(subject, answer)
    by_frost = 0
    for name in inputs:
        by_frost |= vector & ~space.turned(vector, name) if name in space.inputs else 0
    return _frost_alone(subject, inputs) & by_frost


def _without_path(subject: Subject) -> Iterator[Seen]:
    if not subject.circuit.water.circuits:
        return
    for device in subject.circuit.with_duty(Duty.FROST_THERMOSTAT):
        inputs = tuple(item.name for item in device.parts.inputs if item.calls)
        when = subject.when(partial(_fires_shut, subject, inputs=inputs))
        if not when:
            continue
        yield Seen(
            path=device.path,
            key=True,
            subject=device.name,
            message=f"{the_device(device)} fires the boiler with no circuit open",
            holds=when_in_words(when, subject.solution.space, subject.circuit),
            example=counter_example(subject, when, asking(subject)),
        )


FROST_WITHOUT_OPEN_PATH = Rule(
    name="frost-without-open-path",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="A frost call fires the boiler with no way for the water",
    why="The boiler warms itself, stops and starts again, and the pipes and radiators that the thermostat should keep from "
    "freezing stay cold.",
    fix="Take the frost call to the motor of a valve, so that the valve opens and its end switch calls the boiler; or use "
    "the second pole of the frost thermostat to open one.",
    source=COMMON_PRACTICE,
    limits="A bypass is not counted: it takes water round the boiler alone. Nor is what fires without the frost call too.",
    right=FROST,
    wrong=moved(FROST, "- { to: pipe-thermostat.cold, core: BK }", after="- { to: boiler.call, core: BK }"),
    look=_without_path,
)

CALLS_FROST: tuple[Rule, ...] = (FROST_WITHOUT_OPEN_PATH,)
