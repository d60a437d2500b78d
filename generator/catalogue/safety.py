"""Switches in series that stop the boiler: water pressure, condensate, service interval, prepayment.

Knows the parts of these kinds only.
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.parts import COMMON_PRACTICE, FROM_MEMORY, DeviceParts, Fact
from generator.catalogue.usual import in_series, trip


class SeriesSwitchSettings(Settings):
    """What is recorded of a switch in series."""

    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _rating(settings: SeriesSwitchSettings) -> tuple[Fact, ...]:
    value = "not known" if settings.contact_a is None else f"{settings.contact_a:g} A"
    return (Fact(words="contact rating", value=value, source=FROM_MEMORY),)


def _pressure(settings: SeriesSwitchSettings) -> DeviceParts:
    return in_series(
        trip("low", "water pressure", "too low", "right"),
        "pressure switch",
        settings.contact_a,
        (
            Fact(words="breaks", value="below about 0.5 bar", source=FROM_MEMORY),
            Fact(words="back again", value="by itself once the pressure is right", source=COMMON_PRACTICE),
            *_rating(settings),
        ),
    )


def _condensate(settings: SeriesSwitchSettings) -> DeviceParts:
    return in_series(
        trip("full", "condensate", "standing too high", "running away"),
        "float switch of the condensate pump",
        settings.contact_a,
        (
            Fact(words="breaks", value="when the pump's tray is full", source=COMMON_PRACTICE),
            *_rating(settings),
        ),
    )


def _service(settings: SeriesSwitchSettings) -> DeviceParts:
    return in_series(
        trip("due", "service interval", "run out", "running"),
        "service-interval contact",
        settings.contact_a,
        (
            Fact(
                words="breaks", value="when the service date is passed, by the clock", source=COMMON_PRACTICE
            ),
            Fact(words="set again", value="by the engineer at the service", source=COMMON_PRACTICE),
            *_rating(settings),
        ),
    )


def _prepayment(settings: SeriesSwitchSettings) -> DeviceParts:
    return in_series(
        trip("no-credit", "prepayment", "out of credit", "in credit"),
        "prepayment contact",
        settings.contact_a,
        (
            Fact(words="breaks", value="when the credit has run out", source=COMMON_PRACTICE),
            *_rating(settings),
        ),
    )


PRESSURE_SWITCH = Kind(
    name="pressure-switch",
    words="water pressure switch",
    duty=Duty.SAFETY,
    about="A contact in series with the boiler's call or supply, broken while the water pressure is too low.",
    settings=SeriesSwitchSettings,
    parts=_pressure,
)

CONDENSATE_SWITCH = Kind(
    name="condensate-switch",
    words="condensate switch",
    duty=Duty.SAFETY,
    about="The float switch of a condensate pump, in series with the boiler's call: a full tray stops the boiler.",
    settings=SeriesSwitchSettings,
    parts=_condensate,
)

SERVICE_TIMER = Kind(
    name="service-timer",
    words="service-interval timer",
    duty=Duty.SAFETY,
    about="A clock that breaks the heating's call, or shortens it, when a service is overdue. Here it breaks it.",
    settings=SeriesSwitchSettings,
    parts=_service,
)

PREPAYMENT_SHUT_OFF = Kind(
    name="prepayment-shut-off",
    words="prepayment shut-off",
    duty=Duty.SAFETY,
    about="A contact that a prepayment unit breaks when the credit has run out.",
    settings=SeriesSwitchSettings,
    parts=_prepayment,
)
