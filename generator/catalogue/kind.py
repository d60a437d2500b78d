"""A kind of device: its name, its settings and the parts they give.

A kind is a value. It knows nothing of the record that uses it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from generator.catalogue.parts import DeviceParts


class Duty(StrEnum):
    """What a device does in the system; rules and pages go by this, never by the kind's name."""

    SUPPLY = "supply"
    CENTRE = "wiring centre"
    TIMER = "timer"
    ROOM_THERMOSTAT = "room thermostat"
    CYLINDER_THERMOSTAT = "cylinder thermostat"
    VALVE = "motorised valve"
    PUMP = "pump"
    BOILER = "boiler"
    CYLINDER = "hot water cylinder"
    BYPASS = "bypass"
    IMMERSION = "immersion heater"
    RELAY = "relay"
    CONTROLLER = "zone controller"
    FROST_THERMOSTAT = "frost thermostat"
    PIPE_THERMOSTAT = "pipe thermostat"
    SAFETY = "safety switch"
    SOLAR = "solar heat"
    UNCONTROLLED_HEAT = "heat that no control stops"
    WATER = "part of the water side"
    OTHER = "other"


class Settings(BaseModel):
    """Base of every kind's settings: strict, frozen, unknown keys refused."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)


def _as_written(value: Any) -> Any:
    """The text of a number as it stood in the file, so that a terminal may be called 010."""
    return getattr(value, "text", value)


_LABEL = r"^[A-Za-z0-9][A-Za-z0-9+/-]{0,11}$"
TerminalLabel = Annotated[
    str,
    BeforeValidator(_as_written),
    Field(pattern=_LABEL),
    WithJsonSchema({"type": ["string", "integer"], "pattern": _LABEL}),
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of device.

    ``name`` is the word used in records, ``words`` what pages call it, ``about`` one or two
    sentences for the field reference. ``parts`` builds the device from checked settings. ``example``
    holds settings that show every terminal the kind can have, for its page.
    """

    name: str
    words: str
    duty: Duty
    about: str
    settings: type[Settings]
    parts: Callable[[Any], DeviceParts]
    example: Mapping[str, Any] = field(default_factory=dict)
