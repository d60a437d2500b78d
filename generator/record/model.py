"""The record of one property, as pydantic models: what may be written and what each field means.

Knows the shape of a record only; whether the names in it exist and the wiring makes sense is decided later.
"""

from typing import Annotated, Any, Literal

from pydantic import Field

from generator.record.fields import Day, EndName, Line, Name, Number, Text, WholeNumber
from generator.record.short_model import Arrangement
from generator.record.water_model import Water
from generator.record.wiring import Cable, Part, RoleOfPerson, Sure, Wiring

FORMAT = 1


class Address(Part):
    """Where the property is."""

    lines: Annotated[
        list[Line],
        Field(
            min_length=1,
            max_length=4,
            description="House and street, one line each. The tenant's page shows them, and nothing else of the address.",
            examples=[["4 Kiln Row"]],
        ),
    ]
    town: Annotated[Line, Field(description="Town or village.")]
    postcode: Annotated[Line | None, Field(description="Postcode.")] = None


class Dwelling(Part):
    """The building, as far as rules depend on it."""

    storeys: Annotated[WholeNumber, Field(ge=1, le=50, description="How many storeys the dwelling has.")]
    floor_area_m2: Annotated[Number, Field(gt=0, le=5000, description="Floor area in square metre.")]
    year: Annotated[WholeNumber | None, Field(ge=1500, le=2100, description="Year it was built.")] = None
    status: Annotated[
        Literal["new", "existing"], Field(description="new: still under the rules for new dwellings.")
    ] = "existing"


class Property(Part):
    """Which property this is."""

    reference: Annotated[
        Text,
        Field(
            pattern=r"^[A-Za-z0-9][A-Za-z0-9-]{0,39}$",
            description="The firm's reference; the same as the file's name without `.yaml`.",
            examples=["EB-0012"],
        ),
    ]
    uprn: Annotated[
        Text | None,
        Field(description="Unique property reference number: up to 12 digits.", examples=["100012345678"]),
    ] = None
    address: Annotated[Address, Field(description="Where it is.")]
    nation: Annotated[
        Literal["england", "wales", "scotland", "northern ireland"],
        Field(description="Cautions, rules and emergency numbers follow it."),
    ]
    fuel: Annotated[
        Literal["gas", "lpg", "oil", "electricity", "solid fuel", "heat network"],
        Field(
            description="What the boiler burns. heat network: heat comes from the building's main, and nothing is burnt."
        ),
    ]
    dwelling: Annotated[Dwelling, Field(description="The building.")]
    language: Annotated[
        Text | None,
        Field(
            pattern=r"^[a-z]{2,3}(-[A-Za-z0-9]{1,8})*$",
            description="Language of the tenant's page and the label, as a language tag; left out: the firm's.",
            examples=["cy"],
        ),
    ] = None


class Device(Part):
    """One device in the house. Its kind comes from the catalogue; see *Kinds of device*."""

    kind: Annotated[Name, Field(description="A kind from the catalogue.", examples=["two-port-valve"])]
    name: Annotated[
        Line | None,
        Field(
            max_length=60,
            description="What pages call it. Left out: made from the device's key, `hall-valve` -> Hall valve. The tenant's "
            "page shows it where a step moves the device.",
        ),
    ] = None
    place: Annotated[
        Line | None,
        Field(
            description="Where in the house it is, as anybody would say it. The tenant's page shows it where a step moves "
            "the device, and the label for the switch of the heating: never write a code or a name here.",
            examples=["airing cupboard, left of the cylinder"],
        ),
    ] = None
    reach: Annotated[
        Literal["tenant", "engineer"],
        Field(
            description="Who can reach it safely, without a ladder, a loft, a cover or a hot pipe in the way. Only what a "
            "tenant can reach is ever moved by a step on the tenant's page."
        ),
    ] = "engineer"
    bath_zone: Annotated[
        Literal["zone 0", "zone 1", "zone 2", "outside"] | None,
        Field(
            description="Where it is in a room with a bath or shower. zone 0: in the bath or tray. zone 1: above it, up to "
            "2.25 m. zone 2: up to 0.6 m beside that. Left out: in no such room, or not known."
        ),
    ] = None
    part: Annotated[
        Line | None, Field(description="The firm's own stock number for the part, if it has one.")
    ] = None
    fitted: Annotated[Day | None, Field(description="The day it was fitted.")] = None
    special: Annotated[
        Text | None, Field(description="What is special about it, shown first on the page.")
    ] = None
    sure: Annotated[
        Sure | None,
        Field(
            description="How sure we are of this device, where other than the record. It makes nobody surer of its "
            "conductors, only less sure: for those, say so at the cable."
        ),
    ] = None
    settings: Annotated[
        dict[str, Any] | None, Field(description="Settings of its kind; see *Kinds of device*.")
    ] = None


