"""The short way: expands an arrangement by name into devices, wiring, zones and water circuits.

What it gives is a document like any written one; nothing after this looks at the arrangement's name.
Terminals are lettered by what they are for, the supply last.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from generator.record.model import Arrangement, ShortZone
from generator.record.places import Document, Mark, Path, Places

_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which are read as 1 and 0."""
_CHANNEL_CORES = ("BK", "GY", "WH", "OG")
_CHANNELS_A_TIMER = 4


def letters() -> Iterator[str]:
    """A, B, C ... Z, AA, AB ... without I and O."""
    yield from _LETTERS
    for first in _LETTERS:
        for second in _LETTERS:
            yield first + second


@dataclass(slots=True)
class _Draft:
    """The document being made, in the order a person would write it."""

    devices: dict[str, Any] = field(default_factory=dict)
    centre: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    zones: dict[str, Any] = field(default_factory=dict)
    circuits: dict[str, Any] = field(default_factory=dict)
    of_zone: dict[str, str] = field(default_factory=dict)
    labels: Iterator[str] = field(default_factory=letters)

    def terminal(self) -> str:
        label = next(self.labels)
        self.centre[label] = []
        return label

    def land(self, terminal: str, to: str, core: str) -> None:
        self.centre[terminal].append({"to": to, "core": core})


