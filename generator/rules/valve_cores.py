"""Rules on the cores of motorised valves: custom, and which way round the end switch is fed.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at, dead, terminals_of
from generator.rules.example_house import HOUSE, change
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.words import and_so_on, colour_of, colour_words, the_device

_SWITCH_CORES = {"GY", "OG"}


def _against_custom(subject: Subject) -> Iterator[Seen]:
    for valve in subject.circuit.with_duty(Duty.VALVE):
        places = terminals_of(subject.circuit, valve.name)
        custom = {place.terminal.usual_core for place in places if place.terminal.usual_core}
        astray = []
        for place in places:
            usual = place.terminal.usual_core
            for item in conductors_at(subject.circuit, place.ref):
                colour = colour_of(item.core)
                swapped = {colour, usual} == _SWITCH_CORES and place.terminal.role is Role.CONTACT
                if usual and colour in custom and colour != usual and not swapped:
                    astray.append((place.terminal.name, usual, item))
        if astray:
            told = and_so_on(
                f"`{terminal}` has {colour_words(item.core)} ({item.core}), by custom {colour_words(usual)} ({usual})"
                for terminal, usual, item in astray
            )
            yield Seen(
                path=astray[0][2].path,
                subject=valve.name,
                message=f"the cores of {the_device(valve)} are against custom: {told}",
                related=tuple((item.path, f"terminal `{terminal}`") for terminal, _, item in astray[1:]),
            )


VALVE_CORE_AGAINST_CUSTOM = Rule(
    name="valve-core-against-custom",
    family=Family.IDENTIFICATION,
    severity=Severity.WARNING,
    summary="The cores of a valve are against custom",
    why="A valve has its own lead: brown and blue drive it, grey and orange are its switch. Cores that do each other's "
    "work are more often a mistake in the record, or in the box, than a strange valve. With motor and switch crossed "
    "the pump may run for ever, and a new valve does not cure it.",
    fix="Look at the valve's lead and correct the record or the box.",
    source=COMMON_PRACTICE,
    limits="Only colours that the valve's own lead has by custom. Grey and orange of an end switch the other way "
    "round are not meant.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: heating-valve.motor, core: BN }", "{ to: heating-valve.motor, core: OG }"),
        ("{ to: heating-valve.switch-b, core: OG }", "{ to: heating-valve.switch-b, core: BN }"),
    ),
    look=_against_custom,
)


def _fed_on_orange(subject: Subject) -> Iterator[Seen]:
    for valve in subject.circuit.with_duty(Duty.VALVE):
        contact = next(
            (item for item in valve.parts.contacts if item.name == f"{valve.name}.end-switch"), None
        )
        if contact is None:
            continue
        for fed, other in ((contact.a, contact.b), (contact.b, contact.a)):
            if dead(subject, fed) or not dead(subject, other):
                continue
            for item in conductors_at(subject.circuit, fed):
                if colour_of(item.core) == "OG":
                    yield Seen(
                        path=item.path,
                        subject=valve.name,
                        message=f"the end switch of {the_device(valve)} takes the permanent live on orange and gives it "
                        f"out on grey",
                    )


END_SWITCH_FED_ON_ORANGE = Rule(
    name="end-switch-fed-on-orange",
    family=Family.IDENTIFICATION,
    severity=Severity.NOTE,
    summary="The end switch takes its live on orange",
    why="Grey and orange are one contact, so it works the same. The readings differ: orange is live at all times, "
    "and grey only once the valve is open.",
    fix="Nothing need be done. Test orange, not grey, for the permanent live.",
    source=COMMON_PRACTICE,
    limits="Only switches with one side live in every state and the other at times.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: heating-valve.switch-a, core: GY }", "{ to: heating-valve.switch-b, core: OG }"),
        ("{ to: heating-valve.switch-b, core: OG }", "{ to: heating-valve.switch-a, core: GY }"),
    ),
    look=_fed_on_orange,
)

VALVE_CORES: tuple[Rule, ...] = (VALVE_CORE_AGAINST_CUSTOM, END_SWITCH_FED_ON_ORANGE)
