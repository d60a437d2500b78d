"""Rules on neutrals and earths: lost, switched, borrowed, or joined to what they must not meet.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Load, Role, Supply
from generator.circuit.model import Circuit
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.behaviour import conductors_at, terminals_of, way_words
from generator.rules.example_house import HOUSE, IMMERSION, added, change, moved, without
from generator.rules.joins import Join, joins, lines_joined
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import conductor_name, device_of, the_conductor, the_device, the_load
from generator.states.answer import Answer


def _seen_join(subject: Subject, join: Join, what: str) -> Seen:
    path: Path = join.blamed.path if join.blamed else ("wiring",)
    blamed = f"; look first at {the_conductor(join.blamed)}" if join.blamed else ""
    return Seen(
        path=path,
        subject=conductor_name(join.blamed) if join.blamed else "",
        message=f"{what}: {way_words(subject, join.steps)}{blamed}",
        holds=join.holds,
    )


def _earth_to_line(subject: Subject) -> Iterator[Seen]:
    for join in joins(subject, lambda first, second: (first.line, second.earth)):
        yield _seen_join(subject, join, "line is joined to earth")


EARTH_JOINED_TO_LINE = Rule(
    name="earth-joined-to-line",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.DANGER,
    summary="Line is joined to earth",
    why="Metal that people touch - boiler case, pump, pipes - is live until the fuse blows, and stays live if the earth "
    "is broken anywhere.",
    fix="Isolate, prove dead, and find out which conductor is in the wrong terminal, or which line of the record is wrong.",
    source=COMMON_PRACTICE,
    limits="Other rules leave out the states in which line is joined to earth.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: water-valve.switch-b, core: OG }", after="- { to: spur.E, core: GNYE }"),
    look=_earth_to_line,
)


def _earth_to_neutral(subject: Subject) -> Iterator[Seen]:
    for join in joins(subject, lambda first, second: (first.neutral, second.earth)):
        yield _seen_join(subject, join, "neutral is joined to earth")


EARTH_JOINED_TO_NEUTRAL = Rule(
    name="earth-joined-to-neutral",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="Neutral is joined to earth",
    why="Load current then flows in the protective conductors and in pipes, a residual-current device trips at random, "
    "and a broken neutral puts volts on the metal of the installation.",
    fix="Take the two apart: neutral and earth are joined at the supply of the house and nowhere after it.",
    source=COMMON_PRACTICE,
    right=HOUSE,
    wrong=change(HOUSE, ("\nzones:\n", "  links:\n    - { ends: [centre.F, centre.G] }\n\nzones:\n")),
    look=_earth_to_neutral,
)


def _not_earthed(answer: Answer, refs: tuple[str, ...]) -> int:
    """The states in which none of the points is joined to earth."""
    vector = answer.at
    for ref in refs:
        vector &= ~answer.earth[ref]
    return vector


def _class_one(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.devices:
        if device.parts.protection != 1 or not device.parts.terminals:
            continue
        places = terminals_of(subject.circuit, device.name)
        if not any(conductors_at(subject.circuit, place.ref) for place in places):
            # A device without any conductor is not recorded yet; another rule says so.
            continue
        marked = [place for place in places if place.terminal.role is Role.EARTH]
        refs = tuple(place.ref for place in marked or places)
        lost = subject.ever(partial(_not_earthed, refs=refs))
        if not lost:
            continue
        conductors = conductors_at(subject.circuit, marked[0].ref) if marked else ()
        metal = "is a metal box" if device.duty is Duty.CENTRE else "is of class I"
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            key=not conductors,
            subject=device.name,
            message=f"{the_device(device)} {metal} and has no earth",
            holds=states_in_words(lost, subject.solution.space, subject.circuit).text,
        )


CLASS_ONE_WITHOUT_EARTH = Rule(
    name="class-one-without-earth",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.DANGER,
    summary="A device that needs an earth has none",
    why="The first fault inside it makes its metal live, and nothing cuts it off before somebody touches it.",
    fix="Run its earth to the earth terminal and prove its continuity; or correct the record.",
    source=COMMON_PRACTICE,
    limits="Goes by the class that the kind of device states.",
    right=HOUSE,
    wrong=without(HOUSE, "- { to: pump.E, core: GNYE }"),
    look=_class_one,
)


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


def _neutrals(subject: Subject, lost_always: bool) -> Iterator[Seen]:
    """One finding for each device with a load whose neutral is never there, or is there at times only."""
    told: set[str] = set()
    for load in subject.circuit.loads:
        device = device_of(subject.circuit, load.name)
        if device.name in told or not _landed(subject, load):
            continue
        with_neutral = subject.ever(partial(_neutral_sides, load=load))
        without_it = subject.ever(partial(_no_neutral, load=load))
        if not without_it or bool(with_neutral) == lost_always:
            continue
        told.add(device.name)
        conductors = conductors_at(subject.circuit, _neutral_terminal(subject, load))
        what = "never has a neutral" if lost_always else "loses its neutral"
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            key=not conductors,
            subject=device.name,
            message=f"{the_load(subject.circuit, load)} {what}",
            holds=""
            if lost_always
            else states_in_words(without_it, subject.solution.space, subject.circuit).text,
        )


def _missing(subject: Subject) -> Iterator[Seen]:
    yield from _neutrals(subject, lost_always=True)


def _switched(subject: Subject) -> Iterator[Seen]:
    yield from _neutrals(subject, lost_always=False)


NEUTRAL_MISSING = Rule(
    name="neutral-missing",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.ERROR,
    summary="A device has no neutral",
    why="It cannot run, and its neutral terminal reads near 230 V whenever its line is live.",
    fix="Land its neutral in the neutral terminal; or correct the record.",
    source=COMMON_PRACTICE,
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
    supplies = subject.circuit.supplies
    told: set[str] = set()
    for load in subject.circuit.loads:
        device = device_of(subject.circuit, load.name)
        for supply in supplies:
            vector = subject.ever(partial(_astray, circuit=subject.circuit, load=load, supply=supply))
            if not vector or device.name in told:
                continue
            told.add(device.name)
            conductors = conductors_at(subject.circuit, _neutral_terminal(subject, load))
            yield Seen(
                path=conductors[0].path if conductors else device.path,
                subject=device.name,
                message=f"{the_device(device)} takes its line from "
                f"{the_device(device_of(subject.circuit, supply.name))} and its neutral from another supply",
                holds=states_in_words(vector, subject.solution.space, subject.circuit).text,
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
    told: set[str] = set()
    for load in subject.circuit.loads:
        device = device_of(subject.circuit, load.name)
        vector = subject.ever(partial(_through_earth, load=load))
        if not vector or device.name in told:
            continue
        told.add(device.name)
        conductors = conductors_at(subject.circuit, _neutral_terminal(subject, load))
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            key=not conductors,
            subject=device.name,
            message=f"{the_load(subject.circuit, load)} returns its current through the earth",
            holds=states_in_words(vector, subject.solution.space, subject.circuit).text,
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
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: pump.N, core: BU }", after="- { to: spur.E, core: GNYE }"),
    look=_earth_as_neutral,
)

NEUTRAL_AND_EARTH: tuple[Rule, ...] = (
    EARTH_JOINED_TO_LINE,
    EARTH_JOINED_TO_NEUTRAL,
    EARTH_USED_AS_NEUTRAL,
    CLASS_ONE_WITHOUT_EARTH,
    NEUTRAL_MISSING,
    NEUTRAL_SWITCHED,
    NEUTRAL_BORROWED,
)
