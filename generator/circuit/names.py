"""Looks up the names that a record uses and reports those that do not exist or do not fit.

Every wrong name becomes a finding with the closest right one; nothing raises.
"""

from collections.abc import Container
from dataclasses import dataclass, field

from generator.catalogue.kind import Duty
from generator.circuit.model import PlacedDevice
from generator.findings.finding import Finding, Severity
from generator.record.model import Record
from generator.record.places import Path, Places
from generator.record.wording import closest


@dataclass(slots=True)
class Names:
    """The names of one record. ``devices`` holds those that could be made, ``findings`` what was wrong.

    ``lost`` are names that the record may well have, in a part that could not be read: nothing is said of them.
    """

    record: Record
    places: Places
    devices: dict[str, PlacedDevice] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    lost: Container[str] = ()

    def report(self, rule: str, path: Path, message: str, fix: str = "", *, key: bool = False) -> None:
        """Add an error at a value, or at its key."""
        span = self.places.key(path) if key else self.places.value(path)
        self.findings.append(Finding(rule=rule, severity=Severity.ERROR, message=message, fix=fix, span=span))

    def device(self, name: str, path: Path, *, key: bool = False) -> bool:
        """Whether the device could be made; a name that the record does not have is reported."""
        if name in self.devices:
            return True
        if name not in self.record.devices and name not in self.lost:
            self.report(
                "unknown-device",
                path,
                f"no device is called `{name}`{did_you_mean(name, list(self.record.devices))}",
                "Name a device of this record.",
                key=key,
            )
        return False

    def end(self, end: str, path: Path, *, key: bool = False) -> bool:
        """Whether ``device.terminal`` exists."""
        device, terminal = end.split(".", 1)
        if not self.device(device, path, key=key):
            return False
        placed = self.devices[device]
        known = [item.name for item in placed.parts.terminals]
        if terminal in known:
            return True
        self.report(
            "unknown-terminal",
            path,
            f"`{device}` ({placed.kind.words}) has no terminal `{terminal}`{did_you_mean(terminal, known)}",
            f"Its terminals: {', '.join(f'`{name}`' for name in known)}."
            if known
            else "It has no terminals.",
            key=key,
        )
        return False

    def fits(self, name: str, duties: tuple[Duty, ...], wanted: str, path: Path) -> bool:
        """Whether the device exists and does one of these duties."""
        if name not in self.record.devices and name not in self.lost:
            candidates = [device.name for device in self.devices.values() if device.duty in duties]
            self.report(
                "unknown-device",
                path,
                f"no device is called `{name}`{did_you_mean(name, candidates)}",
                f"Name a {wanted} of this record.",
            )
            return False
        if name not in self.devices:
            return False
        if self.devices[name].duty in duties:
            return True
        self.report(
            "wrong-kind-of-device",
            path,
            f"`{name}` is a {self.devices[name].kind.words}, not a {wanted}",
            f"Name a {wanted} of this record.",
        )
        return False


def did_you_mean(name: str, among: list[str]) -> str:
    """``; did you mean `x`?`` where a known name is close, else nothing.

    Of a number there is no close one: terminal 1 is not what was meant by 11.
    """
    close = None if name.isdecimal() else closest(name, among)
    return f"; did you mean `{close}`?" if close else ""
