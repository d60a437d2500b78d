"""Rules on supply and isolation: what reaches the box, what cuts it, and the fuse.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.cords import CORDS
from generator.catalogue.kind import Duty
from generator.catalogue.parts import Role, Supply
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.behaviour import (
    conductors_at,
    isolator_of,
    joined_to,
    live,
    rated_a,
    rating_of,
    setting,
    terminals_of,
    way_between,
    way_words,
    with_role,
)
from generator.rules.counter_example import shown_live
from generator.rules.example_house import HOUSE, IMMERSION, change, moved
from generator.rules.joins import joins
from generator.rules.polarity import live_neutrals, reversed_at_supply
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import (
    and_so_on,
    conductor_name,
    device_of,
    the_conductor,
    the_device,
    the_terminal,
)
from generator.states.answer import Solution

MOST_TOLD = 3
"""Cables that a message names one by one."""
_CONTROLS = (Duty.BOILER, Duty.VALVE, Duty.PUMP, Duty.TIMER)


def _line_to_neutral(subject: Subject) -> Iterator[Seen]:
    for join in joins(subject, lambda first, second: (first.line, second.neutral)):
        path: Path = join.blamed.path if join.blamed else ("wiring",)
        blamed = f"; look first at {the_conductor(join.blamed)}" if join.blamed else ""
        yield Seen(
            path=path,
            subject=conductor_name(join.blamed) if join.blamed else "",
            message=f"line is joined to neutral: {way_words(subject, join.steps)}{blamed}",
            holds=join.holds,
            example=join.example,
        )


LINE_JOINED_TO_NEUTRAL = Rule(
    name="line-joined-to-neutral",
    family=Family.SUPPLY,
    severity=Severity.DANGER,
    summary="Line is joined to neutral",
    why="The fuse blows as soon as the controls come to that state, and what is fed through a small core or a "
    "contact may burn before it does.",
    fix="Isolate, prove dead, and find out which conductor is in the wrong terminal, or which line of the record is wrong.",
    source=COMMON_PRACTICE,
    limits="Other rules leave out the states in which line is joined to neutral, since nothing works in them.",
    right=HOUSE,
    wrong=moved(HOUSE, "- { to: water-valve.switch-b, core: OG }", after="- { to: spur.N, core: BU }"),
    look=_line_to_neutral,
)


def _reached(subject: Subject, supply: Supply) -> frozenset[str]:
    """The devices that a supply's line can reach in any state."""
    return frozenset(
        place.device.name for place in subject.circuit.terminals if joined_to(subject, supply.line, place.ref)
    )


