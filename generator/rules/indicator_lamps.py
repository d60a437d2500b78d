"""Rules on indicator lamps: lit or dark at times that do not go with what they are there to show.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.parts import Contact, Load, LoadKind
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import by_design, calling, conductors_at
from generator.rules.counter_example import counter_example
from generator.rules.example_house import HOUSE, change, without
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words, when_in_words
from generator.rules.words import the_load
from generator.states.answer import Answer


def _shown_by(device: PlacedDevice) -> Iterator[tuple[Load, tuple[Contact, ...]]]:
    """Each indicator lamp that hangs on the output of contacts of its own device, with those contacts.

    A lamp beside a motor needs no rule: it is lit when the motor is fed, and the motor has rules of its own.
    """
    for lamp in device.parts.loads:
        if lamp.kind is not LoadKind.LAMP:
            continue
        contacts = tuple(item for item in device.parts.contacts if item.b in (lamp.a, lamp.b))
        if contacts:
            yield lamp, contacts


def _made(answer: Answer, contacts: tuple[Contact, ...]) -> int:
    vector = 0
    for item in contacts:
        vector |= answer.made[item.name]
    return vector


def _wrongly_lit(answer: Answer, lamp: Load, contacts: tuple[Contact, ...], called: int) -> int:
    return answer.at & answer.fed[lamp.name] & ~_made(answer, contacts) & ~called


def _lit(subject: Subject) -> Iterator[Seen]:
    called = calling(subject) | by_design(subject)
    for device in subject.circuit.devices:
        for lamp, contacts in _shown_by(device):
            when = subject.when(partial(_wrongly_lit, lamp=lamp, contacts=contacts, called=called))
            cores = conductors_at(subject.circuit, contacts[0].b)
            if not when or not cores:
                continue
            words = the_load(subject.circuit, lamp)
            yield Seen(
                path=cores[0].path,
                subject=device.name,
                message=f"{words} is lit while nothing calls, though it should show that the {contacts[0].words} is made",
                holds=when_in_words(when, subject.solution.space, subject.circuit),
                example=counter_example(subject, when, contacts[0].b),
                related=tuple(
                    (each.path, f"what lands in `{contacts[0].a.split('.', 1)[1]}`")
                    for each in conductors_at(subject.circuit, contacts[0].a)[:1]
                ),
            )


_LAMP = (
    "water-valve: { kind: two-port-valve }",
    "water-valve: { kind: two-port-valve, settings: { lamp: switch } }",
)
_WITH_LAMP = change(HOUSE, _LAMP)

LAMP_LIT_WHILE_NOTHING_CALLS = Rule(
    name="lamp-lit-while-nothing-calls",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="An indicator lamp is lit while nothing calls",
    why="Who looks at the valve takes it for open, or the boiler for called, and looks for the fault in the wrong place. "
    "A lamp that is always lit mostly means an end switch that is wired the wrong way round: the call works the same, and "
    "the side with the lamp is live for good.",
    fix="Exchange the two cores of the switch, so that the side with the lamp is the output.",
    source=COMMON_PRACTICE,
    limits="A lamp that lights along with another zone's call is not found: where outputs are joined, it cannot be otherwise.",
    right=_WITH_LAMP,
    wrong=change(
        _WITH_LAMP,
        ("{ to: water-valve.switch-a, core: GY }", "{ to: water-valve.switch-b, core: OG }"),
        ("{ to: water-valve.switch-b, core: OG }", "{ to: water-valve.switch-a, core: GY }"),
    ),
    implied=("end-switch-fed-on-orange",),
    look=_lit,
)


def _dark(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.devices:
        for lamp, contacts in _shown_by(device):
            made = subject.ever(partial(_made_in, contacts=contacts))
            lit = subject.ever(partial(_lit_in, lamp=lamp))
            fed = [subject.ever(partial(_neutral_at, ref=ref)) for ref in (lamp.a, lamp.b)]
            if made and not lit and any(fed):
                yield Seen(
                    path=device.path,
                    key=True,
                    subject=device.name,
                    message=f"{the_load(subject.circuit, lamp)} is never lit, though the {contacts[0].words} is made at times",
                    holds=states_in_words(made, subject.solution.space, subject.circuit).text,
                    example=counter_example(
                        subject, subject.when(partial(_made_in, contacts=contacts)), contacts[0].b
                    ),
                )


def _made_in(answer: Answer, contacts: tuple[Contact, ...]) -> int:
    return answer.at & _made(answer, contacts)


def _lit_in(answer: Answer, lamp: Load) -> int:
    return answer.at & answer.fed[lamp.name]


def _neutral_at(answer: Answer, ref: str) -> int:
    return answer.at & answer.neutral[ref]


LAMP_NEVER_LIT = Rule(
    name="lamp-never-lit",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="An indicator lamp is never lit",
    why="The lamp stays dark however the controls stand, so a valve that works is taken for one that is stuck.",
    fix="Feed the other side of the contact from the permanent live; or write down that there is no lamp.",
    source=COMMON_PRACTICE,
    limits="Only lamps on the output of a contact. One that has lost its neutral is found by what its device has lost.",
    right=_WITH_LAMP,
    wrong=without(
        _WITH_LAMP, "- { to: water-valve.switch-a, core: GY }", "- { to: water-valve.switch-b, core: OG }"
    ),
    implied=("call-does-not-reach-boiler",),
    look=_dark,
)

INDICATOR_LAMPS: tuple[Rule, ...] = (LAMP_LIT_WHILE_NOTHING_CALLS, LAMP_NEVER_LIT)
