"""The section `arrangement` of a record, as pydantic models: an arrangement's name, its zones and its options.

Says which options fit which arrangement. Knows nothing of what an arrangement expands to.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from generator.record.fields import Line, Name, WholeNumber, all_unfit, unfit
from generator.record.places import Path
from generator.record.wiring import Part

ArrangementName = Literal[
    "two-port",
    "mid-position",
    "diverter",
    "gravity-hot-water",
    "gravity-hot-water-with-valve",
    "combination",
    "underfloor",
    "underfloor-and-radiators",
    "header-with-zone-pumps",
    "thermal-store",
]


class ShortZone(Part):
    """A zone of the short way."""

    serves: Annotated[Literal["heating", "hot water"], Field(description="What the zone is for.")]
    name: Annotated[Line | None, Field(max_length=60, description="What pages call it.")] = None
    thermostat: Annotated[
        Literal["room-thermostat", "programmable-room-thermostat", "wireless-receiver", "cylinder-thermostat"]
        | None,
        Field(
            description="Kind of its thermostat. Left out: room-thermostat, or cylinder-thermostat for hot water."
        ),
    ] = None
    where: Annotated[Line | None, Field(description="Which part of the house its water circuit feeds.")] = (
        None
    )
    emitter: Annotated[
        Literal["radiators", "underfloor"] | None,
        Field(description="What a heating zone feeds, in `underfloor-and-radiators`. Left out: radiators."),
    ] = None
    loops: Annotated[
        WholeNumber,
        Field(ge=1, le=8, description="How many loops of an underfloor zone have an actuator each."),
    ] = 1


@dataclass(frozen=True, slots=True)
class _Fit:
    """What fits an arrangement: options that may be written, and how many zones of each service."""

    options: frozenset[str]
    heating: tuple[int, int]
    water: tuple[int, int]
    boilers: tuple[str, ...] = ("switched live only", "permanent and switched live", "overrun")
    unvented: bool = True
    floor: bool = False


_Misfit = tuple[Path, str, str]
"""Something that does not fit: where below the section, which of several matters there it is about, and the words."""

_ALL = 16
_THREE_PORT = frozenset({"timer", "boiler", "bypass", "cylinder"})
_GRAVITY = frozenset({"timer", "boiler", "cylinder"})
_VALVES = _THREE_PORT | {"fed_core"}
_NO_OVERRUN = ("switched live only", "permanent and switched live")
_FITS: dict[str, _Fit] = {
    "two-port": _Fit(_VALVES, (0, _ALL), (0, _ALL)),
    "mid-position": _Fit(_THREE_PORT, (1, 1), (1, 1)),
    "diverter": _Fit(_VALVES, (1, 1), (1, 1)),
    "gravity-hot-water": _Fit(_GRAVITY, (1, 1), (1, 1), _NO_OVERRUN, unvented=False),
    "gravity-hot-water-with-valve": _Fit(_GRAVITY, (1, 1), (1, 1), _NO_OVERRUN, unvented=False),
    "combination": _Fit(
        frozenset({"timer", "fed_core", "boiler", "call"}),
        (1, _ALL),
        (0, 0),
        ("permanent and switched live", "overrun"),
    ),
    "underfloor": _Fit(_VALVES | {"call"}, (1, 12), (0, 4), floor=True),
    "underfloor-and-radiators": _Fit(_VALVES | {"call"}, (2, _ALL), (0, 4), floor=True),
    "header-with-zone-pumps": _Fit(
        frozenset({"timer", "boiler", "call", "cylinder", "fed_core"}), (0, _ALL), (0, 4)
    ),
    "thermal-store": _Fit(frozenset({"timer", "boiler"}), (1, _ALL), (1, 1)),
}


class Arrangement(Part):
    """The short way: an arrangement by name, expanded to devices, cables, wiring, zones and water circuits.

    Everything it gives can be overridden below, device by device and conductor by conductor.
    """

    name: Annotated[
        ArrangementName,
        Field(
            description="two-port: one two-port valve a zone. mid-position, diverter: one three-port valve for heating "
            "and hot water. gravity-hot-water: the pump serves heating alone and nothing shuts the cylinder; "
            "gravity-hot-water-with-valve: a 28 mm valve with a change-over end switch shuts it. combination: a boiler "
            "that makes its own hot water, one two-port valve a zone. underfloor: a zone controller and actuators; "
            "underfloor-and-radiators: two-port valves besides. header-with-zone-pumps: a low-loss header and a pump and "
            "a relay a zone. thermal-store: the boiler heats a store, and each heating zone has a pump that draws from it.",
            examples=["mid-position"],
        ),
    ]
    zones: Annotated[
        dict[Name, ShortZone],
        Field(
            min_length=1,
            max_length=16,
            description="The zones in order.",
            examples=[{"heating": {"serves": "heating"}, "hot-water": {"serves": "hot water"}}],
        ),
    ]
    timer: Annotated[
        Literal["programmer", "time-switch"],
        Field(description="Kind of timer for zones whose thermostat has no clock."),
    ] = "programmer"
    fed_core: Annotated[
        Literal["GY", "OG"], Field(description="Which side of the end switches takes the permanent live.")
    ] = "GY"
    boiler: Annotated[
        Literal["switched live only", "permanent and switched live", "overrun"],
        Field(
            description="How the boiler is wired; `overrun` puts the pump on the boiler's own output, or inside a "
            "combination boiler."
        ),
    ] = "permanent and switched live"
    call: Annotated[
        Literal["switched live", "volt-free"],
        Field(
            description="How the boiler is called. volt-free: by the contact of a relay, or of the zone controller, "
            "that carries no mains."
        ),
    ] = "switched live"
    bypass: Annotated[bool, Field(description="Whether there is an automatic bypass.")] = True
    cylinder: Annotated[
        Literal["vented", "unvented"] | None,
        Field(
            description="The cylinder, for a hot water zone. Unvented: `cut_out` has to be written too, and a two-port valve "
            "stands in series with a three-port one."
        ),
    ] = None
    cut_out: Annotated[
        Literal["wired", "none"] | None,
        Field(
            description="Of an unvented cylinder. wired: its energy cut-out is in the line of the cylinder's valve, so that "
            "the valve shuts. none: it is not; write below what is there."
        ),
    ] = None

    @model_validator(mode="after")
    def _all_fits(self) -> Self:
        """Everything that does not fit, each at its own place; of what stands at one place the first."""
        said: dict[tuple[Path, str], PydanticCustomError] = {}
        for at, about, words in self._misfits():
            said.setdefault((at, about), unfit("wrong-value", words, at=at))
        if said:
            raise all_unfit(said.values())
        return self

    def _misfits(self) -> Iterator[_Misfit]:
        yield from self._options()
        heating = [zone for zone in self.zones.values() if zone.serves == "heating"]
        water = [zone for zone in self.zones.values() if zone.serves == "hot water"]
        fit = _FITS[self.name]
        counts = [
            *self._counts("heating", len(heating), fit.heating),
            *self._counts("hot water", len(water), fit.water),
        ]
        yield from counts
        if self.cylinder and not water and "cylinder" in fit.options:
            yield ("cylinder",), "zone", "`cylinder` is for a hot water zone, and there is none"
        yield from self._zones()
        floors = sum(zone.emitter == "underfloor" for zone in heating)
        if self.name == "underfloor-and-radiators" and not counts:
            if floors in (0, len(heating)):
                words = "needs a zone with `emitter: underfloor` and a heating zone without"
                yield ("zones",), "", f"`underfloor-and-radiators` {words}"
            if floors > 12:
                yield ("zones",), "", "a zone controller takes 12 zones"

    def _options(self) -> Iterator[_Misfit]:
        fit = _FITS[self.name]
        fitting = fit.options | {"name", "zones"}
        if "cylinder" in fit.options:
            fitting |= {"cut_out"}
        if self.call == "switched live":
            fitting |= {"call"}  # so it is in every arrangement
        for option in sorted(self.model_fields_set - fitting):
            yield (option,), "", f"`{option}` is no option of `{self.name}`: leave it out"
        if self.boiler not in fit.boilers:
            words = f"`boiler: {self.boiler}` does not fit `{self.name}`: write {_either(fit.boilers)}"
            yield ("boiler",), "", words
        if self.call == "volt-free" and self.boiler == "switched live only":
            words = "`call: volt-free` needs a boiler with a permanent live: nothing else feeds it"
            yield ("call",), "", words
        if self.cylinder == "unvented" and not fit.unvented:
            words = (
                f"an unvented cylinder does not fit `{self.name}`: nothing there shuts off its heat by itself"
            )
            yield ("cylinder",), "", words
        if self.cylinder == "unvented" and self.cut_out is None:
            words = (
                "`cylinder: unvented` needs `cut_out`: write `wired` where somebody has seen its energy cut-out in the line of "
                "the cylinder's valve, and else `none`"
            )
            yield ("cylinder",), "", words
        if self.cut_out is not None and self.cylinder != "unvented":
            yield ("cut_out",), "", "`cut_out` is that of an unvented cylinder, and there is none"

    def _counts(self, service: str, count: int, fits: tuple[int, int]) -> Iterator[_Misfit]:
        least, most = fits
        if least <= count <= most:
            return
        wanted = str(least) if least == most else f"{least} to {most}"
        why = ": a combination boiler heats it itself" if self.name == "combination" and count else ""
        zones = "zone" if wanted == "1" else "zones"
        words = f"`{self.name}` takes {wanted} {zones} with `serves: {service}`, and there are {count}{why}"
        yield ("zones",), service, words

    def _zones(self) -> Iterator[_Misfit]:
        fit = _FITS[self.name]
        for name, zone in self.zones.items():
            water = zone.serves == "hot water"
            emitter, loops, thermostat = (("zones", name, key) for key in ("emitter", "loops", "thermostat"))
            if zone.emitter and (water or not fit.floor):
                words = "`emitter` is for a heating zone of an arrangement with underfloor heating"
                yield emitter, "", f"zone `{name}`: {words}"
            if self.name == "underfloor" and zone.emitter == "radiators":
                words = "radiators besides the floor are `underfloor-and-radiators`"
                yield emitter, "", f"zone `{name}`: {words}"
            if "loops" in zone.model_fields_set and not self.floor(zone):
                yield loops, "", f"zone `{name}`: `loops` is for underfloor heating"
            if zone.thermostat is None:
                continue
            if water and zone.thermostat != "cylinder-thermostat":
                if self.name in ("mid-position", "diverter"):
                    words = f"`{self.name}` needs a change-over thermostat on the cylinder: leave `thermostat` out"
                    yield thermostat, "", f"zone `{name}`: {words}"
            elif not water and zone.thermostat == "cylinder-thermostat":
                yield thermostat, "", f"zone `{name}`: a cylinder thermostat does not feel a room"
            if water and self.name == "gravity-hot-water":
                words = "nothing shuts the cylinder in `gravity-hot-water`, so it has no thermostat"
                yield thermostat, "", f"zone `{name}`: {words}"

    def floor(self, zone: ShortZone) -> bool:
        """Whether a zone of this arrangement is underfloor heating."""
        if zone.serves != "heating":
            return False
        return self.name == "underfloor" or zone.emitter == "underfloor"


def _either(words: tuple[str, ...]) -> str:
    return " or ".join(f"`{word}`" for word in words)
