"""A kind of device of the firm's own, as pydantic models: what may be written in `kinds/NAME.yaml`.

Knows the shape of the file only; whether the names in it exist is decided where it is made into a kind.
"""

from typing import Annotated, Literal, Self

from pydantic import ConfigDict, Field, model_validator

from generator.record.fields import CoreName, Line, Name, Number, TerminalName, Text, unfit
from generator.record.wiring import Part

_BETWEEN = "The two terminals, or points inside, that it is between."
_ONE_WAY = "say one thing: `is`, `not`, `all`, `any`, `fed`, `live`, `back` or `joined`"

OwnDuty = Literal[
    "timer",
    "room thermostat",
    "cylinder thermostat",
    "motorised valve",
    "pump",
    "boiler",
    "relay",
    "zone controller",
    "frost thermostat",
    "pipe thermostat",
    "safety switch",
    "solar heat",
    "heat that no control stops",
    "part of the water side",
    "other",
]
OwnRole = Literal[
    "permanent live",
    "switched live",
    "neutral",
    "earth",
    "side of a contact",
    "switched output",
    "extra-low voltage",
]
OwnInput = Literal[
    "timer channel", "thermostat", "manual lever", "safety cut-out", "pump overrun", "sensor", "boost"
]
OwnLoad = Literal["motor", "pump", "coil", "lamp", "electronics", "demand input", "heater"]
Pair = Annotated[list[TerminalName], Field(min_length=2, max_length=2, description=_BETWEEN)]


