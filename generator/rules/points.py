"""Rules on where devices are and what reaches them: near a bath or shower, and a protective conductor at every point.

Knows these rules only.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.circuit.model import CableFacts, Conductor, PlacedDevice
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.behaviour import conductors_at, live, terminals_of
from generator.rules.example_house import HOUSE, change
from generator.rules.rule import FROM_MEMORY, Family, Rule, Seen, Subject
from generator.rules.words import and_so_on, colour_of, the_device

_CONTROLS = (
    Duty.SUPPLY,
    Duty.CENTRE,
    Duty.TIMER,
    Duty.ROOM_THERMOSTAT,
    Duty.CYLINDER_THERMOSTAT,
    Duty.FROST_THERMOSTAT,
    Duty.PIPE_THERMOSTAT,
    Duty.RELAY,
    Duty.CONTROLLER,
    Duty.SAFETY,
)
_FIXED = ("flat cable", "armoured cable")
"""In conduit the protective conductor may be run beside the others, as a single of no recorded cable."""
_ZONES = ("zone 0", "zone 1", "zone 2")


def _by_the_bath(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.devices:
        zone = subject.record.devices[device.name].bath_zone
        if zone not in _ZONES or device.duty not in _CONTROLS:
            continue
        reached = [
            place.ref for place in terminals_of(subject.circuit, device.name) if live(subject, place.ref)
        ]
        if reached:
            names = and_so_on(f"`{ref.split('.', 1)[1]}`" for ref in reached)
            yield Seen(
                path=(*device.path, "bath_zone"),
                subject=device.name,
                message=f"{the_device(device)} is in {zone} of a bath or shower, and mains reaches its terminals {names}",
                severity=Severity.ERROR if zone == "zone 2" else None,
            )


_BATH = change(
    HOUSE,
    (
        "{ kind: room-thermostat, place: hall }",
        "{ kind: room-thermostat, place: bathroom, bath_zone: outside }",
    ),
)

MAINS_CONTROL_BY_THE_BATH = Rule(
    name="mains-control-by-the-bath",
    family=Family.SUPPLY,
    severity=Severity.DANGER,
    summary="A control with mains in it is within reach of a bath or shower",
    why="Who touches it is wet and stands in water. A crack in its case, or water inside, can kill.",
    fix="Isolate it. Move the control out of the zones, or fit one whose part in the bathroom carries no mains.",
    source=f"{FROM_MEMORY}: BS 7671, 701.512.3; the zones' sizes as Approved Document P (2013) has them",
    limits="Only where the record says in which zone a device is. Controls only: pumps, valves and boilers there go by how "
    "well they keep water out, which is not recorded. An error in zone 2.",
    right=_BATH,
    wrong=change(_BATH, ("bath_zone: outside", "bath_zone: zone 1")),
    look=_by_the_bath,
)


def _unprotected(subject: Subject) -> Iterator[Seen]:
    circuit = subject.circuit
    cables = {cable.name: cable for cable in circuit.cables}
    for device in circuit.devices:
        if device.parts.protection != 2 or device.duty is Duty.CENTRE:
            continue
        for name in dict.fromkeys(item.cable for item in _cores_of(subject, device)):
            cable = cables.get(name)
            if cable is None or cable.cores is None or cable.type not in _FIXED:
                continue
            found = _lacking(subject, cable)
            if found is not None:
                path, words = found
                yield Seen(
                    path=path,
                    subject=device.name,
                    message=f"no protective conductor is run to and terminated at {the_device(device)}: {words}",
                )


def _cores_of(subject: Subject, device: PlacedDevice) -> Iterator[Conductor]:
    for place in terminals_of(subject.circuit, device.name):
        yield from (item for item in conductors_at(subject.circuit, place.ref) if not item.is_link)


def _lacking(subject: Subject, cable: CableFacts) -> tuple[Path, str] | None:
    """Where it shows that a cable's protective conductor is not there or not terminated, and how; None where it is."""
    earths = [core for core in cable.cores or () if colour_of(core) == "GNYE"]
    if not earths:
        return (*cable.path, "cores"), f"its {cable.type} `{cable.name}` has none"
    for spare in subject.circuit.spare:
        if spare.cable == cable.name and spare.core in earths and spare.how in ("cut off", "bare"):
            return spare.path, f"that of its {cable.type} `{cable.name}` is {spare.how}"
    return None


_FLAT = change(
    HOUSE,
    ("water-thermostat: { cores: [BK, BN],", "water-thermostat: { cores: [BK, BN, GNYE], type: flat cable,"),
    (
        "\nzones:\n",
        "  spare:\n    - { cable: water-thermostat, core: GNYE, how: in a connector }\n\nzones:\n",
    ),
)

POINT_WITHOUT_PROTECTIVE_CONDUCTOR = Rule(
    name="point-without-protective-conductor",
    family=Family.NEUTRAL_AND_EARTH,
    severity=Severity.WARNING,
    summary="No protective conductor is run to a point",
    why="A device of class II needs no earth itself. But who puts one with metal in its place later finds none, and a cable "
    "that is damaged on the way has nothing that blows the fuse.",
    fix="Run a protective conductor to the point and terminate it there, in the device's parking terminal or in a connector.",
    source=f"{FROM_MEMORY}: BS 7671, 411.3.1.1",
    limits="Devices of class II at the end of fixed cables whose type and cores are recorded; flexible cords and singles in conduit are left out.",
    right=_FLAT,
    wrong=change(_FLAT, ("how: in a connector", "how: cut off")),
    look=_unprotected,
)

PLACES: tuple[Rule, ...] = (MAINS_CONTROL_BY_THE_BATH,)
POINTS: tuple[Rule, ...] = (POINT_WITHOUT_PROTECTIVE_CONDUCTOR,)
