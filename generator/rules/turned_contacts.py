"""Rules on contacts wired the wrong way round, where the two sides are not alike.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Contact
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at
from generator.rules.counter_example import shown_live
from generator.rules.example_house import HOUSE, change
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import terminal_of, the_device
from generator.states.answer import Answer

_THERMOSTATS = (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT)


def _beside(device: PlacedDevice, contact: Contact) -> str:
    """What else inside the device hangs on one side of a contact, in words; empty where the sides are alike."""
    for load in device.parts.loads:
        if {load.a, load.b} & {contact.a, contact.b}:
            return f"its {load.words} then has the wrong side of the contact"
    for other in device.parts.contacts:
        if other is not contact and {other.a, other.b} & {contact.a, contact.b}:
            return "its other output is then live at the wrong times"
    return ""


def _only(answer: Answer, at: str, not_at: str) -> int:
    """The states in which one point is live and another is not."""
    return answer.at & answer.line[at] & ~answer.line[not_at]


def _fed_at_output(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.devices:
        if device.duty not in _THERMOSTATS:
            continue
        for contact in device.parts.contacts:
            beside = _beside(device, contact)
            cores = [conductors_at(subject.circuit, ref) for ref in (contact.a, contact.b)]
            if not beside or not all(cores):
                continue
            forward = subject.ever(partial(_only, at=contact.a, not_at=contact.b))
            turned = subject.ever(partial(_only, at=contact.b, not_at=contact.a))
            if turned and not forward:
                first, second = (terminal_of(ref) for ref in (contact.a, contact.b))
                yield Seen(
                    path=cores[1][0].path,
                    subject=device.name,
                    message=f"{the_device(device)} takes its line in at `{second}` and gives it out at `{first}`: {beside}",
                    holds=states_in_words(turned, subject.solution.space, subject.circuit).text,
                    example=shown_live(subject, contact.b),
                    related=((cores[0][0].path, f"what lands in `{first}`"),),
                )


THERMOSTAT_FED_AT_ITS_OUTPUT = Rule(
    name="thermostat-fed-at-its-output",
    family=Family.CALLS,
    severity=Severity.WARNING,
    summary="A thermostat is fed at its output",
    why="The call still comes and goes. But the small heater of a mechanical thermostat is then on whether it calls or not, "
    "so the rooms stay too cold; and of a change-over contact the other output is live when it should not be.",
    fix="Exchange the two cores: line in at the common terminal, call out at the other.",
    source=COMMON_PRACTICE,
    limits="Only thermostats with a heater or a second output: of a plain contact both sides are alike.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("{ to: water-thermostat.common, core: BN }", "{ to: water-thermostat.call, core: BK }"),
        ("{ to: water-thermostat.call, core: BK }", "{ to: water-thermostat.common, core: BN }"),
    ),
    look=_fed_at_output,
)

TURNED_CONTACTS: tuple[Rule, ...] = (THERMOSTAT_FED_AT_ITS_OUTPUT,)
