"""Builds the circuit of a house from its checked record and the settings of its devices.

Names that do not exist become findings, all of them; what names them is left out of the circuit.
Nothing here looks at a house type or at the short way: only at conductors and devices.
"""

from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Any, Is, renamed
from generator.catalogue.parts import DeviceParts
from generator.circuit.buses import with_buses
from generator.circuit.conductors import Conductors, certainty
from generator.circuit.model import (
    CableFacts,
    Circuit,
    PlacedDevice,
    SpareCore,
    TerminalPlace,
    ZoneIntent,
)
from generator.circuit.names import Names
from generator.circuit.water_side import opening_part, water_side
from generator.findings.finding import Finding
from generator.record.model import Record
from generator.record.places import Path, Places


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltCircuit:
    """A circuit and what was wrong with the names in its record."""

    circuit: Circuit
    findings: tuple[Finding, ...]


def words_from_key(key: str) -> str:
    """``hall-valve`` -> ``Hall valve``."""
    text = key.replace("-", " ")
    return text[:1].upper() + text[1:]


def _placed(
    record: Record, kinds: Mapping[str, Kind], settings: Mapping[str, Settings]
) -> Iterator[PlacedDevice]:
    for name, written in record.devices.items():
        kind, checked = kinds.get(name), settings.get(name)
        if kind is None or checked is None:
            continue
        yield PlacedDevice(
            name=name,
            words=written.name or words_from_key(name),
            kind=kind,
            settings=checked,
            parts=_whole(name, kind.parts(checked)),
            place=written.place or "",
            reach=written.reach,
            special=written.special or "",
            certainty=certainty(written.sure or record.sure),
            path=("devices", name),
        )


def _whole(device: str, parts: DeviceParts) -> DeviceParts:
    """The parts of a device with whole names."""

    def name(short: str) -> str:
        return f"{device}.{short}"

    return replace(
        parts,
        inner=tuple(name(point) for point in parts.inner),
        inputs=tuple(replace(item, name=name(item.name)) for item in parts.inputs),
        contacts=tuple(
            replace(item, name=name(item.name), a=name(item.a), b=name(item.b), when=renamed(item.when, name))
            for item in parts.contacts
        ),
        loads=tuple(
            replace(item, name=name(item.name), a=name(item.a), b=name(item.b)) for item in parts.loads
        ),
        driven=tuple(
            replace(item, name=name(item.name), when=renamed(item.when, name)) for item in parts.driven
        ),
        supplies=tuple(
            replace(
                item,
                name=name(item.name),
                line=name(item.line),
                neutral=name(item.neutral),
                earth=name(item.earth),
            )
            for item in parts.supplies
        ),
        diodes=tuple(
            replace(
                item,
                name=name(item.name),
                anode=name(item.anode),
                cathode=name(item.cathode),
                when=renamed(item.when, name),
            )
            for item in parts.diodes
        ),
        senses=tuple(
            replace(item, name=name(item.name), a=name(item.a), b=name(item.b)) for item in parts.senses
        ),
        buses=tuple(
            replace(
                item,
                name=name(item.name),
                a=name(item.a),
                b=name(item.b),
                tells=None if item.tells is None else renamed(item.tells, name),
                hears=name(item.hears) if item.hears else "",
            )
            for item in parts.buses
        ),
        controls=tuple(replace(item, input=name(item.input)) for item in parts.controls),
    )


