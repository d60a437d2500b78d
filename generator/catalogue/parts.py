"""What a device is made of: terminals, inputs, contacts, loads, driven parts and supplies.

Plain data in the device's own names. It knows nothing of records, wiring or drawing.
"""

from dataclasses import dataclass
from enum import StrEnum

from generator.catalogue.logic import Expr

COMMON_PRACTICE = "common practice, no source"
FROM_MEMORY = "from memory"


class Role(StrEnum):
    """What a terminal is for, seen from the device."""

    PERMANENT_LINE = "permanent live"
    SWITCHED_LINE = "switched live"
    NEUTRAL = "neutral"
    EARTH = "earth"
    CONTACT = "side of a contact"
    OUTPUT = "switched output"
    EXTRA_LOW = "extra-low voltage"
    """Must never meet mains: a volt-free demand input, a bus, a sensor."""


class InputKind(StrEnum):
    """What moves an input; only the first two count as calls and are solved in every combination."""

    CHANNEL = "timer channel"
    THERMOSTAT = "thermostat"
    LEVER = "manual lever"
    ISOLATOR = "isolator"
    TRIP = "safety cut-out"
    OVERRUN = "pump overrun"
    SENSOR = "sensor"
    """A frost or pipe thermostat, a pressure switch, the sun on a collector: moves by itself, calls nothing by intent."""
    BOOST = "boost"


class LoadKind(StrEnum):
    """What a load does with the power it takes."""

    MOTOR = "motor"
    PUMP = "pump"
    COIL = "coil"
    LAMP = "lamp"
    ELECTRONICS = "electronics"
    DEMAND = "demand input"
    HEATER = "heater"


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminal:
    """A place on a device where a conductor lands.

    ``usual_core`` is the IEC 60757 code usual there, empty where custom gives none.
    ``needed`` says that the device cannot do its work with the terminal empty.
    """

    name: str
    words: str
    role: Role
    usual_core: str = ""
    needed: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """Something outside the circuit that is on or off.

    ``normal`` is None for inputs that are solved in every combination; otherwise the value held
    except in a scenario that moves it. ``calls`` is True for a sensor that calls by design, whatever the
    zones want: a frost thermostat, or heat that has to be carried away.
    """

    name: str
    words: str
    on_words: str
    off_words: str
    kind: InputKind
    normal: bool | None = None
    calls: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Contact:
    """A contact between two terminals of the device, made while ``when`` is true.

    ``rated_a`` is the resistive rating in ampere, None where not known.
    """

    name: str
    words: str
    a: str
    b: str
    when: Expr
    rated_a: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Load:
    """A load between two terminals: ``watts`` at 230 V and its power factor (0 < pf <= 1, lagging)."""

    name: str
    words: str
    a: str
    b: str
    watts: float
    power_factor: float
    kind: LoadKind


@dataclass(frozen=True, slots=True, kw_only=True)
class Driven:
    """A part that moves by itself: on after ``on_s`` seconds of ``when``, off ``off_s`` after it ends."""

    name: str
    words: str
    on_words: str
    off_words: str
    when: Expr
    on_s: float = 0.0
    off_s: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Diode:
    """A rectifier with its series resistance, connected between two points while ``when`` is true.

    It joins nothing in the logic; what it lets through holds a motor but does not drive it. ``ohm`` is the
    resistance in series.
    """

    name: str
    words: str
    anode: str
    cathode: str
    ohm: float
    when: Expr


@dataclass(frozen=True, slots=True, kw_only=True)
class Sense:
    """A small source inside a device by which it feels whether two of its terminals are joined.

    A volt-free demand input, or a bus. ``volts`` is what it puts between them while they are open (direct
    voltage counts as such), ``ohm`` its inner resistance. Apart from every mains supply.
    """

    name: str
    a: str
    b: str
    volts: float
    ohm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Bus:
    """One end of a two-wire bus, on which messages travel over conductors that no contact joins.

    ``tells`` is when this end calls, None for an end that only listens. ``hears`` names the driven part of
    this device that is on while an end joined to both of its terminals calls; empty for an end that only tells.
    """

    name: str
    a: str
    b: str
    tells: Expr | None = None
    hears: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """A source inside the device: its line, neutral and earth points and its nominal volts."""

    name: str
    line: str
    neutral: str
    earth: str
    volts: float = 230.0
    phase: int = 1
    """1, 2 or 3: two supplies of different phases have 400 V between their lines."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One stated number or custom with where it comes from."""

    words: str
    value: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Control:
    """Something on the device that a person can move or turn, and the input it moves."""

    name: str
    words: str
    does: str
    input: str


class Heat(StrEnum):
    """What a device that heats the house is, for the words that a tenant reads."""

    BOILER = "boiler"
    HEAT_PUMP = "heat pump"
    NETWORK = "heat network"


@dataclass(frozen=True, slots=True, kw_only=True)
class DeviceParts:
    """Everything electrical about one device with its settings applied.

    ``inner`` names points inside the device that contacts or loads share but no conductor reaches.
    ``protection`` is the IEC class of protection against shock: 1 needs an earth, 2 does not, None where it has no mains.
    ``heat`` has a meaning for a device that makes heat or lets it in, and for no other.
    """

    terminals: tuple[Terminal, ...] = ()
    inner: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()
    contacts: tuple[Contact, ...] = ()
    loads: tuple[Load, ...] = ()
    driven: tuple[Driven, ...] = ()
    supplies: tuple[Supply, ...] = ()
    diodes: tuple[Diode, ...] = ()
    senses: tuple[Sense, ...] = ()
    buses: tuple[Bus, ...] = ()
    controls: tuple[Control, ...] = ()
    facts: tuple[Fact, ...] = ()
    protection: int | None = None
    heat: Heat = Heat.BOILER
