"""Builds the circuit of a house from its checked record and the settings of its devices.

Names that do not exist become findings, all of them; what names them is left out of the circuit.
Nothing here looks at a house type or at the short way: only at conductors and devices.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from difflib import get_close_matches

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import renamed
from generator.catalogue.parts import DeviceParts
from generator.circuit.model import (
    CableFacts,
    Certainty,
    Circuit,
    Conductor,
    How,
    Path,
    PlacedDevice,
    SpareCore,
    TerminalPlace,
    WaterCircuit,
    WaterSide,
    ZoneIntent,
)
from generator.findings.finding import Finding, Severity
from generator.record.model import Record
from generator.record.places import Places
from generator.record.wiring import Sure


@dataclass(frozen=True, slots=True, kw_only=True)
class BuiltCircuit:
    """A circuit and what was wrong with the names in its record."""

    circuit: Circuit
    findings: tuple[Finding, ...]


def words_from_key(key: str) -> str:
    """``hall-valve`` -> ``Hall valve``."""
    text = key.replace("-", " ")
    return text[:1].upper() + text[1:]


@dataclass(slots=True)
class _Builder:
    record: Record
    kinds: Mapping[str, Kind]
    settings: Mapping[str, Settings]
    places: Places
    findings: list[Finding] = field(default_factory=list)

    def report(self, rule: str, path: Path, message: str, fix: str = "", *, key: bool = False) -> None:
        span = self.places.key(path) if key else self.places.value(path)
        self.findings.append(Finding(rule=rule, severity=Severity.ERROR, message=message, fix=fix, span=span))

    def devices(self) -> tuple[PlacedDevice, ...]:
        placed = []
        for name, written in self.record.devices.items():
            kind, settings = self.kinds.get(name), self.settings.get(name)
            if kind is None or settings is None:
                continue
            placed.append(
                PlacedDevice(
                    name=name,
                    words=written.name or words_from_key(name),
                    kind=kind,
                    settings=settings,
                    parts=_whole(name, kind.parts(settings)),
                    place=written.place or "",
                    reach=written.reach,
                    special=written.special or "",
                    certainty=certainty(written.sure or self.record.sure),
                    path=("devices", name),
                )
            )
        return tuple(placed)


def certainty(sure: Sure) -> Certainty:
    """The certainty that a record states."""
    return Certainty(how=How(sure.how), on=sure.on, by=sure.by)


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
        controls=tuple(replace(item, input=name(item.input)) for item in parts.controls),
    )


def build_circuit(
    record: Record, kinds: Mapping[str, Kind], settings: Mapping[str, Settings], places: Places
) -> BuiltCircuit:
    """The circuit of the record.

    Args:
        record: the checked record, house type and short way already applied.
        kinds: the kind of each device by the device's name; devices of unknown kind are missing.
        settings: checked settings of each device by its name; devices with wrong settings are missing.
        places: where each value of the record was written.
    """
    builder = _Builder(record, kinds, settings, places)
    devices = builder.devices()
    conductors = tuple(_Conductors(builder, devices).all())
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
            zones=tuple(_zones(builder, devices)),
            water=_water(builder, devices),
        ),
        findings=tuple(builder.findings),
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


class _Conductors:
    """Reads the wiring into conductors, reporting ends that do not exist."""

    def __init__(self, builder: _Builder, devices: tuple[PlacedDevice, ...]) -> None:
        self.builder = builder
        self.devices = {device.name: device for device in devices}
        self.terminals = {
            device.name: {terminal.name for terminal in device.parts.terminals} for device in devices
        }
        self.made: list[Conductor] = []
        self.seen: dict[tuple[str, str], Path] = {}

    def all(self) -> list[Conductor]:
        wiring = self.builder.record.wiring
        for centre, terminals in wiring.centres.items():
            base: Path = ("wiring", "centres", centre)
            if not self.device_exists(centre, base, key=True):
                continue
            if self.devices.get(centre) and self.devices[centre].duty is not Duty.CENTRE:
                self.builder.report(
                    "not-a-wiring-centre",
                    base,
                    f"`{centre}` is not a wiring centre but a {self.devices[centre].kind.words}",
                    "List the conductor at the wiring centre, or under `direct`.",
                    key=True,
                )
                continue
            for terminal, landings in terminals.items():
                here = f"{centre}.{terminal}"
                known = self.end_exists(here, (*base, terminal), key=True)
                for index, landing in enumerate(landings):
                    path = (*base, terminal, index)
                    far = self.end_exists(landing.to, (*path, "to"))
                    cable = landing.cable or landing.to.split(".", 1)[0]
                    once = self.once(cable, landing.core, path)
                    if known and far and once:
                        self.add(landing.to, here, landing.core, cable, landing.sleeve, landing.sure, path)
        for index, direct in enumerate(wiring.direct):
            path = ("wiring", "direct", index)
            ends = [self.end_exists(end, (*path, "ends", at)) for at, end in enumerate(direct.ends)]
            cable = direct.cable or direct.ends[0].split(".", 1)[0]
            if self.once(cable, direct.core, path) and all(ends):
                self.add(direct.ends[0], direct.ends[1], direct.core, cable, direct.sleeve, direct.sure, path)
        for index, link in enumerate(wiring.links):
            path = ("wiring", "links", index)
            ends = [self.end_exists(end, (*path, "ends", at)) for at, end in enumerate(link.ends)]
            if all(ends):
                for first, second in zip(link.ends, link.ends[1:], strict=False):
                    self.add(first, second, "", "", None, link.sure, path)
        for index, spare in enumerate(wiring.spare):
            self.once(spare.cable, spare.core, ("wiring", "spare", index))
        return self.made

    def add(
        self, a: str, b: str, core: str, cable: str, sleeve: str | None, sure: Sure | None, path: Path
    ) -> None:
        if a == b:
            self.builder.report(
                "both-ends-alike",
                path,
                f"both ends of this conductor are the terminal `{a}`",
                "Correct one end.",
            )
            return
        record = self.builder.record
        written = record.cables.get(cable)
        stated = sure or (written.sure if written else None)
        if stated is None:
            device = record.devices.get(a.split(".", 1)[0])
            stated = device.sure if device else None
        self.made.append(
            Conductor(
                index=len(self.made),
                a=a,
                b=b,
                core=core,
                cable=cable,
                sleeve=sleeve or "",
                certainty=certainty(stated or record.sure),
                path=path,
            )
        )

    def once(self, cable: str, core: str, path: Path) -> bool:
        before = self.seen.get((cable, core))
        if before is None:
            self.seen[cable, core] = path
            return True
        first = self.builder.places.value(before)
        self.builder.report(
            "core-written-twice",
            path,
            f"core {core} of cable `{cable}` is already written at {first.file}:{first.line}; "
            "a core has one place only",
            "Write each conductor once. Cores of one colour in one cable are told apart by a number, as in BK1 BK2. "
            "If this is another cable, give its name with `cable`.",
        )
        return False

    def device_exists(self, name: str, path: Path, *, key: bool = False) -> bool:
        if name in self.devices:
            return True
        if name not in self.builder.record.devices:
            self.builder.report(
                "unknown-device",
                path,
                f"no device is called `{name}`{_closest(name, list(self.builder.record.devices))}",
                "Name a device of this record.",
                key=key,
            )
        return False

    def end_exists(self, end: str, path: Path, *, key: bool = False) -> bool:
        device, terminal = end.split(".", 1)
        if not self.device_exists(device, path, key=key):
            return False
        known = self.terminals[device]
        if terminal in known:
            return True
        listed = ", ".join(f"`{item.name}`" for item in self.devices[device].parts.terminals)
        self.builder.report(
            "unknown-terminal",
            path,
            f"`{device}` ({self.devices[device].kind.words}) has no terminal `{terminal}`"
            f"{_closest(terminal, list(known))}",
            f"Its terminals: {listed}." if listed else "It has no terminals.",
            key=key,
        )
        return False


def _closest(name: str, among: list[str]) -> str:
    close = get_close_matches(name, among, n=1, cutoff=0.6)
    return f"; did you mean `{close[0]}`?" if close else ""


_ZONE_PARTS: tuple[tuple[str, tuple[Duty, ...], str], ...] = (
    ("thermostat", (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT), "thermostat"),
    ("valve", (Duty.VALVE,), "motorised valve"),
)


def _zones(builder: _Builder, devices: tuple[PlacedDevice, ...]) -> Iterator[ZoneIntent]:
    by_name = {device.name: device for device in devices}
    for name, zone in builder.record.zones.items():
        base: Path = ("zones", name)
        channel = ""
        if zone.channel:
            channel = _channel(builder, by_name, zone.channel, (*base, "channel"))
        found = {"thermostat": "", "valve": ""}
        for part, duties, wanted in _ZONE_PARTS:
            written = getattr(zone, part)
            if written and _fits(builder, by_name, written, duties, wanted, (*base, part)):
                found[part] = written
        yield ZoneIntent(
            name=name,
            words=zone.name or words_from_key(name),
            serves=zone.serves,
            channel=channel,
            thermostat=found["thermostat"],
            valve=found["valve"],
            path=base,
        )


def _channel(builder: _Builder, devices: Mapping[str, PlacedDevice], written: str, path: Path) -> str:
    device, number = written.split(".", 1)
    if not _fits(builder, devices, device, (Duty.TIMER,), "timer", path):
        return ""
    wanted = f"{device}.channel-{number}"
    if wanted in {item.name for item in devices[device].parts.inputs}:
        return wanted
    count = len(devices[device].parts.inputs)
    builder.report(
        "unknown-channel",
        path,
        f"`{device}` has no channel {number}; it has {count}",
        "Write `device.number`, with the channel's number.",
    )
    return ""


def _fits(
    builder: _Builder,
    devices: Mapping[str, PlacedDevice],
    name: str,
    duties: tuple[Duty, ...],
    wanted: str,
    path: Path,
) -> bool:
    if name not in builder.record.devices:
        candidates = [device.name for device in devices.values() if device.duty in duties]
        builder.report(
            "unknown-device",
            path,
            f"no device is called `{name}`{_closest(name, candidates)}",
            "Name a device of this record.",
        )
        return False
    if name not in devices:
        return False
    if devices[name].duty in duties:
        return True
    builder.report(
        "wrong-kind-of-device",
        path,
        f"`{name}` is a {devices[name].kind.words}, not a {wanted}",
        f"Name a {wanted} of this record.",
    )
    return False


def _water(builder: _Builder, devices: tuple[PlacedDevice, ...]) -> WaterSide:
    by_name = {device.name: device for device in devices}
    water = builder.record.water
    circuits = []
    for name, circuit in water.circuits.items():
        base: Path = ("water", "circuits", name)
        valve = circuit.valve or ""
        if valve and not _fits(builder, by_name, valve, (Duty.VALVE,), "motorised valve", (*base, "valve")):
            valve = ""
        circuits.append(
            WaterCircuit(name=name, valve=valve, feeds=circuit.feeds, where=circuit.where or "", path=base)
        )
    if water.bypass not in ("none", "fixed", "not seen"):
        _fits(builder, by_name, water.bypass, (Duty.BYPASS,), "bypass", ("water", "bypass"))
    return WaterSide(circuits=tuple(circuits), pump=water.pump, bypass=water.bypass)