class Condition(Part):
    """When something is so. One key each; a name by itself is short for `is`."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)

    is_: Annotated[
        Name | None,
        Field(alias="is", description="While this input or moving part is on.", examples=["calling"]),
    ] = None
    not_: Annotated["Name | Condition | None", Field(alias="not", description="While this is not so.")] = None
    all_: Annotated[
        "list[Name | Condition] | None", Field(alias="all", description="While all of these are so.")
    ] = None
    any_: Annotated[
        "list[Name | Condition] | None", Field(alias="any", description="While any of these is so.")
    ] = None
    fed: Annotated[
        Name | None, Field(description="While this load has line on one side and neutral on the other.")
    ] = None
    live: Annotated[TerminalName | None, Field(description="While this terminal is joined to a line.")] = None
    back: Annotated[
        TerminalName | None, Field(description="While this terminal is joined to a neutral or an earth.")
    ] = None
    joined: Annotated[
        list[TerminalName] | None,
        Field(min_length=2, max_length=2, description="While these two terminals are joined to each other."),
    ] = None

    @model_validator(mode="after")
    def _one(self) -> Self:
        written = [name for name in Condition.model_fields if getattr(self, name) is not None]
        if len(written) != 1:
            raise unfit("wrong-condition", f"a condition has one key, found {len(written)}", _ONE_WAY)
        return self


While = Annotated[
    Name | Condition,
    Field(description="When it is so: the name of an input or moving part, or `not`, `all`, `any`, `fed`."),
]


class OwnTerminal(Part):
    """A place on the device where a conductor lands."""

    words: Annotated[Line, Field(description="What it is.")]
    role: Annotated[OwnRole, Field(description="What it is for, seen from the device.")]
    usual_core: Annotated[
        CoreName | None, Field(description="The colour usual there, where custom gives one.")
    ] = None
    needed: Annotated[
        bool, Field(description="False where the device can do its work with the terminal empty.")
    ] = True


class OwnInputPart(Part):
    """Something outside the wiring that is on or off: a thermostat, a channel, a lever."""

    words: Annotated[Line, Field(description="What it is.")]
    on: Annotated[Line, Field(description="What it is called while on.", examples=["calling for heat"])]
    off: Annotated[Line, Field(description="What it is called while off.", examples=["satisfied"])]
    kind: Annotated[OwnInput, Field(description="What moves it.")]
    normal: Annotated[
        bool | None,
        Field(
            description="How it stands unless somebody or something moves it. Left out: it is solved in every combination."
        ),
    ] = None
    calls: Annotated[
        bool, Field(description="True for a sensor that calls by design, whatever the zones want.")
    ] = False


class OwnContact(Part):
    """A contact between two terminals."""

    words: Annotated[Line, Field(description="What it is.")]
    between: Pair
    made: Annotated[While, Field(alias="while")]
    rated_a: Annotated[Number | None, Field(gt=0, le=100, description="Its rating in ampere.")] = None


class OwnLoadPart(Part):
    """A load between two terminals."""

    words: Annotated[Line, Field(description="What it is.")]
    between: Pair
    watts: Annotated[Number, Field(gt=0, le=25000, description="Its power in watt at 230 V.")]
    power_factor: Annotated[Number, Field(gt=0, le=1, description="Its power factor.")] = 1.0
    kind: Annotated[OwnLoad, Field(description="What it does with the power.")]


class OwnDriven(Part):
    """A part that moves by itself."""

    words: Annotated[Line, Field(description="What it is.")]
    on: Annotated[Line, Field(description="What it is called while on.", examples=["open"])]
    off: Annotated[Line, Field(description="What it is called while off.", examples=["shut"])]
    moves: Annotated[While, Field(alias="while")]
    on_s: Annotated[Number, Field(ge=0, le=3600, description="Seconds until it is on.")] = 0.0
    off_s: Annotated[Number, Field(ge=0, le=3600, description="Seconds until it is off again.")] = 0.0


class OwnSense(Part):
    """A volt-free input: the device feels whether two of its terminals are joined."""

    between: Pair
    volts: Annotated[Number, Field(gt=0, le=50, description="What it puts between them, in volt.")] = 24.0
    ohm: Annotated[Number, Field(gt=0, le=1e7, description="Its inner resistance in ohm.")] = 10_000.0


class OwnControl(Part):
    """Something on the device that a person can move or turn."""

    words: Annotated[Line, Field(description="What it is called.")]
    does: Annotated[Line, Field(description="What it does.")]
    moves: Annotated[Name, Field(description="The input it moves.")]


class OwnFact(Part):
    """One stated number or custom, with where it comes from."""

    words: Annotated[Line, Field(description="What is stated.")]
    value: Annotated[Line, Field(description="The number with its unit, or the custom.")]
    source: Annotated[
        Line,
        Field(
            description="Title and clause or table; or `common practice, no source`, or `from memory`. Never left out."
        ),
    ]


class KindFile(Part):
    """A kind of device of the firm's own: `kinds/NAME.yaml` beside the records."""

    format: Annotated[Literal[1], Field(description="Format version of the file.")]
    kind: Annotated[Name, Field(description="Name of the kind; the same as the file's name.")]
    words: Annotated[Line, Field(max_length=60, description="What pages call it.")]
    duty: Annotated[OwnDuty, Field(description="What it does in the system; rules go by it.")]
    about: Annotated[Text, Field(description="One or two sentences.")]
    protection: Annotated[
        Literal[1, 2] | None,
        Field(
            description="Class of protection: 1 needs an earth, 2 does not. Left out where it has no mains."
        ),
    ] = None
    terminals: Annotated[dict[TerminalName, OwnTerminal], Field(description="Its terminals.")] = {}
    inner: Annotated[
        list[TerminalName],
        Field(description="Points inside that contacts or loads share and no conductor reaches."),
    ] = []
    inputs: Annotated[dict[Name, OwnInputPart], Field(description="What moves it from outside.")] = {}
    contacts: Annotated[dict[Name, OwnContact], Field(description="Its contacts.")] = {}
    loads: Annotated[dict[Name, OwnLoadPart], Field(description="Its loads.")] = {}
    driven: Annotated[dict[Name, OwnDriven], Field(description="Its parts that move by themselves.")] = {}
    senses: Annotated[dict[Name, OwnSense], Field(description="Its volt-free inputs.")] = {}
    controls: Annotated[dict[Name, OwnControl], Field(description="What a person can move on it.")] = {}
    facts: Annotated[
        list[OwnFact], Field(min_length=1, description="Where its figures and customs come from.")
    ]
