"""Programmers and time switches: clocks with one to four switched channels.

Knows the parts of these kinds only.
"""

from typing import Annotated, Self

from pydantic import Field, model_validator

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Any, Expr, Is, Not
from generator.catalogue.parts import (
    FROM_MEMORY,
    Contact,
    Control,
    DeviceParts,
    Fact,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Terminal,
)


class TimerSettings(Settings):
    """What is recorded of a programmer or time switch."""

    channels: Annotated[int, Field(ge=1, le=4, description="How many channels it switches.")]
    off_terminals: Annotated[
        tuple[int, ...],
        Field(
            strict=False,
            description="Channels that also have an 'off' terminal, live while the channel is off.",
            examples=[[1]],
        ),
    ] = ()
    volt_free: Annotated[
        bool,
        Field(description="True where each channel has its own common terminal with no link to the supply."),
    ] = False
    hot_water_with_heating: Annotated[
        bool,
        Field(
            description="True where its link or slider is set so that heating cannot be on without hot water, as gravity "
            "hot water with pumped heating needs: the hot water channel is on with the heating channel."
        ),
    ] = False
    hot_water_channel: Annotated[
        int,
        Field(
            ge=1, le=4, description="With `hot_water_with_heating`: which of its two channels is hot water."
        ),
    ] = 1
    watts: Annotated[float, Field(ge=0, le=20, description="Power of the clock.")] = 2.0
    contact_a: Annotated[
        float | None, Field(gt=0, le=20, description="Rating of each contact in ampere.")
    ] = 3.0

    @model_validator(mode="after")
    def _off_exists(self) -> Self:
        for channel in self.off_terminals:
            if not 1 <= channel <= self.channels:
                raise ValueError(f"`off_terminals` names channel {channel}, which this timer does not have")
        if self.hot_water_with_heating and self.channels != 2:
            raise ValueError("`hot_water_with_heating` is for a timer with two channels")
        if self.hot_water_with_heating and self.hot_water_channel > self.channels:
            raise ValueError(
                f"`hot_water_channel` names channel {self.hot_water_channel}, which this timer does not have"
            )
        return self

    def on(self, channel: int) -> Expr:
        """When the contact of a channel is made."""
        own = Is(f"channel-{channel}")
        if not self.hot_water_with_heating or channel != self.hot_water_channel:
            return own
        return Any((own, Is(f"channel-{3 - channel}")))


def _timer(settings: TimerSettings) -> DeviceParts:
    terminals = [
        Terminal(name="L", words="line in", role=Role.PERMANENT_LINE, usual_core="BN"),
        Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU"),
    ]
    inputs: list[Input] = []
    contacts: list[Contact] = []
    controls: list[Control] = []
    for channel in range(1, settings.channels + 1):
        common = "L"
        if settings.volt_free:
            common = f"common-{channel}"
            terminals.append(
                Terminal(name=common, words=f"common of channel {channel}", role=Role.CONTACT, needed=False)
            )
        inputs.append(
            Input(
                name=f"channel-{channel}",
                words=f"channel {channel}",
                on_words="on",
                off_words="off",
                kind=InputKind.CHANNEL,
            )
        )
        controls.append(
            Control(
                name=f"channel-{channel}",
                words=f"button or slider of channel {channel}",
                does="turns the channel on, off, or leaves it to the clock",
                input=f"channel-{channel}",
            )
        )
        terminals.append(
            Terminal(name=f"on-{channel}", words=f"channel {channel} on", role=Role.OUTPUT, needed=False)
        )
        contacts.append(
            Contact(
                name=f"on-{channel}",
                words=f"channel {channel} contact",
                a=common,
                b=f"on-{channel}",
                when=settings.on(channel),
                rated_a=settings.contact_a,
            )
        )
        if channel in settings.off_terminals:
            terminals.append(
                Terminal(
                    name=f"off-{channel}", words=f"channel {channel} off", role=Role.OUTPUT, needed=False
                )
            )
            contacts.append(
                Contact(
                    name=f"off-{channel}",
                    words=f"channel {channel} contact, off side",
                    a=common,
                    b=f"off-{channel}",
                    when=Not(settings.on(channel)),
                    rated_a=settings.contact_a,
                )
            )
    return DeviceParts(
        terminals=tuple(terminals),
        inputs=tuple(inputs),
        contacts=tuple(contacts),
        loads=(
            Load(
                name="clock",
                words="clock",
                a="L",
                b="N",
                watts=settings.watts or 0.5,
                power_factor=1.0,
                kind=LoadKind.ELECTRONICS,
            ),
        ),
        controls=tuple(controls),
        facts=(
            Fact(words="power of the clock", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="contact rating", value=f"{settings.contact_a or 0:g} A", source=FROM_MEMORY),
        ),
        protection=2,
    )


PROGRAMMER = Kind(
    name="programmer",
    words="programmer",
    duty=Duty.TIMER,
    about="A clock that switches heating and hot water at set times, one channel for each.",
    settings=TimerSettings,
    parts=_timer,
    example={"channels": 2, "off_terminals": [1], "volt_free": True},
)

TIME_SWITCH = Kind(
    name="time-switch",
    words="time switch",
    duty=Duty.TIMER,
    about="A clock that switches one or more channels alike in kind; the same parts as a programmer.",
    settings=TimerSettings,
    parts=_timer,
    example={"channels": 2, "off_terminals": [1], "volt_free": True},
)