def expand(arrangement: Arrangement, mark: Mark, zone_marks: Mapping[str, Mark]) -> Document:
    """The document an arrangement stands for.

    Args:
        arrangement: the checked section.
        mark: where it is written; every value made carries it, or its zone's mark.
        zone_marks: where each zone of it is written.
    """
    draft = _Draft()
    draft.devices["spur"] = {"kind": "fused-spur"}
    draft.devices["centre"] = {"kind": "wiring-centre"}
    clocked = [name for name, zone in arrangement.zones.items() if _needs_channel(zone)]
    timers = _timers(draft, arrangement.timer, len(clocked))
    channel = {
        name: (timers[index // _CHANNELS_A_TIMER], index % _CHANNELS_A_TIMER + 1)
        for index, name in enumerate(clocked)
    }
    for name, zone in arrangement.zones.items():
        _zone_devices(draft, name, zone)
    if arrangement.cylinder:
        wired = arrangement.cylinder == "unvented"
        draft.devices["cylinder"] = {
            "kind": "cylinder",
            "settings": {"system": arrangement.cylinder, "cut_out": "wired" if wired else "none"},
        }
    _plant_devices(draft, arrangement)
    cut_out_left = arrangement.cylinder == "unvented"
    outputs: list[tuple[str, str]] = []
    calls = []
    for name, zone in arrangement.zones.items():
        on = ""
        if name in channel:
            on = draft.terminal()
            timer, number = channel[name]
            draft.land(on, f"{timer}.on-{number}", _CHANNEL_CORES[number - 1])
            draft.land(on, f"{name}-thermostat.common", "BN")
        call = draft.terminal()
        draft.land(call, f"{name}-thermostat.call", "BK")
        if zone.serves == "hot water" and cut_out_left:
            cut_out_left = False
            draft.land(call, "cylinder.cut-out-in", "BN")
            call = draft.terminal()
            draft.land(call, "cylinder.cut-out-out", "BK")
        draft.land(call, f"{name}-valve.motor", "BN")
        calls.append((name, zone, on))
        outputs.append((f"{name}-valve", name))
        draft.zones[name] = {
            **({"name": zone.name} if zone.name else {}),
            "serves": zone.serves,
            **({"channel": f"{channel[name][0]}.{channel[name][1]}"} if name in channel else {}),
            "thermostat": f"{name}-thermostat",
            "valve": f"{name}-valve",
        }
        draft.circuits[name] = {
            "valve": f"{name}-valve",
            "feeds": "cylinder coil" if zone.serves == "hot water" else "radiators",
            **({"where": zone.where} if zone.where else {}),
        }
    _boiler_and_supply(draft, arrangement, [valve for valve, _ in outputs], calls, timers)
    draft.devices["centre"]["settings"] = {"terminals": list(draft.centre)}
    data = {
        "devices": draft.devices,
        "wiring": {"centres": {"centre": draft.centre}},
        "zones": draft.zones,
        "water": {
            "circuits": draft.circuits,
            "pump": "on the flow",
            "bypass": "bypass" if arrangement.bypass else "none",
        },
    }
    return Document(data=data, places=_places(data, mark, zone_marks, draft.of_zone))


def _needs_channel(zone: ShortZone) -> bool:
    return zone.thermostat != "programmable-room-thermostat"


def _timers(draft: _Draft, kind: str, channels: int) -> list[str]:
    names: list[str] = []
    left = channels
    while left > 0:
        name = kind if not names else f"{kind}-{len(names) + 1}"
        draft.devices[name] = {
            "kind": kind,
            "reach": "tenant",
            "settings": {"channels": min(left, _CHANNELS_A_TIMER)},
        }
        names.append(name)
        left -= _CHANNELS_A_TIMER
    return names


def _zone_devices(draft: _Draft, name: str, zone: ShortZone) -> None:
    default = "cylinder-thermostat" if zone.serves == "hot water" else "room-thermostat"
    kind = zone.thermostat or default
    for part, device_kind, reach in (
        ("thermostat", kind, "engineer" if kind == "cylinder-thermostat" else "tenant"),
        ("valve", "two-port-valve", "engineer"),
    ):
        key = f"{name}-{part}"
        draft.of_zone[key] = name
        draft.devices[key] = {
            "kind": device_kind,
            "reach": reach,
            **({"name": f"{zone.name} {part}"} if zone.name else {}),
        }


def _plant_devices(draft: _Draft, arrangement: Arrangement) -> None:
    draft.devices["boiler"] = {
        "kind": "boiler",
        "settings": {
            "permanent_live": arrangement.boiler != "switched live only",
            "overrun": arrangement.boiler == "overrun",
            "pump_output": arrangement.boiler == "overrun",
        },
    }
    draft.devices["pump"] = {"kind": "pump"}
    if arrangement.bypass:
        draft.devices["bypass"] = {"kind": "automatic-bypass"}


def _boiler_and_supply(
    draft: _Draft,
    arrangement: Arrangement,
    valves: list[str],
    calls: list[tuple[str, ShortZone, str]],
    timers: list[str],
) -> None:
    fed, out = ("switch-a", "switch-b") if arrangement.fed_core == "GY" else ("switch-b", "switch-a")
    core = {"switch-a": "GY", "switch-b": "OG"}
    boiler_call = draft.terminal()
    for valve in valves:
        draft.land(boiler_call, f"{valve}.{out}", core[out])
    draft.land(boiler_call, "boiler.call", "BK")
    if arrangement.boiler == "overrun":
        pump = draft.terminal()
        draft.land(pump, "boiler.pump", "GY")
        draft.land(pump, "pump.L", "BN")
    else:
        draft.land(boiler_call, "pump.L", "BN")
    earth, neutral, line = draft.terminal(), draft.terminal(), draft.terminal()
    for device in ("spur", *valves, "boiler", "pump"):
        draft.land(earth, f"{device}.E", "GNYE")
    for device in ("spur", *timers, *valves, "boiler", "pump"):
        draft.land(neutral, f"{device}.N", "BU")
    draft.land(line, "spur.L", "BN")
    for timer in timers:
        draft.land(line, f"{timer}.L", "BN")
    for name, _, on in calls:
        if not on:
            draft.land(line, f"{name}-thermostat.common", "BN")
    for valve in valves:
        draft.land(line, f"{valve}.{fed}", core[fed])
    if arrangement.boiler != "switched live only":
        draft.land(line, "boiler.L", "BN")


def _places(
    data: dict[str, Any], mark: Mark, zone_marks: Mapping[str, Mark], of_zone: Mapping[str, str]
) -> Places:
    """Marks for every path of the made document: the zone's where it belongs to one."""
    marks: dict[Path, Mark] = {}

    def walk(value: Any, path: Path, here: Mark) -> None:
        marks[path] = here
        if isinstance(value, dict):
            if isinstance(value.get("to"), str):
                here = _zone_mark(value["to"].split(".", 1)[0], here, zone_marks, of_zone)
                marks[path] = here
            for key, inner in value.items():
                walk(inner, (*path, key), _zone_mark(key, here, zone_marks, of_zone))
        elif isinstance(value, list):
            for index, inner in enumerate(value):
                walk(inner, (*path, index), here)

    walk(data, (), mark)
    return Places(marks, marks)


def _zone_mark(name: str, here: Mark, zone_marks: Mapping[str, Mark], of_zone: Mapping[str, str]) -> Mark:
    return zone_marks.get(of_zone.get(name, name), here)
