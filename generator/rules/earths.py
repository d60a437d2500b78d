"""Rules on earths: missing, live, or joined to line or neutral.

Knows these rules only.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role, Supply
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.behaviour import (
    conductors_at,
    first_answer,
    joined_to,
    live,
    terminals_of,
    way_between,
    way_words,
    with_role,
)
from generator.rules.counter_example import shown_live
from generator.rules.example_house import HOUSE, IMMERSION, added, change, moved, without
from generator.rules.joins import Join, joins
from generator.rules.nets import Hit, by_net, told_once
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import and_so_on, conductor_name, device_of, the_conductor, the_device
from generator.states.answer import Answer


def _seen_join(subject: Subject, join: Join, what: str) -> Seen:
    path: Path = join.blamed.path if join.blamed else ("wiring",)
    blamed = f"; look first at {the_conductor(join.blamed)}" if join.blamed else ""
    return Seen(
        path=path,
        subject=conductor_name(join.blamed) if join.blamed else "",
        message=f"{what}: {way_words(subject, join.steps)}{blamed}",
        holds=join.holds,
        example=join.example,
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
    limits="Joins inside the circuit recorded: that at the supply of the house, which is meant, lies outside it.",
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
    hits = list(_without_earth(subject))
    boxes = [hit for hit in hits if hit.device.duty is Duty.CENTRE]
    others = [hit for hit in hits if hit.device.duty is not Duty.CENTRE]
    yield from told_once(
        subject, boxes, "is a metal box and has no earth", "are metal boxes and have no earth", to="earth"
    )
    yield from told_once(
        subject, others, "is of class I and has no earth", "are of class I and have no earth", to="earth"
    )


def _without_earth(subject: Subject) -> Iterator[Hit]:
    for device in subject.circuit.devices:
        places = terminals_of(subject.circuit, device.name)
        if device.parts.protection != 1 or not any(
            conductors_at(subject.circuit, place.ref) for place in places
        ):
            # A device without any conductor is not recorded yet; another rule says so.
            continue
        marked = [place for place in places if place.terminal.role is Role.EARTH]
        refs = tuple(place.ref for place in marked or places)
        lost = subject.ever(partial(_not_earthed, refs=refs))
        if lost and not any(live(subject, place.ref) for place in marked):
            yield Hit(ref=refs[0], device=device, words=the_device(device), vector=lost)


CLASS_ONE_WITHOUT_EARTH = Rule(
    name="class-one-without-earth",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.DANGER,
    summary="A device that needs an earth has none",
    why="The first fault inside it makes its metal live, and nothing cuts it off before somebody touches it.",
    fix="Run its earth to the earth terminal and prove its continuity; or correct the record.",
    source=COMMON_PRACTICE,
    limits="Goes by the class that the kind of device states. Keeps quiet where the earth terminal is live, which another "
    "rule finds.",
    right=HOUSE,
    wrong=without(HOUSE, "- { to: pump.E, core: GNYE }"),
    look=_class_one,
)


def _live_metal(subject: Subject) -> Iterator[Seen]:
    hits = [
        Hit(ref=place.ref, device=place.device, words=the_device(place.device), vector=vector)
        for place in with_role(subject.circuit, Role.EARTH)
        if (vector := live(subject, place.ref))
    ]
    for net in by_net(subject, hits):
        first = net[0]
        answer, states = first_answer(subject, subject.when(partial(_live_at, ref=first.ref)))
        starts = [supply.line for supply in subject.circuit.supplies]
        ways = [way_between(subject, answer, states, start, first.ref) for start in starts]
        steps = next((each for each in ways if each), ())
        conductors = conductors_at(subject.circuit, first.ref)
        yield Seen(
            path=conductors[0].path if conductors else first.device.path,
            key=not conductors,
            subject=first.device.name,
            message=f"the metal of {and_so_on(hit.words for hit in net)} is live, through the earth terminal: "
            f"{way_words(subject, steps)}",
            holds=states_in_words(first.vector, subject.solution.space, subject.circuit).text,
            example=shown_live(subject, first.ref),
            related=tuple((hit.device.path, hit.words) for hit in net[1:]),
        )


def _live_at(answer: Answer, ref: str) -> int:
    return answer.line[ref]


EARTH_TERMINAL_LIVE = Rule(
    name="earth-terminal-live",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.DANGER,
    summary="The metal of a device is live",
    why="Case, pipes and whatever they touch are at 230 V, and no fuse blows, since nothing joins them to earth.",
    fix="Do not touch anything metal. Isolate, prove dead, and find out which conductor is in the wrong terminal, or which "
    "line of the record is wrong.",
    source=COMMON_PRACTICE,
    limits="By metal, and by conductors recorded. A fault inside a device is not seen.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: boiler.E, core: GNYE }", after="- { to: spur.L, core: BN }"),
    look=_live_metal,
)


def _supplies_of(subject: Subject, device: PlacedDevice) -> list[Supply]:
    """The supplies whose line or neutral can reach a device."""
    refs = [place.ref for place in terminals_of(subject.circuit, device.name)]
    return [
        supply
        for supply in subject.circuit.supplies
        if any(joined_to(subject, point, ref) for point in (supply.line, supply.neutral) for ref in refs)
    ]


def _earth_borrowed(subject: Subject) -> Iterator[Seen]:
    hits: dict[tuple[str, str], list[Hit]] = {}
    for place in with_role(subject.circuit, Role.EARTH):
        device = place.device
        if len(subject.circuit.supplies) < 2 or device.duty is Duty.SUPPLY:
            continue
        mine = _supplies_of(subject, device)
        if not mine or any(joined_to(subject, supply.earth, place.ref) for supply in mine):
            continue
        for supply in subject.circuit.supplies:
            vector = joined_to(subject, supply.earth, place.ref)
            if vector:
                hit = Hit(ref=place.ref, device=device, words=the_device(device), vector=vector)
                hits.setdefault((mine[0].name, supply.name), []).append(hit)
    for (own, other), found in hits.items():
        spurs = [the_device(device_of(subject.circuit, name)) for name in (own, other)]
        rest = f"fed from {spurs[0]} and earthed only through {spurs[1]}"
        yield from told_once(subject, found, f"is {rest}", f"are {rest}", with_states=False, to="earth")


EARTH_BORROWED = Rule(
    name="earth-borrowed",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.WARNING,
    summary="An earth is borrowed from another supply",
    why="Whoever takes the other circuit out takes this one's earth with it, and nothing shows. The core may also be too thin "
    "for the larger of the two fuses.",
    fix="Take the earth from the spur that gives the line, with the same cable.",
    source=COMMON_PRACTICE,
    limits="Only between supplies that are recorded. A device that is joined to the earths of both keeps it quiet.",
    right=IMMERSION,
    wrong=added(
        without(IMMERSION, "- { ends: [water-spur.E, immersion.E], core: GNYE, cable: immersion }"),
        "- { to: immersion.E, core: GNYE }",
        after="- { to: spur.E, core: GNYE }",
    ),
    look=_earth_borrowed,
)

EARTHS: tuple[Rule, ...] = (
    EARTH_JOINED_TO_LINE,
    EARTH_JOINED_TO_NEUTRAL,
    CLASS_ONE_WITHOUT_EARTH,
    EARTH_TERMINAL_LIVE,
    EARTH_BORROWED,
)
