"""What motorised valves have in common: the lever, the lamp, the motor and the cores of their leads.

Knows parts only, no kind of valve.
"""

from typing import Literal

from generator.catalogue.logic import All, Expr, Is, Not, Unsure
from generator.catalogue.parts import (
    Contact,
    Control,
    Driven,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Terminal,
)

Lever = Literal["makes", "does not make", "unknown", "none"]
EndSwitch = Literal["make", "change-over", "none"]
WhiteJoins = Literal["orange", "grey"]
NEUTRAL = Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU")
EARTH = Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE")


def lever_input(lever: Lever) -> tuple[Input, ...]:
    """The lever as an input; empty for a valve without one."""
    if lever == "none":
        return ()
    return (
        Input(
            name="lever",
            words="manual lever",
            on_words="latched open",
            off_words="at rest",
            kind=InputKind.LEVER,
            normal=False,
        ),
    )


def lever_control(lever: Lever, does: str) -> tuple[Control, ...]:
    """The lever as something to move by hand; ``does`` says what it opens."""
    if lever == "none":
        return ()
    does = f"{does}; lets go by itself the next time the motor drives"
    return (Control(name="lever", words="manual lever", does=does, input="lever"),)


def lever_opens(lever: Lever) -> tuple[Expr, ...]:
    """What holds while the lever keeps the valve open by hand; to be put into an `Any`."""
    return () if lever == "none" else (Is("lever"),)


def lever_makes(lever: Lever) -> tuple[Expr, ...]:
    """What holds while the latched lever moves the valve's switch as the motor would; to be put into an `Any`."""
    by_lever: dict[Lever, tuple[Expr, ...]] = {
        "makes": (Is("lever"),),
        "does not make": (),
        "unknown": (All((Is("lever"), Unsure())),),
        "none": (),
    }
    return by_lever[lever]


def motor_load(a: str, watts: float, power_factor: float, *, name: str = "motor", words: str = "") -> Load:
    """The motor between a point and neutral."""
    return Load(
        name=name,
        words=words or "valve motor",
        a=a,
        b="N",
        watts=watts,
        power_factor=power_factor,
        kind=LoadKind.MOTOR,
    )


def lamp_load(lamp: str, points: dict[str, str]) -> tuple[Load, ...]:
    """The indicator lamp between a point and neutral; ``points`` says which for each way it may be connected."""
    if lamp not in points:
        return ()
    return (
        Load(
            name="lamp",
            words="indicator lamp",
            a=points[lamp],
            b="N",
            watts=0.5,
            power_factor=1.0,
            kind=LoadKind.LAMP,
        ),
    )


def end_switch_terminals(end_switch: EndSwitch) -> tuple[Terminal, ...]:
    """The cores of the end switch: grey and orange, white too where it changes over."""
    if end_switch == "none":
        return ()
    pair = (
        Terminal(name="switch-a", words="end switch", role=Role.CONTACT, usual_core="GY"),
        Terminal(name="switch-b", words="end switch", role=Role.CONTACT, usual_core="OG"),
    )
    if end_switch == "make":
        return pair
    white = Terminal(
        name="switch-c",
        words="end switch, made while shut",
        role=Role.CONTACT,
        usual_core="WH",
        needed=False,
    )
    return (*pair, white)


def end_switch_contacts(
    end_switch: EndSwitch, rated_a: float | None, white_joins: WhiteJoins = "orange"
) -> tuple[Contact, ...]:
    """The contacts of the end switch; they go by the driven part ``end-switch``.

    ``white_joins`` is the core that changes over: joined to white while the valve is shut.
    """
    if end_switch == "none":
        return ()
    made = Is("end-switch")
    make = Contact(
        name="end-switch", words="end switch", a="switch-a", b="switch-b", when=made, rated_a=rated_a
    )
    if end_switch == "make":
        return (make,)
    rest = Contact(
        name="end-switch-shut",
        words="end switch",
        a="switch-b" if white_joins == "orange" else "switch-a",
        b="switch-c",
        when=Not(made),
        rated_a=rated_a,
    )
    return (make, rest)


def end_switch_driven(end_switch: EndSwitch, made: Expr, *, on_s: float) -> tuple[Driven, ...]:
    """The end switch as a part that is made while ``made``."""
    if end_switch == "none":
        return ()
    return (
        Driven(
            name="end-switch",
            words="end switch",
            on_words="made",
            off_words="broken",
            when=made,
            on_s=on_s,
            off_s=0.5,
        ),
    )