def _live_with_isolator_open(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    reached = {supply.name: _reached(subject, supply) for supply in circuit.supplies}
    for index, second in enumerate(circuit.supplies):
        for first in circuit.supplies[:index]:
            shared = reached[first.name] & reached[second.name]
            boxes = [device for device in circuit.devices if device.name in shared]
            boxes.sort(key=lambda device: device.duty is not Duty.CENTRE)
            if boxes:
                yield _two_supplies(subject, first, second, boxes)


def _two_supplies(subject: Subject, first: Supply, second: Supply, boxes: list[PlacedDevice]) -> Seen:
    circuit, box = subject.circuit, boxes[0]
    own, other = device_of(circuit, first.name), device_of(circuit, second.name)
    solution, line, alive = _still_live(subject, own, second, box)
    if not alive:
        # Told the other way round: with the second off, the first may still reach the box.
        there = _still_live(subject, other, first, box)
        if there[-1]:
            own, other = other, own
            solution, line, alive = there
    ref, vector = next(iter(alive.items()), ("", 0))
    steps = way_between(subject, solution.settled, vector, line, ref)
    landed = conductors_at(circuit, ref) if ref else ()
    beside = f" (and {and_so_on(the_device(each) for each in boxes[1:])})" if len(boxes) > 1 else ""
    centre = box.duty is Duty.CENTRE
    return Seen(
        path=landed[0].path if landed else box.path,
        key=not landed,
        subject=box.name,
        message=f"{the_device(own)} and {the_device(other)} both reach {the_device(box)}{beside}: "
        + (
            f"with {the_device(own)} off, {and_so_on(f'`{each}`' for each in alive)} can still be live, by "
            f"{way_words(subject, steps)}"
            if alive
            else "with either off nothing there is live once all has settled, and what may still run on is not reckoned with"
        ),
        holds=states_in_words(vector, solution.space, circuit).text if alive else "",
        example=shown_live(subject, ref, solution) if ref else "",
        severity=None if centre else Severity.ERROR,
    )


def _still_live(
    subject: Subject, off: PlacedDevice, supply: Supply, box: PlacedDevice
) -> tuple[Solution, str, dict[str, int]]:
    """The terminals of a box that a supply makes live with the isolator of another off, and the states in which it does."""
    solution = subject.scenario(isolator_of(off), False) if isolator_of(off) else subject.solution
    alive = {
        place.ref: vector
        for place in terminals_of(subject.circuit, box.name)
        if (vector := joined_to(subject, supply.line, place.ref, solution))
    }
    return solution, supply.line, alive


LIVE_WITH_ISOLATOR_OPEN = Rule(
    name="live-with-isolator-open",
    family=Family.SUPPLY,
    severity=Severity.DANGER,
    summary="A box is live with its isolator off: a second supply reaches it",
    why="Whoever switches the spur off and opens the box believes it dead, and part of it is at 230 V.",
    fix="Feed everything that meets in the box from one spur, or take the other supply out of it. Until then, "
    "isolate and lock off both, and prove dead at every terminal.",
    source=COMMON_PRACTICE,
    limits="At a wiring centre it is a danger; at another device that two supplies meet in, such as a relay, an error. "
    "A device that is wholly on a spur of its own is not meant.",
    right=IMMERSION,
    wrong=change(
        IMMERSION,
        ("terminals: [A, B, C, D, E, F, G, H]", "terminals: [A, B, C, D, E, F, G, H, J, K]"),
        ("    - { ends: [water-spur.L, immersion.L], core: BN, cable: immersion }\n", ""),
        ("    - { ends: [water-spur.N, immersion.N], core: BU, cable: immersion }\n", ""),
        (
            "  direct:\n",
            (
                "      J: # immersion heater, line\n"
                "        - { to: water-spur.L, core: BN }\n"
                "        - { to: immersion.L, core: BN }\n"
                "      K: # immersion heater, neutral\n"
                "        - { to: water-spur.N, core: BU }\n"
                "        - { to: immersion.N, core: BU }\n"
                "  direct:\n"
            ),
        ),
    ),
    look=_live_with_isolator_open,
)


def _not_double_pole(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    for supply in circuit.supplies:
        device = device_of(circuit, supply.name)
        isolator = isolator_of(device)
        if not isolator:
            continue
        off = subject.scenario(isolator, False)
        for place in with_role(circuit, Role.NEUTRAL):
            if place.device is device and off.settled.joined[supply.neutral][place.ref]:
                yield Seen(
                    path=device.path,
                    key=True,
                    subject=device.name,
                    message=f"{the_device(device)} breaks the line only; the neutral stays joined when it is off",
                )


ISOLATOR_NOT_DOUBLE_POLE = Rule(
    name="isolator-not-double-pole",
    family=Family.SUPPLY,
    severity=Severity.WARNING,
    summary="The isolator does not break the neutral",
    why="If line and neutral are crossed anywhere before it, everything stays live with the isolator off. A fault "
    "elsewhere in the house can also put volts on the neutral.",
    fix="Fit a double-pole switched connection unit. Until then prove dead between all conductors and earth, neutral too.",
    source=COMMON_PRACTICE,
    limits="Goes by what is recorded of the isolator. Whether its contacts part far enough is not known.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("spur: { kind: fused-spur }", "spur: { kind: fused-spur, settings: { double_pole: false } }"),
    ),
    look=_not_double_pole,
)


def _feeds_cable(subject: Subject, device: PlacedDevice, cable: str) -> bool:
    """Whether a supply's line can reach any conductor of a cable in any state."""
    return any(
        joined_to(subject, supply.line, item.a)
        for supply in device.parts.supplies
        for item in subject.circuit.conductors
        if item.cable == cable
    )


def _fuse_larger_than_core(subject: Subject) -> Iterator[Seen]:
    rated = {cord.size_mm2: cord.rated_a for cord in CORDS}
    cords = [
        cable
        for cable in subject.circuit.cables
        if cable.size_mm2 is not None and cable.type not in ("flat cable", "conduit singles")
    ]
    for device in subject.circuit.with_duty(Duty.SUPPLY):
        rating = rating_of(device)
        fuse = rated_a(device)
        thin = [
            cable
            for cable in cords
            if rated[cable.size_mm2 or 0] < fuse and _feeds_cable(subject, device, cable.name)
        ]
        if not thin:
            continue
        told = and_so_on(
            f"cable `{cable.name}` of {cable.size_mm2:g} mm2, which may carry {rated[cable.size_mm2 or 0]:g} A"
            for cable in thin[:MOST_TOLD]
        )
        more = f" and {len(thin) - MOST_TOLD} more" if len(thin) > MOST_TOLD else ""
        yield Seen(
            path=(*device.path, "settings", rating),
            subject=device.name,
            message=f"the fuse of {the_device(device)} is {fuse:g} A; it feeds {told}{more}",
            related=tuple(((*cable.path, "size_mm2"), f"cable `{cable.name}`") for cable in thin),
        )


FUSE_LARGER_THAN_CORE = Rule(
    name="fuse-larger-than-core",
    family=Family.SUPPLY,
    severity=Severity.ERROR,
    summary="The fuse is larger than a core allows",
    why="A fault that draws less than the fuse but more than the core can carry heats the core until its insulation fails.",
    fix="Fit the fuse that the smallest core allows, or replace the cord by a larger one.",
    source="BS 7671, Table 4F3A (flexible cords, 60 C, in air at 30 C)",
    limits="Cords only, and those whose size is recorded. Warm places and cords bunched together allow less.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        (
            "spur: { kind: fused-spur }",
            "spur: { kind: fused-spur, settings: { fuse_a: 5, fuse_by_maker: true } }",
        ),
        (
            "  heating-valve: { cores: [BN, BU, GNYE, GY, OG], size_mm2: 0.75, length_m: 1.5 }",
            "  heating-valve: { cores: [BN, BU, GNYE, GY, OG], size_mm2: 0.5, length_m: 1.5 }",
        ),
    ),
    look=_fuse_larger_than_core,
)


