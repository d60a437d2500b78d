"""Rules on neutrals: missing, switched, borrowed, or replaced by the earth.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.parts import InputKind, Load, Role, Supply
from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at, live, terminals_of
from generator.rules.example_house import HOUSE, IMMERSION, added, change, moved, without
from generator.rules.joins import lines_joined
from generator.rules.nets import Hit, told_once
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.words import and_so_on, device_of, the_device, the_load
from generator.states.answer import Answer


def _neutral_sides(answer: Answer, load: Load) -> int:
    """The states in which a side of the load is joined to neutral, or to earth, which has a rule of its own."""
    return answer.neutral[load.a] | answer.neutral[load.b] | answer.earth[load.a] | answer.earth[load.b]


def _no_neutral(answer: Answer, load: Load) -> int:
    return answer.at & ~_neutral_sides(answer, load)


def _landed(subject: Subject, load: Load) -> bool:
    """Whether the device is wired at all: one of its terminals has a conductor."""
    device = device_of(subject.circuit, load.name)
    return any(
        conductors_at(subject.circuit, place.ref) for place in terminals_of(subject.circuit, device.name)
    )


def _neutral_terminal(subject: Subject, load: Load) -> str:
    """The neutral terminal of the load's device, or the load's second end where it has none marked."""
    device = device_of(subject.circuit, load.name)
    marked = [
        place.ref
        for place in terminals_of(subject.circuit, device.name)
        if place.terminal.role is Role.NEUTRAL
    ]
    return marked[0] if marked and load.b not in marked else load.b


def _hit(subject: Subject, load: Load, vector: int) -> Hit:
    return Hit(
        ref=_neutral_terminal(subject, load),
        device=device_of(subject.circuit, load.name),
        words=the_load(subject.circuit, load),
        vector=vector,
    )


def _lost(subject: Subject, always: bool) -> Iterator[Hit]:
    """Loads whose neutral is never there, or is there at times only."""
    for load in subject.circuit.loads:
        with_it = subject.ever(partial(_neutral_sides, load=load))
        without_it = subject.ever(partial(_no_neutral, load=load))
        if not without_it or bool(with_it) == always or not _landed(subject, load):
            continue
        # A neutral terminal that is live is told by the rule on reversed polarity.
        if not (always and live(subject, _neutral_terminal(subject, load))):
            yield _hit(subject, load, without_it)


def _missing(subject: Subject) -> Iterator[Seen]:
    hits = _lost(subject, always=True)
    yield from told_once(subject, hits, "never has a neutral", "never have a neutral", with_states=False)


def _switched(subject: Subject) -> Iterator[Seen]:
    hits = list(_lost(subject, always=False))
    yield from told_once(subject, hits, "loses its neutral", "lose their neutral")
    yield from _switched_by_safety(subject, {hit.device.name for hit in hits})


def _switched_by_safety(subject: Subject, told: set[str]) -> Iterator[Seen]:
    """Neutrals through a cut-out or a sensor, which stand as they usually do in every state that is solved."""
    circuit = subject.circuit
    for item in circuit.inputs:
        if item.kind not in (InputKind.TRIP, InputKind.SENSOR) or item.normal is None:
            continue
        device = device_of(circuit, item.name)
        sides = {
            side
            for contact in circuit.contacts
            if contact.name.startswith(f"{device.name}.")
            for side in (contact.a, contact.b)
        }
        if not any(subject.ever(partial(_at_neutral, ref=side)) for side in sides):
            continue
        moved = subject.scenario(item.name, not item.normal)
        lost = [
            load
            for load in circuit.loads
            if device_of(circuit, load.name).name not in told
            and not subject.ever(partial(_no_neutral, load=load))
            and subject.ever(partial(_no_neutral, load=load), moved)
        ]
        if lost:
            ref = _neutral_terminal(subject, lost[0])
            conductors = conductors_at(circuit, ref)
            first = device_of(circuit, lost[0].name)
            words = item.off_words if item.normal else item.on_words
            yield Seen(
                path=conductors[0].path if conductors else first.path,
                key=not conductors,
                subject=first.name,
                message=f"{and_so_on(dict.fromkeys(the_load(circuit, load) for load in lost))} "
                f"{'loses its neutral' if len(lost) == 1 else 'lose their neutral'} while the {item.words} of {the_device(device)} is {words}",
            )


def _at_neutral(answer: Answer, ref: str) -> int:
    return answer.neutral[ref]


NEUTRAL_MISSING = Rule(
    name="neutral-missing",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="A device has no neutral",
    why="It cannot run, and its neutral terminal reads near 230 V whenever its line is live.",
    fix="Land its neutral in the neutral terminal; or correct the record.",
    source=COMMON_PRACTICE,
    limits="Goes by joins as recorded: a loose or broken neutral is not seen.",
    right=HOUSE,
    wrong=without(HOUSE, "- { to: heating-valve.N, core: BU }").replace(
        "heating-valve: { cores: [BN, BU, GNYE, GY, OG]", "heating-valve: { cores: [BN, GNYE, GY, OG]"
    ),
    implied=("zone-does-not-open-its-valve",),
    look=_missing,
)

NEUTRAL_SWITCHED = Rule(
    name="neutral-switched",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="A neutral is switched",
    why="With its neutral switched off, a device seems dead while all of it is at 230 V.",
    fix="Take the neutral straight to the neutral terminal; a control must switch the line.",
    source=COMMON_PRACTICE,
    limits="Goes by joins as recorded: a neutral that is loose at times is not seen.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        (
            "        - { to: room-thermostat.common, core: BN }\n",
            "        - { to: heating-valve.motor, core: BN }\n",
        ),
        (
            "        - { to: heating-valve.motor, core: BN }\n",
            "        - { to: heating-valve.N, core: BU }\n",
        ),
        (
            "        - { to: heating-valve.N, core: BU }\n",
            "        - { to: room-thermostat.common, core: BN }\n",
        ),
    ),
    implied=("brown-core-as-neutral",),
    look=_switched,
)


def _astray(answer: Answer, circuit: Circuit, load: Load, supply: Supply) -> int:
    """The states in which a load takes its line from a supply and its neutral from another."""
    line, own = answer.joined[supply.line], answer.joined[supply.neutral]
    one = line[load.a] & answer.neutral[load.b] & ~own[load.b]
    other = line[load.b] & answer.neutral[load.a] & ~own[load.a]
    return (one | other) & answer.fed[load.name] & ~lines_joined(answer, circuit)


def _borrowed(subject: Subject) -> Iterator[Seen]:
    for supply in subject.circuit.supplies:
        hits = []
        for load in subject.circuit.loads:
            vector = subject.ever(partial(_astray, circuit=subject.circuit, load=load, supply=supply))
            if vector:
                hits.append(_hit(subject, load, vector))
        spur = the_device(device_of(subject.circuit, supply.name))
        yield from told_once(
            subject,
            hits,
            f"takes its line from {spur} and its neutral from another supply",
            f"take their line from {spur} and their neutral from another supply",
        )


NEUTRAL_BORROWED = Rule(
    name="neutral-borrowed",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="A neutral is borrowed from another supply",
    why="With one spur off the neutral still carries the other's current: whoever parts it gets 230 V across the gap. "
    "Residual-current devices trip.",
    fix="Take the neutral from the spur that gives the line.",
    source=COMMON_PRACTICE,
    limits="Only between supplies that are recorded.",
    right=IMMERSION,
    wrong=added(
        without(IMMERSION, "- { ends: [water-spur.N, immersion.N], core: BU, cable: immersion }"),
        "- { to: immersion.N, core: BU }",
        after="- { to: spur.N, core: BU }",
    ),
    implied=("terminal-left-empty",),
    look=_borrowed,
)


def _through_earth(answer: Answer, load: Load) -> int:
    """The states in which a load has line on one side and earth, no neutral, on the other."""
    one = answer.line[load.a] & answer.earth[load.b] & ~answer.neutral[load.b]
    return one | answer.line[load.b] & answer.earth[load.a] & ~answer.neutral[load.a]


def _earth_as_neutral(subject: Subject) -> Iterator[Seen]:
    hits = []
    for load in subject.circuit.loads:
        vector = subject.ever(partial(_through_earth, load=load))
        if vector:
            hits.append(_hit(subject, load, vector))
    yield from told_once(
        subject,
        hits,
        "returns its current through the earth",
        "return their current through the earth",
    )


EARTH_USED_AS_NEUTRAL = Rule(
    name="earth-used-as-neutral",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="A load returns its current through the earth",
    why="The earths then carry current: where one is broken, the metal beyond the break is live. A residual-current "
    "device trips, or the system seems to work where there is none.",
    fix="Take the neutral to the neutral terminal.",
    source=COMMON_PRACTICE,
    limits="Goes by joins as recorded: leakage through a device is not seen.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: pump.N, core: BU }", after="- { to: spur.E, core: GNYE }"),
    look=_earth_as_neutral,
)

NEUTRALS: tuple[Rule, ...] = (
    NEUTRAL_MISSING,
    NEUTRAL_SWITCHED,
    NEUTRAL_BORROWED,
    EARTH_USED_AS_NEUTRAL,
)
