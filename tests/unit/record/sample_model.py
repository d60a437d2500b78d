"""A small strict model with every shape a record's model may have, and a good document for it."""

from enum import StrEnum
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, model_validator

from generator.findings.finding import Finding
from generator.record.fields import (
    Choice,
    CoreName,
    Day,
    EndName,
    Items,
    Line,
    Name,
    Number,
    TerminalName,
    Text,
    WholeNumber,
    unfit,
)
from generator.record.problems import validate
from generator.record.yaml12 import load


class Part(BaseModel):
    model_config = ConfigDict(strict=True, frozen=True, extra="forbid")


class Reach(StrEnum):
    """Who can reach a part."""

    TENANT = "tenant"
    ENGINEER = "engineer"


class Spring(Part):
    """A valve closed by a spring."""

    kind: Literal["spring"]
    turns: WholeNumber


class Motor(Part):
    """A valve moved by a motor both ways."""

    kind: Literal["motor"]
    seconds: Number


class Centre(Part):
    """A wiring centre."""

    terminals: Annotated[
        dict[TerminalName, list[EndName]], Field(description="What lands in each of its terminals.")
    ]
    place: Annotated[Line, Field(max_length=20, description="Where it is.", examples=["loft"])]
    core: CoreName = "BN"


class House(Part):
    """A house."""

    reference: Annotated[
        Text, Field(pattern=r"^[A-Z]+-[0-9]+$", description="The firm's reference.", examples=["EB-0012"])
    ]
    storeys: Annotated[WholeNumber, Field(ge=1, le=50, description="How many storeys it has.")]
    area_m2: Annotated[Number | None, Field(gt=0, description="Floor area.")] = None
    new: bool = False
    nation: Literal["england", "wales"] = "england"
    reach: Choice[Reach] = Reach.ENGINEER
    phases: Literal[1, 3] | None = None
    fitted: Day | None = None
    names: Items[Name] = ()
    lines: Annotated[list[Line], Field(min_length=1, max_length=2)] = ["x"]  # pydantic copies it
    bypass: Name | Literal["none", "not seen"] = "none"
    valve: Annotated[Spring | Motor | None, Field(discriminator="kind")] = None
    plant: Spring | Motor | Line | None = None
    springs: list[Spring] = []  # pydantic copies it
    centres: dict[Name, Centre] = {}  # pydantic copies it
    settings: dict[str, Any] | None = None

    @model_validator(mode="after")
    def _bypass_is_named(self) -> Self:
        if self.bypass == "nobody":
            raise unfit("no-such-bypass", "there is no bypass `nobody`", "name one", at=("bypass",))
        if self.storeys == 13:
            raise ValueError("thirteen storeys are unlucky")
        return self


GOOD = """\
reference: EB-0012
storeys: 2
area_m2: 81.5
new: true
nation: wales
reach: tenant
phases: 3
fitted: 2020-02-29
names: [a, 0012]
lines: [4 Kiln Row]
bypass: not seen
valve: {kind: spring, turns: 3}
plant: {kind: motor, seconds: 12}
springs:
  - kind: spring
    turns: 1
  - {kind: spring, turns: 2}
centres:
  hall:
    terminals:
      A: [pump.L, boiler.1]
      010: []
    place: loft
    core: bnwh
  loft:
    terminals: {}
    place: 12
settings: {NO: off}
"""


def findings_of(source: str) -> list[Finding]:
    """Everything wrong with a house, from reading and from checking it."""
    document, findings = load(source.encode(), "a.yaml")
    assert document is not None
    house, problems = validate(House, document.data, document.places)
    assert (house is None) == bool(problems) or findings
    return [*findings, *problems]


def changed(old: str, new: str) -> str:
    """The good document with one thing in it changed."""
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)