def _feeds_controls(subject: Subject, device: PlacedDevice) -> bool:
    """Whether any boiler, valve, pump or timer is fed by the supply."""
    for supply in device.parts.supplies:
        for load in subject.circuit.loads:
            if device_of(subject.circuit, load.name).duty not in _CONTROLS:
                continue
            if joined_to(subject, supply.line, load.a):
                return True
    return False


def _fuse_not_3_amp(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.with_duty(Duty.SUPPLY):
        fuse = rated_a(device)
        # A circuit of its own is made for one appliance and has the fuse that it needs.
        if rating_of(device) != "fuse_a":
            continue
        if fuse == 3 or setting(device, "fuse_by_maker") or not _feeds_controls(subject, device):
            continue
        yield Seen(
            path=(*device.path, "settings", "fuse_a"),
            subject=device.name,
            message=f"{the_device(device)} feeds the controls through a fuse of {fuse:g} A",
        )


FUSE_NOT_3_AMP = Rule(
    name="fuse-not-3-amp",
    family=Family.SUPPLY,
    severity=Severity.WARNING,
    summary="The controls are not fused at 3 A",
    why="The small cores and contacts of heating controls are protected by a 3 A fuse and by no larger one.",
    fix="Fit a 3 A fuse. Where the boiler's instructions ask for another, record `fuse_by_maker: true`.",
    source=COMMON_PRACTICE,
    limits="Only spurs that feed heating controls. Keeps quiet where the maker's value is recorded.",
    right=HOUSE,
    wrong=change(
        HOUSE, ("spur: { kind: fused-spur }", "spur: { kind: fused-spur, settings: { fuse_a: 5 } }")
    ),
    look=_fuse_not_3_amp,
)


def _reversed(subject: Subject) -> Iterator[Seen]:
    places = subject.once(live_neutrals)
    whole = subject.once(reversed_at_supply)
    for place in places[:1] if whole else places:
        device = subject.circuit.with_duty(Duty.SUPPLY)[0] if whole else place.device
        at = terminals_of(subject.circuit, device.name) if whole else (place,)
        conductors = [item for each in at for item in conductors_at(subject.circuit, each.ref)]
        yield Seen(
            path=conductors[0].path if conductors else device.path,
            subject=device.name,
            message=f"every neutral terminal is live: line and neutral are reversed at {the_device(device)}"
            if whole
            else f"{the_terminal(subject.circuit, place.ref)} is live",
            holds=states_in_words(live(subject, place.ref), subject.solution.space, subject.circuit).text,
            example=shown_live(subject, place.ref),
        )


LINE_AND_NEUTRAL_REVERSED = Rule(
    name="line-and-neutral-reversed",
    family=Family.SUPPLY,
    severity=Severity.ERROR,
    summary="A neutral terminal is live",
    why="The device may work all the same, but its switches and the fuse are then in the neutral: it stays live when "
    "it seems off, and flame sensing in a boiler may fail.",
    fix="Swap the two conductors, in the box or in the record, whichever is wrong.",
    source=COMMON_PRACTICE,
    limits="A relay's coil works either way round and is left out. Where every neutral is live it is told once, at the supply.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("        - { to: pump.L, core: BN }\n", "        - { to: pump.N, core: BU }\n"),
        ("        - { to: pump.N, core: BU }\n", "        - { to: pump.L, core: BN }\n"),
    ),
    implied=("blue-core-as-line", "brown-core-as-neutral"),
    look=_reversed,
)

SUPPLY: tuple[Rule, ...] = (
    LINE_JOINED_TO_NEUTRAL,
    LIVE_WITH_ISOLATOR_OPEN,
    ISOLATOR_NOT_DOUBLE_POLE,
    LINE_AND_NEUTRAL_REVERSED,
    FUSE_LARGER_THAN_CORE,
    FUSE_NOT_3_AMP,
)
