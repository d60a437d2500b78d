"""Rules on lives that must be permanent: at boilers, clocks and end switches.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Contact, Role
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at, dead, live, overrun_of, way_between, with_role
from generator.rules.counter_example import counter_example
from generator.rules.example_house import HOUSE, OVERRUN_INSIDE, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import the_conductor, the_device, the_terminal


def _shown_dead(subject: Subject, ref: str) -> str:
    """The first state in which a point is dead that should always be live."""
    return counter_example(subject, subject.when(lambda answer: answer.at & ~answer.line[ref]), ref)


def _permanent_live(subject: Subject, overrun: bool) -> Iterator[Seen]:
    for place in with_role(subject.circuit, Role.PERMANENT_LINE):
        conductors = conductors_at(subject.circuit, place.ref)
        runs_on = place.device.duty is Duty.BOILER and bool(overrun_of(place.device))
        if runs_on is not overrun:
            continue
        if not conductors:
            # What else is left empty is found by the rule on terminals.
            if overrun:
                yield Seen(
                    path=place.device.path,
                    key=True,
                    subject=place.device.name,
                    message=f"nothing lands in {the_terminal(subject.circuit, place.ref)}, which should be live at all times",
                )
            continue
        lost = dead(subject, place.ref)
        if lost:
            yield Seen(
                path=conductors[0].path,
                subject=place.device.name,
                message=f"{the_terminal(subject.circuit, place.ref)} should be live at all times and is dead",
                holds=states_in_words(lost, subject.solution.space, subject.circuit).text,
                example=_shown_dead(subject, place.ref),
            )


PERMANENT_LIVE_SWITCHED = Rule(
    name="permanent-live-switched",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A permanent live is switched",
    why="A clock that loses its supply forgets its times; a boiler that loses it cannot protect itself from frost or "
    "from a seized pump, and starts from cold each time.",
    fix="Feed the terminal from the permanent live, ahead of every control.",
    source=COMMON_PRACTICE,
    limits="Isolators are taken as on. A control that the record does not have is not seen.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: boiler.L, core: BN }", after="- { to: programmer.on-2, core: GY }"),
    implied=("call-does-not-reach-boiler",),
    look=lambda subject: _permanent_live(subject, False),
)

OVERRUN_WITHOUT_PERMANENT_LIVE = Rule(
    name="overrun-without-permanent-live",
    family=Family.CALLS,
    severity=Severity.ERROR,
    summary="A boiler with pump overrun has no permanent live",
    why="When the call ends the pump stops with the boiler hot. The water stands in the heat exchanger and boils, and "
    "the boiler locks out on overheat.",
    fix="Feed the boiler's permanent live ahead of every time and temperature control.",
    source=COMMON_PRACTICE,
    limits="Isolators are taken as on. How long the boiler runs its pump on is not known.",
    right=OVERRUN_INSIDE,
    wrong=moved(OVERRUN_INSIDE, "- { to: boiler.L, core: BN }", after="- { to: programmer.on-2, core: GY }"),
    implied=("call-does-not-reach-boiler",),
    look=lambda subject: _permanent_live(subject, True),
)


def _changes_over(valve: PlacedDevice) -> bool:
    """Whether the end switch has a side that is made while the valve is shut: it may well stand in a switched line."""
    return any(item.name == f"{valve.name}.end-switch-shut" for item in valve.parts.contacts)


def _fed_side(subject: Subject, contact: Contact) -> str:
    """The side by which a live comes to a made contact: that which line reaches without passing it.

    Gone by in the states in which no other end switch is made, as far as there are any: through another the live may come
    back to the side that goes to the boiler. Where neither state tells, the side that is dead less often.
    """
    answer = subject.solution.settled
    made = answer.made[contact.name]
    others = 0
    for item in subject.circuit.contacts:
        if item.name.endswith(".end-switch") and item is not contact:
            others |= answer.made[item.name]
    for vector in (made & ~others, made):
        for ref, far in ((contact.a, contact.b), (contact.b, contact.a)):
            for supply in subject.circuit.supplies:
                here = vector & answer.joined[supply.line][ref]
                steps = way_between(subject, answer, here, supply.line, ref)
                if steps and all(far not in (step.start, step.to) for step in steps):
                    return ref
    return min((contact.a, contact.b), key=lambda ref: dead(subject, ref).bit_count())


def _end_switch(subject: Subject) -> Iterator[Seen]:
    for valve in subject.circuit.with_duty(Duty.VALVE):
        contact = next(
            (item for item in valve.parts.contacts if item.name == f"{valve.name}.end-switch"), None
        )
        if contact is None:
            continue
        sides = (contact.a, contact.b)
        landed = all(conductors_at(subject.circuit, ref) for ref in sides)
        if not landed or not all(live(subject, ref) and dead(subject, ref) for ref in sides):
            continue
        fed = _fed_side(subject, contact)
        conductors = conductors_at(subject.circuit, fed)
        yield Seen(
            path=conductors[0].path,
            subject=valve.name,
            message=f"the end switch of {the_device(valve)} has no permanent live: {the_conductor(conductors[0])}, "
            "by which it is fed, is switched",
            holds=f"dead {states_in_words(dead(subject, fed), subject.solution.space, subject.circuit).text}",
            example=_shown_dead(subject, fed),
            severity=Severity.NOTE if _changes_over(valve) else None,
        )


END_SWITCH_FED_BY_SWITCHED_LINE = Rule(
    name="end-switch-fed-by-switched-line",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="An end switch is fed by a switched line",
    why="The call depends on two controls where one was meant, and while the switch is still made voltage can come back "
    "through it to where it was taken from.",
    fix="Feed it from the permanent live.",
    source=COMMON_PRACTICE,
    limits="A note where the switch changes over: that may well stand in a switched line.",
    right=HOUSE,
    wrong=moved(
        HOUSE, "- { to: heating-valve.switch-a, core: GY }", after="- { to: programmer.on-2, core: GY }"
    ),
    implied=("valve-opens-without-its-call",),
    look=_end_switch,
)


CALLS_LIVES: tuple[Rule, ...] = (
    PERMANENT_LIVE_SWITCHED,
    OVERRUN_WITHOUT_PERMANENT_LIVE,
    END_SWITCH_FED_BY_SWITCHED_LINE,
)
