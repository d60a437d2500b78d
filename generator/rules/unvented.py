"""Rules on unvented cylinders: the energy cut-out, what it cuts, and the relief valve.

Knows these rules only. A fault here bursts a cylinder, so what the record leaves open is taken for the worse.
"""

from collections.abc import Iterator
from functools import partial

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Input, InputKind
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import any_firing, opened, setting, ways_of
from generator.rules.example_house import HOUSE, UNVENTED, change
from generator.rules.hot_water import has_coil, heating_water
from generator.rules.rule import Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.words import the_device
from generator.states.answer import Answer, Solution

_TAKEN_AS_HEATED = "the record has no way of boiler water to it, so it is taken to be heated by the boiler"


def coil_unknown(subject: Subject) -> bool:
    """Whether the record leaves open how the boiler heats a cylinder.

    Of a house with an immersion heater and other zones or circuits recorded, the boiler is taken not to heat it.
    """
    circuit = subject.circuit
    if has_coil(subject) or not circuit.with_duty(Duty.BOILER):
        return False
    if any(each.feeds == "cylinder coil" and each.source for each in circuit.water.circuits):
        return False
    return not (circuit.with_duty(Duty.IMMERSION) and (circuit.zones or circuit.water.circuits))


def _unvented(subject: Subject) -> Iterator[PlacedDevice]:
    for device in subject.circuit.with_duty(Duty.CYLINDER):
        if setting(device, "system") == "unvented":
            yield device


def _cut_outs(subject: Subject, cylinder: PlacedDevice) -> tuple[Input, ...]:
    """The energy cut-outs of a cylinder that are wired: its own, or those in one case with its thermostat."""
    devices: tuple[PlacedDevice, ...] = (cylinder,)
    if setting(cylinder, "cut_out") == "on the thermostat":
        devices = subject.circuit.with_duty(Duty.CYLINDER_THERMOSTAT)
    return tuple(item for each in devices for item in each.parts.inputs if item.kind is InputKind.TRIP)


def _lacks_cut_out(subject: Subject, cylinder: PlacedDevice) -> bool:
    where = setting(cylinder, "cut_out")
    return where == "none" or (where == "on the thermostat" and not _cut_outs(subject, cylinder))


def _no_cut_out(subject: Subject) -> Iterator[Seen]:
    for device in _unvented(subject):
        unknown = coil_unknown(subject)
        if _lacks_cut_out(subject, device) and (has_coil(subject) or unknown):
            yield Seen(
                path=device.path,
                key=True,
                subject=device.name,
                message=f"{the_device(device)} is unvented and no energy cut-out is recorded"
                + (f"; {_TAKEN_AS_HEATED}" if unknown else ""),
            )


UNVENTED_WITHOUT_CUT_OUT = Rule(
    name="unvented-without-cut-out",
    family=Family.HOT_WATER,
    severity=Severity.DANGER,
    summary="An unvented cylinder has no energy cut-out",
    why="If the thermostat fails nothing stops the heat but the relief valve. If that fails too the water passes 100 C "
    "under pressure and the cylinder can burst.",
    fix="Isolate the boiler's hot water and have a person qualified for unvented cylinders look at it; or record the "
    "cut-out that is there.",
    source="Approved Document G, 3.17 and 3.18",
    limits="Cylinders heated by the boiler, as one is taken to be where the record does not say; an immersion heater brings "
    "its own cut-out.",
    right=UNVENTED,
    wrong=change(
        HOUSE, ("settings: { system: vented }", "settings: { system: unvented, relief_valve: seen }")
    ),
    look=_no_cut_out,
)


def _spare_ways(subject: Subject) -> tuple[str, ...]:
    """What lets water through and is said to serve nothing else: the way to a coil that nobody recorded may be any."""
    circuit = subject.circuit
    taken = {zone.opens for zone in circuit.zones} | {each.opens for each in circuit.water.circuits}
    ways = [opens for valve in circuit.with_duty(Duty.VALVE) for opens in ways_of(valve)]
    return tuple(opens for opens in ways if opens not in taken)


