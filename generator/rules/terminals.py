"""Rules on terminals: what lands there, too much or too little.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role
from generator.circuit.model import Conductor, PlacedDevice, TerminalPlace
from generator.findings.finding import Severity
from generator.rules.behaviour import conductors_at, setting, terminals_of
from generator.rules.example_house import HOUSE, added, change, without
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.words import and_so_on, the_device, the_terminal


def _too_many(subject: Subject) -> Iterator[Seen]:
    for centre in subject.circuit.with_duty(Duty.CENTRE):
        most = setting(centre, "conductors_per_terminal")
        if not isinstance(most, int):
            continue
        for place in terminals_of(subject.circuit, centre.name):
            items = conductors_at(subject.circuit, place.ref)
            if len(items) > most:
                yield Seen(
                    path=items[most].path,
                    subject=place.ref,
                    message=f"{the_terminal(subject.circuit, place.ref)} holds {len(items)} conductors; it may hold {most}",
                )


TOO_MANY_CONDUCTORS = Rule(
    name="too-many-conductors",
    family=Family.TERMINALS,
    severity=Severity.WARNING,
    summary="More conductors in a terminal than it may hold",
    why="Some of them are not gripped. They work loose, heat up, or drop out and touch something else.",
    fix="Spread them over two linked terminals.",
    source=COMMON_PRACTICE,
    limits="Only where the box says how many, and the record `conductors_per_terminal`. Links count.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        (
            "terminals: [A, B, C, D, E, F, G, H] }",
            "terminals: [A, B, C, D, E, F, G, H], conductors_per_terminal: 5 }",
        ),
    ),
    look=_too_many,
)


def _landed_nowhere(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    placed = {(item.cable, item.core) for item in circuit.conductors}
    placed |= {(item.cable, item.core) for item in circuit.spare}
    for cable in circuit.cables:
        missing = [core for core in cable.cores or () if (cable.name, core) not in placed]
        if missing:
            some = "core" if len(missing) == 1 else "cores"
            yield Seen(
                path=(*cable.path, "cores"),
                subject=cable.name,
                message=f"{some} {and_so_on(missing)} of cable `{cable.name}` land nowhere and are not listed as spare"
                if len(missing) > 1
                else f"{some} {missing[0]} of cable `{cable.name}` lands nowhere and is not listed as spare",
            )


CORE_LANDED_NOWHERE = Rule(
    name="core-landed-nowhere",
    family=Family.TERMINALS,
    severity=Severity.WARNING,
    summary="A core is in no terminal and not listed as spare",
    why="Either the record lacks a conductor, or a loose core lies in the box, live at its other end perhaps.",
    fix="Record where it lands, or list it under `spare` with how its end is left.",
    source=COMMON_PRACTICE,
    limits="Only where the cores of the cable are recorded.",
    right=HOUSE,
    wrong=change(HOUSE, ("water-thermostat: { cores: [BK, BN],", "water-thermostat: { cores: [BK, BN, BU],")),
    look=_landed_nowhere,
)


def _bare(subject: Subject) -> Iterator[Seen]:
    for item in subject.circuit.spare:
        if item.how == "bare":
            yield Seen(
                path=item.path,
                subject=f"{item.cable} {item.core}",
                message=f"the spare core {item.core} of cable `{item.cable}` is left bare",
            )


SPARE_CORE_BARE = Rule(
    name="spare-core-bare",
    family=Family.TERMINALS,
    severity=Severity.ERROR,
    summary="A spare core is left bare",
    why="It may be live, now or after the next change at its other end, and it can touch a terminal beside it.",
    fix="Put its end in a connector, then correct the record.",
    source=COMMON_PRACTICE,
    limits="Goes by how the spare core's end is recorded.",
    right=change(
        HOUSE,
        ("water-thermostat: { cores: [BK, BN],", "water-thermostat: { cores: [BK, BN, BU],"),
        (
            "\nzones:\n",
            "  spare:\n    - { cable: water-thermostat, core: BU, how: in a connector }\n\nzones:\n",
        ),
    ),
    wrong=change(
        HOUSE,
        ("water-thermostat: { cores: [BK, BN],", "water-thermostat: { cores: [BK, BN, BU],"),
        ("\nzones:\n", "  spare:\n    - { cable: water-thermostat, core: BU, how: bare }\n\nzones:\n"),
    ),
    look=_bare,
)


def _wanted(subject: Subject, place: TerminalPlace) -> bool:
    """Whether an empty terminal is this rule's business: earths and neutrals have rules of their own."""
    if not place.terminal.needed or place.terminal.role is Role.EARTH:
        return False
    return (
        place.terminal.role is not Role.NEUTRAL
        or place.device.duty is Duty.SUPPLY
        or not any(place.ref in (load.a, load.b) for load in subject.circuit.loads)
    )