def build_circuit(
    record: Record,
    kinds: Mapping[str, Kind],
    settings: Mapping[str, Settings],
    places: Places,
    *,
    lost: Container[str] = (),
) -> BuiltCircuit:
    """The circuit of the record.

    Args:
        record: the checked record, house type and short way already applied.
        kinds: the kind of each device by the device's name; devices of unknown kind are missing.
        settings: checked settings of each device by its name; devices with wrong settings are missing.
        places: where each value of the record was written.
        lost: names of parts that could not be read; nothing is said where they are missing.
    """
    placed = tuple(_placed(record, kinds, settings))
    parts = with_buses({device.name: device.parts for device in placed})
    devices = tuple(replace(device, parts=parts[device.name]) for device in placed)
    names = Names(record, places, {device.name: device for device in devices}, lost=lost)
    conductors = Conductors(names).all()
    for index, photo in enumerate(record.photos):
        if photo.shows:
            names.device(photo.shows, ("photos", index, "shows"))
    return BuiltCircuit(
        circuit=Circuit(
            devices=devices,
            terminals=tuple(_terminals(devices)),
            inner=tuple(point for device in devices for point in device.parts.inner),
            conductors=conductors,
            spare=tuple(
                SpareCore(cable=item.cable, core=item.core, how=item.how, path=("wiring", "spare", index))
                for index, item in enumerate(record.wiring.spare)
            ),
            cables=tuple(_cables(record)),
            inputs=tuple(item for device in devices for item in device.parts.inputs),
            contacts=tuple(item for device in devices for item in device.parts.contacts),
            loads=tuple(item for device in devices for item in device.parts.loads),
            driven=tuple(item for device in devices for item in device.parts.driven),
            supplies=tuple(item for device in devices for item in device.parts.supplies),
            diodes=tuple(item for device in devices for item in device.parts.diodes),
            senses=tuple(item for device in devices for item in device.parts.senses),
            zones=tuple(_zones(names)),
            water=water_side(names),
        ),
        findings=tuple(names.findings),
    )


def _terminals(devices: tuple[PlacedDevice, ...]) -> Iterator[TerminalPlace]:
    for device in devices:
        for terminal in device.parts.terminals:
            yield TerminalPlace(ref=f"{device.name}.{terminal.name}", device=device, terminal=terminal)


def _cables(record: Record) -> Iterator[CableFacts]:
    for name, cable in record.cables.items():
        yield CableFacts(
            name=name,
            cores=None if cable.cores is None else tuple(cable.cores),
            size_mm2=cable.size_mm2,
            length_m=cable.length_m,
            type=cable.type,
            numbered=cable.numbered,
            path=("cables", name),
        )


_ZONE_PARTS: tuple[tuple[str, tuple[Duty, ...], str], ...] = (
    ("thermostat", (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT), "thermostat"),
    ("valve", (Duty.VALVE,), "motorised valve"),
    ("pump", (Duty.PUMP,), "pump"),
)


def _zones(names: Names) -> Iterator[ZoneIntent]:
    for name, zone in names.record.zones.items():
        base: Path = ("zones", name)
        channel = _channel(names, zone.channel, (*base, "channel")) if zone.channel else ""
        found = {"thermostat": "", "valve": "", "pump": ""}
        for part, duties, wanted in _ZONE_PARTS:
            written = getattr(zone, part)
            if written and names.fits(written, duties, wanted, (*base, part)):
                found[part] = written
        yield ZoneIntent(
            name=name,
            words=zone.name or words_from_key(name),
            serves=zone.serves,
            channel=channel,
            thermostat=found["thermostat"],
            valve=found["valve"],
            opens=opening_part(names, found["valve"], found["pump"], hot_water=zone.serves == "hot water"),
            path=base,
            pump=found["pump"],
            channel_also=_also(names, channel),
        )


def _also(names: Names, channel: str) -> tuple[str, ...]:
    """The other channels that turn a channel's output on as well, through a link inside the timer."""
    if not channel:
        return ()
    device, name = channel.split(".", 1)
    output = f"{device}.{name.replace('channel', 'on')}"
    also: dict[str, None] = {}
    for contact in names.devices[device].parts.contacts:
        if contact.b != output:
            continue
        match contact.when:
            case Any(of) if Is(channel) in of:
                also.update((leaf.name, None) for leaf in of if isinstance(leaf, Is) and leaf.name != channel)
    return tuple(also)


def _channel(names: Names, written: str, path: Path) -> str:
    device, number = written.split(".", 1)
    if not names.fits(device, (Duty.TIMER,), "timer", path):
        return ""
    inputs = names.devices[device].parts.inputs
    wanted = f"{device}.channel-{number}"
    if wanted in {item.name for item in inputs}:
        return wanted
    names.report(
        "unknown-channel",
        path,
        f"`{device}` has no channel {number}; it has {len(inputs)}",
        "Write `device.number`, with the channel's number.",
    )
    return ""
