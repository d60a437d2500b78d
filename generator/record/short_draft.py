"""The document that the short way is making: devices, lettered terminals, zones and water circuits, in order.

Knows how conductors land and what every arrangement has: the spur, timers, thermostats, the boiler and its pump.
Knows no arrangement.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from generator.record.short_model import Arrangement, ShortZone

_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
"""Without I and O, which are read as 1 and 0."""
CHANNEL_CORES = ("BK", "GY", "WH", "OG")
CHANNELS_A_TIMER = 4
BOILER_RELAY = "boiler-relay"
SWITCH_CORES = {"switch-a": "GY", "switch-b": "OG"}


def letters() -> Iterator[str]:
    """A, B, C ... Z, AA, AB ... without I and O."""
    yield from _LETTERS
    for first in _LETTERS:
        for second in _LETTERS:
            yield first + second


@dataclass(slots=True)
class Draft:
    """The document being made, in the order a person would write it.

    ``earths``, ``neutrals`` and ``lines`` are what lands on the terminals of the supply, which come last; ``coils``
    are relays whose coil has its other end there.
    """

    arrangement: Arrangement
    devices: dict[str, Any] = field(default_factory=dict)
    centre: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    direct: list[dict[str, Any]] = field(default_factory=list)
    zones: dict[str, Any] = field(default_factory=dict)
    water: dict[str, Any] = field(default_factory=lambda: {"circuits": {}})
    of_zone: dict[str, str] = field(default_factory=dict)
    labels: Iterator[str] = field(default_factory=letters)
    channel: dict[str, tuple[str, int]] = field(default_factory=dict)
    earths: list[str] = field(default_factory=list)
    neutrals: list[str] = field(default_factory=list)
    lines: list[tuple[str, str]] = field(default_factory=list)
    coils: list[str] = field(default_factory=list)
    cut_out: bool = False

    def terminal(self) -> str:
        """A new terminal of the wiring centre, with nothing landed yet."""
        label = next(self.labels)
        self.centre[label] = []
        return label

    def land(self, terminal: str, to: str, core: str) -> None:
        """Lands a core of the cable of ``to`` in a terminal of the wiring centre."""
        self.centre[terminal].append({"to": to, "core": core})

    def wire(self, start: str, end: str, core: str) -> None:
        """A core of the cable of ``start`` that goes past the wiring centre."""
        self.direct.append({"ends": [start, end], "core": core})

    def mains(self, device: str, *, earth: bool = True) -> None:
        """Neutral and, of class I, earth of a device."""
        self.neutrals.append(device)
        if earth:
            self.earths.append(device)

    def device(self, key: str, kind: str, *, zone: str = "", **fields: Any) -> None:
        """Adds a device; ``zone`` is the zone that it belongs to."""
        self.devices[key] = {"kind": kind, **fields}
        if zone:
            self.of_zone[key] = zone

    def begin(self, clocked: Sequence[str], **timer_settings: Any) -> None:
        """The spur, the wiring centre and timers with a channel for each zone named."""
        self.device("spur", "fused-spur")
        self.device("centre", "wiring-centre")
        self.mains("spur")
        self.lines.append(("spur.L", "BN"))
        kind = self.arrangement.timer
        for start in range(0, len(clocked), CHANNELS_A_TIMER):
            name = kind if not start else f"{kind}-{start // CHANNELS_A_TIMER + 1}"
            served = clocked[start : start + CHANNELS_A_TIMER]
            for number, zone in enumerate(served, 1):
                self.channel[zone] = (name, number)
            self.device(name, kind, reach="tenant", settings={"channels": len(served), **timer_settings})
            self.mains(name, earth=False)
            self.lines.append((f"{name}.L", "BN"))

    def thermostat(self, name: str, zone: ShortZone) -> None:
        """The thermostat of a zone."""
        default = "cylinder-thermostat" if zone.serves == "hot water" else "room-thermostat"
        kind = zone.thermostat or default
        self.zone_device(name, zone, "thermostat", kind, tenant=kind != "cylinder-thermostat")

    def zone_device(
        self,
        name: str,
        zone: ShortZone,
        part: str,
        kind: str,
        *,
        tenant: bool = False,
        settings: dict[str, Any] | None = None,
    ) -> str:
        """A device of a zone, ``ZONE-PART``; gives its key."""
        key = f"{name}-{part}"
        self.device(
            key,
            kind,
            zone=name,
            reach="tenant" if tenant else "engineer",
            **({"name": f"{zone.name} {part.replace('-', ' ')}"} if zone.name else {}),
            **({"settings": settings} if settings else {}),
        )
        return key

    def cylinder(self) -> None:
        """The cylinder, where one is wanted; a wired cut-out is in the line of the first valve."""
        system = self.arrangement.cylinder
        if system is None:
            return
        self.cut_out = self.arrangement.cut_out == "wired"
        self.device(
            "cylinder",
            "cylinder",
            settings={"system": system, "cut_out": "wired" if self.cut_out else "none"},
        )

    def on(self, name: str, to: Sequence[tuple[str, str]]) -> str:
        """A terminal with the timer's output for a zone, and what it feeds; empty without a channel."""
        if name not in self.channel:
            return ""
        timer, number = self.channel[name]
        terminal = self.terminal()
        self.land(terminal, f"{timer}.on-{number}", CHANNEL_CORES[number - 1])
        for end, core in to:
            self.land(terminal, end, core)
        return terminal

    def called(self, name: str, zone: ShortZone) -> str:
        """Channel and thermostat of a zone in series, and a tripped cut-out; gives the terminal of the call."""
        common = f"{name}-thermostat.common"
        if not self.on(name, [(common, "BN")]):
            self.lines.append((common, "BN"))
        call = self.terminal()
        self.land(call, f"{name}-thermostat.call", "BK")
        return self.through_cut_out(call) if zone.serves == "hot water" else call

    def through_cut_out(self, call: str) -> str:
        """The terminal of a hot water call after the cut-out of an unvented cylinder; the same where there is none."""
        if not self.cut_out:
            return call
        self.cut_out = False
        self.land(call, "cylinder.cut-out-in", "BN")
        behind = self.terminal()
        self.land(behind, "cylinder.cut-out-out", "BK")
        return behind

    def receivers(self) -> None:
        """Line and neutral of wireless receivers."""
        for key, device in self.devices.items():
            if device["kind"] == "wireless-receiver":
                self.neutrals.append(key)
                self.lines.append((f"{key}.L", "GY"))

    def zone(self, name: str, zone: ShortZone, *, thermostat: bool = True, **means: str) -> None:
        """A zone's intent: its channel and thermostat, and the valve or pump that serves it."""
        timer, number = self.channel.get(name, ("", 0))
        self.zones[name] = {
            **({"name": zone.name} if zone.name else {}),
            "serves": zone.serves,
            **({"channel": f"{timer}.{number}"} if timer else {}),
            **({"thermostat": f"{name}-thermostat"} if thermostat else {}),
            **means,
        }

    def circuit(self, name: str, zone: ShortZone, feeds: str = "", **fields: Any) -> None:
        """A water circuit of the zone's name."""
        default = "cylinder coil" if zone.serves == "hot water" else "radiators"
        self.water["circuits"][name] = {
            **fields,
            "feeds": feeds or default,
            **({"where": zone.where} if zone.where else {}),
        }

    def end_switches(self, valves: Sequence[str]) -> list[tuple[str, str]]:
        """Puts one side of each end switch on the permanent live; gives the other sides and their cores."""
        fed, out = ("switch-a", "switch-b") if self.arrangement.fed_core == "GY" else ("switch-b", "switch-a")
        self.lines += [(f"{valve}.{fed}", SWITCH_CORES[fed]) for valve in valves]
        return [(f"{valve}.{out}", SWITCH_CORES[out]) for valve in valves]

    def boiler_device(self, *, relay: bool = True, **settings: Any) -> None:
        """The boiler as the arrangement wires it; ``settings`` are added or stand instead.

        A volt-free demand brings the relay that calls it, unless ``relay`` is False.
        """
        overrun = self.arrangement.boiler == "overrun"
        if self.arrangement.call == "volt-free":
            settings["demand"] = "volt-free"
            if relay:
                self.device(BOILER_RELAY, "relay")
        self.device(
            "boiler",
            "boiler",
            settings={
                "permanent_live": self.arrangement.boiler != "switched live only",
                "overrun": overrun,
                "pump_output": overrun,
                **settings,
            },
        )

    def boiler(self, callers: Sequence[tuple[str, str]], *, pump: bool = True) -> None:
        """Joins what calls the boiler to it, and its pump to the call or to the boiler's output.

        A boiler with a volt-free demand is called by a relay, whose contact goes straight to it: so no extra-low
        voltage comes into the wiring centre.

        Args:
            callers: the ends and cores of what calls it, by mains.
            pump: whether the device ``pump`` runs with the boiler.
        """
        terminal = self.terminal()
        for end, core in callers:
            self.land(terminal, end, core)
        if self.arrangement.call == "volt-free":
            self.land(terminal, f"{BOILER_RELAY}.A1", "WH")
            self.coils.append(BOILER_RELAY)
            for contact, core, side in (("11", "BN", "a"), ("14", "OG", "b")):
                self.wire(f"{BOILER_RELAY}.{contact}", f"boiler.call-{side}", core)
        else:
            self.land(terminal, "boiler.call", "BK")
        if pump:
            self.run_pump(terminal)
        self.boiler_supply()

    def run_pump(self, call: str) -> None:
        """The pump on the call, or on the boiler's own output where it has one."""
        if self.devices["boiler"]["settings"]["pump_output"]:
            call = self.terminal()
            self.land(call, "boiler.pump", "WH")
        self.land(call, "pump.L", "BN")

    def boiler_supply(self) -> None:
        """Neutral, earth and permanent live of the boiler, and of the pump."""
        self.mains("boiler")
        if "pump" in self.devices:
            self.mains("pump")
        if self.arrangement.boiler != "switched live only":
            self.lines.append(("boiler.L", "BN"))

    def finish(self) -> dict[str, Any]:
        """Lands the supply in the last three terminals; gives the data of the document."""
        self.receivers()
        earth, neutral, line = self.terminal(), self.terminal(), self.terminal()
        for device in self.earths:
            self.land(earth, f"{device}.E", "GNYE")
        for device in self.neutrals:
            self.land(neutral, f"{device}.N", "BU")
        for relay in self.coils:
            self.land(neutral, f"{relay}.A2", "BU")
        for to, core in self.lines:
            self.land(line, to, core)
        self.devices["centre"]["settings"] = {"terminals": list(self.centre)}
        wiring: dict[str, Any] = {"centres": {"centre": self.centre}}
        if self.direct:
            wiring["direct"] = self.direct
        return {"devices": self.devices, "wiring": wiring, "zones": self.zones, "water": self.water}


def needs_channel(zone: ShortZone) -> bool:
    """Whether a zone needs a channel of a timer: its thermostat has no clock of its own."""
    return zone.thermostat != "programmable-room-thermostat"
