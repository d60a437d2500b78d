"""How a source of heat is called: the terminals of its demand input, and when it is called.

Shared by boilers, heat pumps and heat interface units; knows none of them.
"""

from dataclasses import dataclass
from typing import Literal

from generator.catalogue.logic import NEVER, Expr, Fed, Is, Joined
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Bus,
    Driven,
    Fact,
    Load,
    LoadKind,
    Role,
    Sense,
    Terminal,
)
from generator.catalogue.usual import BUS_OHM, BUS_V, SENSED_V, felt, pair

Demand = Literal["switched live", "volt-free", "bus"]

DEMAND_W = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DemandParts:
    """A demand input; ``called`` is when it asks for heat, whether or not anything can follow."""

    terminals: tuple[Terminal, ...]
    called: Expr
    loads: tuple[Load, ...] = ()
    senses: tuple[Sense, ...] = ()
    buses: tuple[Bus, ...] = ()
    driven: tuple[Driven, ...] = ()
    facts: tuple[Fact, ...] = ()


def needs_electronics(*demands: str) -> bool:
    """Whether any of the demands only asks, and feeds nothing."""
    return any(demand in ("volt-free", "bus") for demand in demands)


def demand_parts(demand: str, terminal: str, load: str, words: str) -> DemandParts:
    """The demand input of a device with neutral `N`.

    Args:
        demand: ``switched live``, ``volt-free`` or ``bus``.
        terminal: what its terminals are named after: ``call`` -> ``call``, or ``call-a`` and ``call-b``. The first
            demand of a device is called ``call``; a further one has a terminal ``NAME-call``.
        load: name of the small load by which mains is felt.
        words: what pages call it.
    """
    if demand == "volt-free":
        return _volt_free(terminal, words)
    if demand == "bus":
        return _bus(words)
    name = terminal if terminal == "call" else f"{terminal}-call"
    return DemandParts(
        terminals=(
            Terminal(
                name=name,
                words="switched live" if terminal == "call" else "switched live for hot water",
                role=Role.SWITCHED_LINE,
            ),
        ),
        called=Fed(load),
        loads=(
            Load(
                name=load,
                words=words,
                a=name,
                b="N",
                watts=DEMAND_W,
                power_factor=1.0,
                kind=LoadKind.DEMAND,
            ),
        ),
    )


def _volt_free(terminal: str, words: str) -> DemandParts:
    return DemandParts(
        terminals=pair(terminal, f"{words}, volt-free"),
        called=Joined(f"{terminal}-a", f"{terminal}-b"),
        senses=(felt(terminal),),
        facts=(
            Fact(
                words="volt-free demand",
                value="the two terminals joined call for heat; mains on either can wreck the board",
                source=COMMON_PRACTICE,
            ),
            Fact(words="voltage of its own", value=f"about {SENSED_V:g} V", source=FROM_MEMORY),
            Fact(words="factory link", value="taken out when a control is wired", source=COMMON_PRACTICE),
        ),
    )


def _bus(words: str) -> DemandParts:
    return DemandParts(
        terminals=pair("bus", f"{words}, bus"),
        called=Is("bus-called"),
        senses=(Sense(name="bus", a="bus-a", b="bus-b", volts=BUS_V, ohm=BUS_OHM),),
        buses=(Bus(name="bus", a="bus-a", b="bus-b", hears="bus-called"),),
        driven=(
            Driven(
                name="bus-called",
                words="call over the bus",
                on_words="there",
                off_words="not there",
                when=NEVER,
            ),
        ),
        facts=(
            Fact(
                words="bus",
                value="needs both wires to a room unit; bridging the two does not call",
                source=COMMON_PRACTICE,
            ),
            Fact(words="voltage of the bus", value=f"about {BUS_V:g} V", source=FROM_MEMORY),
        ),
    )
