"""The control circuit of one house: terminals joined by conductors, contacts between them, loads, supplies.

Every name is ``device.part``. Order is the record's order and is never taken from names, so that
renaming devices changes nothing but names. Knows nothing of how states are solved or shown.
"""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.parts import (
    Contact,
    DeviceParts,
    Diode,
    Driven,
    Input,
    Load,
    Sense,
    Supply,
    Terminal,
)
from generator.record.places import Path


class How(StrEnum):
    """How sure we are."""

    TESTED = "tested"
    SEEN = "seen"
    ASSUMED = "assumed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Certainty:
    """How sure we are of a part of the wiring, since when and by which role's eyes."""

    how: How
    on: date
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedDevice:
    """A device of the house with its settings applied."""

    name: str
    words: str
    kind: Kind
    settings: Settings
    parts: DeviceParts
    place: str
    reach: str
    special: str
    certainty: Certainty
    path: Path

    @property
    def duty(self) -> Duty:
        """What it does in the system."""
        return self.kind.duty


@dataclass(frozen=True, slots=True, kw_only=True)
class TerminalPlace:
    """A terminal of a device, or of a wiring centre, in the house."""

    ref: str
    device: PlacedDevice
    terminal: Terminal


@dataclass(frozen=True, slots=True, kw_only=True)
class Conductor:
    """A core between two terminals, or a link (``core`` and ``cable`` empty) between two terminals of one box.

    ``path`` is where the record states it. ``index`` is its place in the circuit's list.
    """

    index: int
    a: str
    b: str
    core: str
    cable: str
    sleeve: str
    certainty: Certainty
    path: Path

    @property
    def is_link(self) -> bool:
        """True for a link."""
        return not self.core

    @property
    def assumed(self) -> bool:
        """True where nobody has looked."""
        return self.certainty.how is How.ASSUMED


@dataclass(frozen=True, slots=True, kw_only=True)
class SpareCore:
    """A core landed nowhere."""

    cable: str
    core: str
    how: str
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class CableFacts:
    """What is recorded of a cable; ``cores`` is None where not recorded."""

    name: str
    cores: tuple[str, ...] | None
    size_mm2: float | None
    length_m: float | None
    type: str
    numbered: bool
    path: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class ZoneIntent:
    """Which controls are meant to serve a part of the house. Inputs and devices by name, empty where none.

    ``opens`` is the driven part that lets water to it: a valve's ``valve.open``, a three-port valve's
    ``valve.open-heating`` or ``valve.open-water``, a zone pump's ``pump.running``; empty where none is meant.
    """

    name: str
    words: str
    serves: str
    channel: str
    thermostat: str
    valve: str
    opens: str
    path: Path
    pump: str = ""
    channel_also: tuple[str, ...] = ()
    """Other channels that turn the zone's channel on as well, where the timer links them."""

    @property
    def call_inputs(self) -> tuple[str, ...]:
        """The inputs that must be on together for the zone to call."""
        thermostat = (f"{self.thermostat}.calling",) if self.thermostat else ()
        return ((self.channel,) if self.channel else ()) + thermostat

    @property
    def call_groups(self) -> tuple[tuple[str, ...], ...]:
        """What must be on for the zone to call: of every group at least one input."""
        return tuple(
            (name, *self.channel_also) if name == self.channel else (name,) for name in self.call_inputs
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterCircuit:
    """One water circuit: the valve in it (empty where none), the driven part that opens it, and what it feeds.

    ``opens`` is that of the circuit's own pump where it has no valve. ``source`` is empty for the boiler.
    ``check_valve`` and ``blending`` are None where nobody looked.
    """

    name: str
    valve: str
    opens: str
    feeds: str
    where: str
    path: Path
    pump: str = ""
    gravity: bool = False
    source: str = ""
    check_valve: bool | None = None
    blending: bool | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterSource:
    """A source of heat besides the boiler. ``of`` says what makes the heat; names are empty where none."""

    name: str
    of: str
    device: str
    pump: str


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterSide:
    """The water circuits, where the pump is, and the bypass: a device's name, or none, fixed, not seen."""

    circuits: tuple[WaterCircuit, ...]
    pump: str
    bypass: str
    header: str = "none"
    sources: tuple[WaterSource, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """Everything that the solvers, rules and pages need to know of one house.

    ``inner`` are points inside devices that no conductor reaches. Names inside ``inputs``,
    ``contacts``, ``loads``, ``driven`` and ``supplies`` are whole (``device.part``).
    """

    devices: tuple[PlacedDevice, ...]
    terminals: tuple[TerminalPlace, ...]
    inner: tuple[str, ...]
    conductors: tuple[Conductor, ...]
    spare: tuple[SpareCore, ...]
    cables: tuple[CableFacts, ...]
    inputs: tuple[Input, ...]
    contacts: tuple[Contact, ...]
    loads: tuple[Load, ...]
    driven: tuple[Driven, ...]
    supplies: tuple[Supply, ...]
    zones: tuple[ZoneIntent, ...]
    water: WaterSide
    diodes: tuple[Diode, ...] = ()
    senses: tuple[Sense, ...] = ()

    @property
    def nodes(self) -> tuple[str, ...]:
        """Every point of the circuit: terminals, then inner points."""
        return tuple(place.ref for place in self.terminals) + self.inner

    @property
    def called_inputs(self) -> tuple[Input, ...]:
        """The inputs that are solved in every combination."""
        return tuple(item for item in self.inputs if item.normal is None)

    def device(self, name: str) -> PlacedDevice:
        """The device of that name. Raises KeyError where there is none."""
        for device in self.devices:
            if device.name == name:
                return device
        raise KeyError(name)

    def with_duty(self, duty: Duty) -> tuple[PlacedDevice, ...]:
        """The devices that do this work, in record order."""
        return tuple(device for device in self.devices if device.duty is duty)