def _heated_by(subject: Subject, answer: Answer, opens: str) -> int:
    return opened(answer, opens) & any_firing(subject, answer)


def _still_heated(subject: Subject, tripped: Solution) -> int:
    """The states in which the boiler heats a cylinder though its cut-out has tripped.

    Of a coil that is not recorded: none where the cut-out keeps shut one way that could be its own; else all those in
    which the boiler fires.
    """
    if not coil_unknown(subject):
        return subject.ever(lambda answer: heating_water(subject, answer), tripped)
    for opens in _spare_ways(subject):
        heated = partial(_heated_by, subject, opens=opens)
        if subject.ever(heated) and not subject.ever(heated, tripped):
            return 0
    return subject.ever(lambda answer: any_firing(subject, answer), tripped)


def _cut_out_idle(subject: Subject) -> Iterator[Seen]:
    for device in _unvented(subject):
        for item in _cut_outs(subject, device):
            tripped = subject.scenario(item.name, not item.normal)
            vector = _still_heated(subject, tripped)
            if vector:
                yield Seen(
                    path=device.path,
                    key=True,
                    subject=device.name,
                    message=f"with the energy cut-out of {the_device(device)} tripped the boiler still heats it"
                    + (f"; {_TAKEN_AS_HEATED}" if coil_unknown(subject) else ""),
                    holds=states_in_words(vector, tripped.space, subject.circuit).text,
                )


UNVENTED_CUT_OUT_DOES_NOTHING = Rule(
    name="unvented-cut-out-does-nothing",
    family=Family.HOT_WATER,
    severity=Severity.DANGER,
    summary="The cut-out of an unvented cylinder does not cut the heat",
    why="The cut-out is there and its contact is in no line that matters: the second protection is missing and looks as "
    "if it were present.",
    fix="Isolate the boiler's hot water. The cut-out must break the line of the cylinder's valve, which shuts by its spring, "
    "or stop the boiler at once.",
    source="Approved Document G, 3.28 to 3.31",
    limits="Solved with the cut-out tripped, in every state; a lever latched open by hand defeats it and is not meant here. "
    "Where the record does not say which way leads to the coil, it may be any that serves nothing else.",
    right=UNVENTED,
    wrong=change(
        UNVENTED,
        ("        - { to: water-valve.motor, core: BN }\n", ""),
        (
            "        - { to: water-thermostat.call, core: BK }\n",
            "        - { to: water-thermostat.call, core: BK }\n        - { to: water-valve.motor, core: BN }\n",
        ),
    ),
    look=_cut_out_idle,
)


def _relief(subject: Subject) -> Iterator[Seen]:
    for device in _unvented(subject):
        relief = setting(device, "relief_valve")
        if relief in ("none", "not seen"):
            none = relief == "none"
            yield Seen(
                path=(*device.path, "settings", "relief_valve"),
                subject=device.name,
                message=f"{the_device(device)} is unvented and "
                + (
                    "has no temperature relief valve"
                    if none
                    else "nobody has seen its temperature relief valve"
                ),
                severity=None if none else Severity.NOTE,
                fix="" if none else "Look for it at the next visit and record what is there.",
            )


UNVENTED_WITHOUT_RELIEF_VALVE = Rule(
    name="unvented-without-relief-valve",
    family=Family.HOT_WATER,
    severity=Severity.DANGER,
    summary="An unvented cylinder has no relief valve",
    why="The relief valve is what is left when thermostat and cut-out have failed.",
    fix="Take the cylinder out of use and have a person qualified for unvented cylinders look at it.",
    source="Approved Document G, 3.17 and 3.18",
    limits="A note where nobody looked for it.",
    right=UNVENTED,
    wrong=change(UNVENTED, ("relief_valve: seen", "relief_valve: none")),
    look=_relief,
)


UNVENTED_CYLINDERS: tuple[Rule, ...] = (
    UNVENTED_WITHOUT_CUT_OUT,
    UNVENTED_CUT_OUT_DOES_NOTHING,
    UNVENTED_WITHOUT_RELIEF_VALVE,
)