def _never_heats(device: PlacedDevice, missing: list[TerminalPlace]) -> bool:
    """Whether a boiler lacks its permanent live, without which it never fires."""
    return device.duty is Duty.BOILER and any(place.terminal.role is Role.PERMANENT_LINE for place in missing)


def _left_empty(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    for device in circuit.devices:
        places = terminals_of(circuit, device.name)
        empty = [place for place in places if not conductors_at(circuit, place.ref)]
        if device.duty is Duty.VALVE:
            # An end switch that nobody uses is wired at neither side.
            sides = [place for place in places if place.terminal.role is Role.CONTACT]
            if all(place in empty for place in sides):
                empty = [place for place in empty if place not in sides]
        missing = [place for place in empty if _wanted(subject, place)]
        if not missing:
            continue
        names = and_so_on(f"`{place.terminal.name}`" for place in missing)
        none = len(empty) == len(places)
        yield Seen(
            path=device.path,
            key=True,
            subject=device.name,
            message=f"{the_device(device)} has no conductor at all"
            if none
            else f"nothing lands in {names} of {the_device(device)}",
            severity=Severity.ERROR if _never_heats(device, missing) else None,
        )


TERMINAL_LEFT_EMPTY = Rule(
    name="terminal-left-empty",
    family=Family.TERMINALS,
    severity=Severity.WARNING,
    summary="A terminal that a device needs is empty",
    why="The device cannot do its work, or the record lacks a conductor.",
    fix="Look again in the box and at the device, and complete the record.",
    source=COMMON_PRACTICE,
    limits="Empty earths and neutrals are found by other rules. An end switch wired at neither side is taken as unused. "
    "An error where a boiler has no permanent live: it never fires.",
    right=HOUSE,
    wrong=without(HOUSE, "- { to: pump.L, core: BN }"),
    implied=("boiler-on-without-pump",),
    look=_left_empty,
)


_LOOPED = (Role.PERMANENT_LINE, Role.NEUTRAL, Role.EARTH)


def _loops(subject: Subject, place: TerminalPlace, item: Conductor) -> bool:
    """Whether a conductor takes the supply itself from device to device: permanent live, neutral or earth."""
    far = next(
        each for each in subject.circuit.terminals if each.ref == (item.b if item.a == place.ref else item.a)
    )
    if place.terminal.role not in _LOOPED:
        return False
    if far.device.duty is Duty.SUPPLY and place.terminal.role is Role.PERMANENT_LINE:
        return far.terminal.role is Role.OUTPUT
    return far.device.duty is Duty.CENTRE or far.terminal.role is place.terminal.role


def _landed_twice(subject: Subject) -> Iterator[Seen]:
    for place in subject.circuit.terminals:
        if place.device.duty in (Duty.CENTRE, Duty.SUPPLY, Duty.CONTROLLER):
            continue
        items = [item for item in conductors_at(subject.circuit, place.ref) if not item.is_link]
        if len(items) > 1:
            looped = all(_loops(subject, place, item) for item in items)
            yield Seen(
                path=items[1].path,
                subject=place.ref,
                message=f"{len(items)} conductors land in {the_terminal(subject.circuit, place.ref)}"
                + (", which loops the supply on" if looped else ""),
                related=tuple((item.path, "another of them") for item in (items[0], *items[2:])),
                severity=Severity.NOTE if looped else None,
            )


TERMINAL_LANDED_TWICE = Rule(
    name="terminal-landed-twice",
    family=Family.TERMINALS,
    severity=Severity.WARNING,
    summary="Two conductors in one terminal of a device",
    why="A device's terminal is mostly made for one conductor. More often the record names a wrong terminal.",
    fix="Correct the record; if it is so in the house, take the second one to the wiring centre.",
    source=COMMON_PRACTICE,
    limits="Wiring centres, zone controllers and fused spurs are left out, and so are links. A note where permanent live, neutral or earth is "
    "looped from device to device.",
    right=HOUSE,
    wrong=added(
        HOUSE,
        "- { to: boiler.call, core: RD, cable: boiler-second }",
        after="- { to: boiler.call, core: BK }",
    ),
    look=_landed_twice,
)

TERMINALS: tuple[Rule, ...] = (
    TOO_MANY_CONDUCTORS,
    CORE_LANDED_NOWHERE,
    SPARE_CORE_BARE,
    TERMINAL_LEFT_EMPTY,
    TERMINAL_LANDED_TWICE,
)
