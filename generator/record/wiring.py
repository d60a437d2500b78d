"""The wiring part of a record as pydantic models: cables, conductors, links, and how sure we are.

Knows the shape of what is written only; whether names exist and wiring makes sense is decided later.
"""

from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, model_validator

from generator.record.fields import (
    CoreName,
    Day,
    EndName,
    Name,
    Number,
    TerminalName,
    all_unfit,
    unfit,
)


class Part(BaseModel):
    """Base of every part of a record: strict, frozen, unknown keys refused."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", defer_build=True)


RoleOfPerson = Literal[
    "heating engineer", "gas engineer", "electrician", "apprentice", "surveyor", "record keeper", "tenant"
]
SureHow = Literal["tested", "seen", "assumed"]


class Sure(Part):
    """How sure we are of a part of the wiring, since when, and by whose eyes (a role, never a name)."""

    how: Annotated[
        SureHow,
        Field(
            description="tested: proved with an instrument. seen: looked at. assumed: neither; marked as "
            "assumed on every page that uses it."
        ),
    ]
    on: Annotated[Day, Field(description="The day it was tested, seen or assumed.", examples=["2026-03-14"])]
    by: Annotated[RoleOfPerson, Field(description="The role of who did it. Never a name.")]


_SIZES_MM2 = (0.5, 0.75, 1.0, 1.25, 1.5, 2.5, 4.0)


def _known_size(size_mm2: float | None) -> float | None:
    if size_mm2 is not None and size_mm2 not in _SIZES_MM2:
        sizes = ", ".join(f"{size:g}" for size in _SIZES_MM2)
        raise ValueError(f"{size_mm2:g} mm2 is not a size of such cables; the sizes are {sizes}")
    return size_mm2


def _cores_told_apart(cores: list[str] | None) -> list[str] | None:
    twice = []
    for index, core in enumerate(cores or []):
        if core in (cores or [])[:index]:
            colour = core.rstrip("0123456789")
            fix = f"take it out; or, where several are of that colour, number them: `{colour}1`, `{colour}2`"
            twice.append(unfit("core-written-twice", f"the core `{core}` is listed twice", fix, at=(index,)))
    if twice:
        raise all_unfit(twice)
    return cores


class Cable(Part):
    """A cable or flexible cord with its cores. Only needed where its cores or size are to be recorded."""

    cores: Annotated[
        list[CoreName] | None,
        AfterValidator(_cores_told_apart),
        Field(
            description="Every core it has by IEC 60757 code; cores alike take a number, as in BK1 BK2.",
            examples=[["BN", "BU", "GNYE", "GY", "OG"]],
        ),
    ] = None
    size_mm2: Annotated[
        Number | None,
        AfterValidator(_known_size),
        Field(
            description="Cross-section of a core in mm2: 0.5, 0.75, 1, 1.25, 1.5, 2.5 or 4.", examples=[0.75]
        ),
    ] = None
    length_m: Annotated[Number | None, Field(gt=0, le=500, description="Length in metre.")] = None
    type: Annotated[
        Literal[
            "flexible cord",
            "heat-resisting cord",
            "flat cable",
            "armoured cable",
            "conduit singles",
            "unknown",
        ],
        Field(description="What sort of cable it is."),
    ] = "unknown"
    numbered: Annotated[
        bool, Field(description="True where cores of one colour carry printed numbers that tell them apart.")
    ] = False
    sure: Annotated[
        Sure | None, Field(description="How sure we are of this cable, where other than the record.")
    ] = None


class Landing(Part):
    """One conductor that lands in a terminal of a wiring centre."""

    to: Annotated[
        EndName,
        Field(
            description="Where its other end is: `device.terminal`, or `centre.terminal` of another centre.",
            examples=["hall-valve.motor"],
        ),
    ]
    core: Annotated[CoreName, Field(description="Colour of the core by IEC 60757 code.", examples=["BN"])]
    cable: Annotated[
        Name | None,
        Field(description="Which cable the core is of. Left out: the cable named after the device in `to`."),
    ] = None
    sleeve: Annotated[
        CoreName | None, Field(description="Colour of the sleeving over its ends, if any.", examples=["BN"])
    ] = None
    sure: Annotated[
        Sure | None, Field(description="How sure we are of this conductor, where other than its cable.")
    ] = None


class Direct(Part):
    """A conductor between two devices that passes no wiring centre, or between two centres."""

    ends: Annotated[
        list[EndName],
        Field(min_length=2, max_length=2, description="Its two ends.", examples=[["boiler.pump", "pump.L"]]),
    ]
    core: Annotated[CoreName, Field(description="Colour of the core by IEC 60757 code.")]
    cable: Annotated[
        Name | None, Field(description="Which cable. Left out: the cable named after the first end's device.")
    ] = None
    sleeve: Annotated[CoreName | None, Field(description="Colour of the sleeving over its ends, if any.")] = (
        None
    )
    sure: Annotated[Sure | None, Field(description="How sure we are of this conductor.")] = None


class Link(Part):
    """A short wire link or bar that joins terminals of one box or one device."""

    ends: Annotated[
        list[EndName],
        Field(
            min_length=2,
            max_length=40,
            description="All the terminals that it joins.",
            examples=[["centre.A", "centre.B"]],
        ),
    ]
    sure: Annotated[Sure | None, Field(description="How sure we are of this link.")] = None


class Spare(Part):
    """A core that is landed nowhere at one end or both, on purpose."""

    cable: Annotated[Name, Field(description="Which cable.")]
    core: Annotated[CoreName, Field(description="Which core.")]
    how: Annotated[
        Literal["in a connector", "folded back and insulated", "cut off", "bare", "not seen"],
        Field(description="How its end is left."),
    ]


class Removed(Part):
    """A conductor or link of the house type or the short way that is not there in this house."""

    cable: Annotated[Name | None, Field(description="With `core`: the conductor that is not there.")] = None
    core: Annotated[CoreName | None, Field(description="With `cable`: the conductor that is not there.")] = (
        None
    )
    link: Annotated[
        list[EndName] | None, Field(description="The terminals of the link that is not there.")
    ] = None

    @model_validator(mode="after")
    def _one_thing(self) -> Self:
        """Anything else would be passed over in silence: it names nothing, or two things at once."""
        core = (self.cable is not None) + (self.core is not None)
        if (core == 2 and self.link is None) or (core == 0 and self.link):
            return self
        if core and self.link is not None:
            message = "this names a core and a link at once"
        elif core:
            given, missing = ("cable", "core") if self.core is None else ("core", "cable")
            message = f"this has `{given}` without `{missing}`, so nothing is taken away"
        else:
            message = "this names nothing that is taken away"
        raise unfit(
            "removes-nothing",
            message,
            "write `cable` and `core` of one conductor, or `link` with the ends of one link",
        )


class Wiring(Part):
    """The wiring as found. A core is in one place only: stating it again moves an inherited one."""

    centres: Annotated[
        dict[Name, dict[TerminalName, list[Landing]]],
        Field(
            description="For each wiring centre, for each of its terminals, the conductors that land there."
        ),
    ] = {}
    direct: Annotated[list[Direct], Field(description="Conductors that pass no centre.")] = []
    links: Annotated[list[Link], Field(description="Links between terminals.")] = []
    spare: Annotated[list[Spare], Field(description="Cores landed nowhere.")] = []
    removed: Annotated[list[Removed], Field(description="What was inherited and is not there.")] = []
