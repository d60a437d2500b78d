"""Reads the water section of a record into circuits, pumps and sources of heat.

Names that do not exist become findings. Knows nothing of how water flows.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.circuit.model import WaterCircuit, WaterSide, WaterSource
from generator.circuit.names import Names, did_you_mean
from generator.record.places import Path

_COILS = ("cylinder coil", "thermal store", "heat exchanger")


def opening_part(names: Names, valve: str, pump: str, *, hot_water: bool) -> str:
    """The driven part that lets water through: of a valve, else of a pump of its own; empty without either.

    A three-port valve has one part for heating and one for hot water.
    """
    if not valve:
        return f"{pump}.running" if pump else ""
    parts = {part.name for part in names.devices[valve].parts.driven}
    port = f"{valve}.open-{'water' if hot_water else 'heating'}"
    return port if port in parts else f"{valve}.open"


def water_side(names: Names) -> WaterSide:
    """The water side of the record."""
    water = names.record.water
    if water.bypass not in ("none", "fixed", "in the boiler", "not seen"):
        names.fits(water.bypass, (Duty.BYPASS,), "bypass", ("water", "bypass"))
    return WaterSide(
        circuits=tuple(_circuits(names)),
        pump=water.pump,
        bypass=water.bypass,
        header=water.header,
        sources=tuple(_sources(names)),
    )


def _fitting(names: Names, written: str | None, duties: tuple[Duty, ...], wanted: str, path: Path) -> str:
    """The name where a device of the duty has it, else empty."""
    return written if written and names.fits(written, duties, wanted, path) else ""


def _circuits(names: Names) -> Iterator[WaterCircuit]:
    water = names.record.water
    for name, circuit in water.circuits.items():
        base: Path = ("water", "circuits", name)
        valve = _fitting(names, circuit.valve, (Duty.VALVE,), "motorised valve", (*base, "valve"))
        pump = _fitting(names, circuit.pump, (Duty.PUMP,), "pump", (*base, "pump"))
        source = circuit.source or ""
        if source and source not in water.sources and source not in names.lost:
            names.report(
                "unknown-heat-source",
                (*base, "source"),
                f"no source of heat is called `{source}`{did_you_mean(source, list(water.sources))}",
                "Name one of `water.sources`, or leave it out for the boiler.",
            )
            source = ""
        yield WaterCircuit(
            name=name,
            valve=valve,
            opens=opening_part(names, valve, pump, hot_water=circuit.feeds in _COILS),
            feeds=circuit.feeds,
            where=circuit.where or "",
            path=base,
            pump=pump,
            gravity=circuit.gravity,
            source=source,
            check_valve=circuit.check_valve,
            blending=circuit.blending,
        )


def _sources(names: Names) -> Iterator[WaterSource]:
    for name, source in names.record.water.sources.items():
        base: Path = ("water", "sources", name)
        device = ""
        if source.device and names.device(source.device, (*base, "device")):
            device = source.device
        yield WaterSource(
            name=name,
            of=source.of,
            device=device,
            pump=_fitting(names, source.pump, (Duty.PUMP,), "pump", (*base, "pump")),
        )
