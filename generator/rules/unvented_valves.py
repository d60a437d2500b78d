"""Rules on the valves that stand between the boiler and an unvented cylinder: they must shut when supply is lost.

Knows these rules only. Goes by what each valve does by its mechanism, not by the name of its kind.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Severity
from generator.rules.behaviour import setting, ways_of
from generator.rules.example_house import UNVENTED, change
from generator.rules.example_three_port import MID_POSITION_UNVENTED
from generator.rules.hot_water import coil_paths
from generator.rules.rule import Family, Rule, Seen, Subject
from generator.rules.valve_mechanism import open_without_supply
from generator.rules.words import device_of, the_device

_SOURCE = "Approved Document G, 3.30 and 3.31"
_DANGER = (
    "The energy cut-out works by taking the supply from the valve. A valve that is open without supply lets the boiler "
    "go on heating: water above 100 C under pressure, and the cylinder can burst."
)
_ISOLATE = "Isolate the boiler's hot water and have a person qualified for unvented cylinders look at it"


def _unvented(subject: Subject) -> bool:
    return any(setting(device, "system") == "unvented" for device in subject.circuit.with_duty(Duty.CYLINDER))


def _left_open(subject: Subject, *, three_port: bool) -> Iterator[Seen]:
    """The ways to an unvented cylinder on which no valve shuts without supply, told at the first valve there."""
    if not _unvented(subject):
        return
    told: set[str] = set()
    for ways in coil_paths(subject):
        valves = [
            (device, opens)
            for opens in ways
            if (device := device_of(subject.circuit, opens)).duty is Duty.VALVE
        ]
        if not valves or not all(open_without_supply(device, opens) for device, opens in valves):
            continue
        device = _worst(valves)
        if _has_outlets(device) is three_port and device.name not in told:
            told.add(device.name)
            yield Seen(
                path=device.path,
                key=True,
                subject=device.name,
                message=f"{the_device(device)} stands alone before an unvented cylinder, and without supply it "
                + ("rests open to the cylinder" if three_port else "does not shut"),
            )


def _has_outlets(device: PlacedDevice) -> bool:
    return len(ways_of(device)) > 1


def _worst(valves: list[tuple[PlacedDevice, str]]) -> PlacedDevice:
    """The three-port valve where there is one, else the first."""
    return next((device for device, _ in valves if _has_outlets(device)), valves[0][0])


THREE_PORT_ALONE_ON_UNVENTED = Rule(
    name="three-port-alone-on-unvented",
    family=Family.HOT_WATER,
    severity=Severity.DANGER,
    summary="A three-port valve stands alone before an unvented cylinder",
    why=f"{_DANGER} A mid-position or diverter valve rests open to the cylinder.",
    fix=f"{_ISOLATE}; a two-port valve that shuts by its spring must stand in series, with the cut-out in its line. Where "
    "it is there, record it as the hot water zone's valve.",
    source=_SOURCE,
    limits="Found also where the cut-out stops the boiler: the heat in the boiler, and pump overrun, go on.",
    right=MID_POSITION_UNVENTED,
    wrong=change(
        MID_POSITION_UNVENTED,
        (
            "thermostat: water-thermostat, valve: water-valve }",
            "thermostat: water-thermostat, valve: valve }",
        ),
    ),
    implied=("hot-water-time-not-independent",),
    look=lambda subject: _left_open(subject, three_port=True),
)

UNVENTED_VALVE_DOES_NOT_SHUT = Rule(
    name="unvented-valve-does-not-shut",
    family=Family.HOT_WATER,
    severity=Severity.DANGER,
    summary="The valve of an unvented cylinder does not shut without supply",
    why=f"{_DANGER} A normally open valve opens, and one without a spring stays where it is.",
    fix=f"{_ISOLATE}; the valve must be one that its spring shuts.",
    source=_SOURCE,
    limits="By the mechanism of the valve's kind; a valve that sticks is not seen.",
    right=UNVENTED,
    wrong=change(
        UNVENTED,
        ("water-valve: { kind: two-port-valve }", "water-valve: { kind: motor-open-motor-close-valve }"),
        ("{ to: water-valve.motor, core: BN }", "{ to: water-valve.open, core: BN }"),
    ),
    implied=("terminal-left-empty", "valve-opens-without-its-call", "boiler-on-without-call"),
    look=lambda subject: _left_open(subject, three_port=False),
)

UNVENTED_VALVES: tuple[Rule, ...] = (THREE_PORT_ALONE_ON_UNVENTED, UNVENTED_VALVE_DOES_NOT_SHUT)