class Zone(Part):
    """What is intended: which controls are meant to serve which part of the house. The wiring is held against it."""

    name: Annotated[
        Line | None,
        Field(
            max_length=60,
            description="What pages call it, the tenant's page too: as the tenant would. Left out: made from the key.",
        ),
    ] = None
    serves: Annotated[Literal["heating", "hot water"], Field(description="What the zone is for.")]
    channel: Annotated[
        EndName | None,
        Field(
            description="The timer channel meant for it: `device.number`. Left out where its thermostat has a clock.",
            examples=["programmer.1"],
        ),
    ] = None
    thermostat: Annotated[Name | None, Field(description="The thermostat meant for it.")] = None
    valve: Annotated[Name | None, Field(description="The valve meant for it.")] = None
    pump: Annotated[
        Name | None,
        Field(description="The pump meant for it alone, where a zone pump stands in the place of a valve."),
    ] = None


class Visit(Part):
    """What was found and changed on a day."""

    on: Annotated[Day, Field(description="The day.")]
    by: Annotated[RoleOfPerson, Field(description="The role of who came. Never a name.")]
    found: Annotated[Text, Field(description="What was found.")]
    changed: Annotated[Text | None, Field(description="What was changed.")] = None


class Photo(Part):
    """A picture kept with the record, in a folder beside it."""

    file: Annotated[
        str,
        Field(
            pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]*(/[A-Za-z0-9][A-Za-z0-9_-]*)*\.(png|jpg|jpeg|webp|svg)$",
            max_length=200,
            description="Path beside the record; letters, digits, - and _ only.",
            examples=["photos/EB-0012-centre.svg"],
        ),
    ]
    caption: Annotated[Line, Field(description="What the reader should look at.")]
    shows: Annotated[Name | None, Field(description="The device it shows.")] = None
    on: Annotated[Day | None, Field(description="When it was taken.")] = None


class Accepted(Part):
    """A finding that the firm has looked at and accepts. Never for danger."""

    rule: Annotated[Name, Field(description="Name of the rule.")]
    at: Annotated[
        Line | None,
        Field(
            description="What the finding is about: the key of a device or zone, a terminal as in `pump.L`, a core as in "
            "`hall-valve BN` with its cable first. A device stands for its terminals too. Left out: anywhere in the record.",
            examples=["hall-valve"],
        ),
    ] = None
    reason: Annotated[Text, Field(min_length=10, description="Why it is accepted.")]
    on: Annotated[Day, Field(description="The day it was accepted.")]
    by: Annotated[RoleOfPerson, Field(description="Whose role it was to accept it.")]


class Sections(Part):
    """What a house type and a record have in common."""

    arrangement: Annotated[Arrangement | None, Field(description="The short way.")] = None
    devices: Annotated[
        dict[Name, Device], Field(description="Every device, by a short name of your own.")
    ] = {}
    cables: Annotated[
        dict[Name, Cable], Field(description="Cables whose cores, size or length are known.")
    ] = {}
    wiring: Annotated[Wiring, Field(description="The wiring as found.")] = Wiring()
    zones: Annotated[dict[Name, Zone], Field(description="The zones and the controls meant for each.")] = {}
    water: Annotated[Water, Field(description="The water side.")] = Water()


class HouseTypeHead(Part):
    """What begins the file of a house type."""

    format: Annotated[Literal[1], Field(description="Format version of the file.")]
    house_type: Annotated[Name, Field(description="Name of the type; the same as the file's name.")]
    about: Annotated[Text, Field(description="Which houses these are.")]


class HouseType(Sections, HouseTypeHead):
    """A type that many houses are built to: `house-types/NAME.yaml` beside the records."""


class RecordHead(Part):
    """What begins the file of a record."""

    format: Annotated[Literal[1], Field(description="Format version of the file.")]
    property: Annotated[Property, Field(description="Which property this is.")]
    house_type: Annotated[
        Name | None,
        Field(description="The house type it is built as; the record then states only what differs."),
    ] = None
    sure: Annotated[Sure, Field(description="How sure we are of all that does not say otherwise.")]


class Record(Sections, RecordHead):
    """The record of one property: `REFERENCE.yaml`."""

    visits: Annotated[list[Visit], Field(description="Visits, oldest first.")] = []
    photos: Annotated[list[Photo], Field(description="Pictures.")] = []
    accepted: Annotated[list[Accepted], Field(description="Findings accepted with a reason.")] = []
    notes: Annotated[Text | None, Field(description="Anything else an engineer should know.")] = None
