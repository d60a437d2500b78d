"""The water side of a record, as pydantic models: circuits, pumps, the bypass, the header and the sources of heat.

Knows the shape only; whether the devices named exist is decided later.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.record.fields import Line, Name
from generator.record.wiring import Part


class Circuit(Part):
    """One water circuit from the boiler: the valve in it and what it feeds."""

    valve: Annotated[
        Name | None, Field(description="The valve in it; left out for a circuit that is always open.")
    ] = None
    pump: Annotated[
        Name | None,
        Field(description="The pump that serves this circuit alone, as on a header with zone pumps."),
    ] = None
    gravity: Annotated[
        bool,
        Field(
            description="True where water circulates by itself whenever the source is hot, without a pump."
        ),
    ] = False
    source: Annotated[
        Name | None,
        Field(
            description="Which of `sources` heats it, where that is not the boiler, as a solar coil or a stove's coil."
        ),
    ] = None
    check_valve: Annotated[
        bool | None,
        Field(description="Whether a check valve keeps water from running through it backwards."),
    ] = None
    blending: Annotated[
        bool | None,
        Field(description="Whether a blending set cools its flow with water from its own return."),
    ] = None
    feeds: Annotated[
        Literal["radiators", "underfloor", "towel rail", "cylinder coil", "thermal store", "heat exchanger"],
        Field(description="What it feeds."),
    ]
    where: Annotated[
        Line | None, Field(description="Which part of the house.", examples=["ground floor"])
    ] = None
    radiator_valves: Annotated[
        bool | None, Field(description="Whether its radiators have thermostatic valves.")
    ] = None


class Source(Part):
    """A source of heat besides the boiler, with a water loop of its own."""

    of: Annotated[
        Literal["boiler", "heat pump", "solar", "solid fuel", "heat network", "thermal store"],
        Field(description="What makes the heat. No control can stop the heat of solid fuel."),
    ]
    device: Annotated[
        Name | None, Field(description="The device that is called for heat, where there is one.")
    ] = None
    pump: Annotated[Name | None, Field(description="The pump of its loop, where it has one.")] = None


class Water(Part):
    """The water side."""

    circuits: Annotated[dict[Name, Circuit], Field(description="The circuits in order from the boiler.")] = {}
    pump: Annotated[
        Literal["on the flow", "on the return", "in the boiler", "none", "not seen"],
        Field(description="Where the pump is; none where each circuit has a pump of its own."),
    ] = "not seen"
    bypass: Annotated[
        Name | Literal["none", "fixed", "in the boiler", "not seen"],
        Field(
            description="The automatic bypass device by name, or none, fixed (a hand valve left open), in the boiler, not seen."
        ),
    ] = "not seen"
    header: Annotated[
        Literal["none", "low-loss", "buffer"],
        Field(
            description="What parts the boiler's water from that of the circuits: a low-loss header, or a buffer vessel."
        ),
    ] = "none"
    sources: Annotated[
        dict[Name, Source], Field(description="Sources of heat besides the boiler, by a short name.")
    ] = {}
