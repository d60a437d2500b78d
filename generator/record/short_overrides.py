"""Settings of a valve that a record lays over the short way, and that the short way's wiring of that valve does not fit.

Works on documents as written, before they are checked, so it must bear anything. Knows no arrangement.
"""

from collections.abc import Iterator
from typing import Any

from generator.findings.finding import Finding, Severity
from generator.record.places import Document
from generator.record.wording import quote

_SWITCHES = ("switch-a", "switch-b", "switch-c")
_MISSING = {"none": _SWITCHES, "false": _SWITCHES, "make": _SWITCHES[2:]}
"""The terminals that a valve has not, by what is written of its end switch."""


def without_misfits(short: Document, whole: Document) -> tuple[Document, list[Finding]]:
    """The record without the settings that its short way's wiring does not fit, and a finding for each.

    A setting stays where the record says anew where the cores concerned land: that is wiring as somebody saw it.

    Args:
        short: What the arrangement expands to.
        whole: The record laid over it.
    """
    devices = whole.data.get("devices")
    made = short.data.get("devices")
    if not isinstance(devices, dict) or not isinstance(made, dict):
        return whole, []
    findings: list[Finding] = []
    changed = dict(devices)
    for name in made:
        device = devices.get(name)
        settings = device.get("settings") if isinstance(device, dict) else None
        if not isinstance(device, dict) or not isinstance(settings, dict):
            continue
        for key, finding in _misfits(name, settings, short, whole):
            findings.append(finding)
            settings = {each: value for each, value in settings.items() if each != key}
            changed[name] = {**device, "settings": settings}
    if not findings:
        return whole, []
    return Document(data={**whole.data, "devices": changed}, places=whole.places), findings


def _misfits(
    name: str, settings: dict[str, Any], short: Document, whole: Document
) -> Iterator[tuple[str, Finding]]:
    arrangement = whole.data["arrangement"]["name"]
    motor = f"{name}.motor"
    before = _lands(short.data, motor)
    if settings.get("rests") == "open" and before and _lands(whole.data, motor) == before:
        yield (
            "rests",
            _finding(
                whole,
                (name, "rests"),
                f"`rests: open`: the arrangement {quote(arrangement)} runs the motor of {quote(name)} to open it, and the "
                "motor of a valve that rests open shuts it",
                f"Leave `rests` out where the valve rests shut. Where it does rest open, write below `wiring` where "
                f"{quote(motor)} lands in the house.",
            ),
        )
    switch = settings.get("end_switch")
    written = "false" if switch is False else str(switch)
    left = [each for each in _MISSING.get(written, ()) if _lands(whole.data, f"{name}.{each}")]
    if left:
        yield (
            "end_switch",
            _finding(
                whole,
                (name, "end_switch"),
                f"`end_switch: {written}`: the arrangement {quote(arrangement)} wires {quote(name)} with "
                f"{' and '.join(quote(f'{name}.{each}') for each in left)}, which it then has not",
                "Leave `end_switch` out where the valve has what is wired. Where it has not, name the cores of its cable that are not "
                f"there below `wiring: removed`, as `{{cable: {name}, core: GY}}`, and write below `wiring` what calls the "
                "boiler instead.",
            ),
        )


def _finding(whole: Document, at: tuple[str, str], message: str, fix: str) -> Finding:
    device, key = at
    return Finding(
        rule="setting-unlike-short-way",
        severity=Severity.ERROR,
        message=message,
        fix=fix,
        span=whole.places.key(("devices", device, "settings", key)),
    )


def _lands(data: Any, terminal: str) -> list[tuple[str, str]]:
    """Where a terminal's cores go: the centre and its terminal, or the other end of a conductor past it."""
    wiring = data.get("wiring") if isinstance(data, dict) else None
    if not isinstance(wiring, dict):
        return []
    found: list[tuple[str, str]] = []
    centres = wiring.get("centres")
    for centre, terminals in centres.items() if isinstance(centres, dict) else ():
        for label, items in terminals.items() if isinstance(terminals, dict) else ():
            listed = items if isinstance(items, list) else []
            here = [item for item in listed if isinstance(item, dict) and item.get("to") == terminal]
            found += [(str(centre), str(label)) for _ in here]
    direct = wiring.get("direct")
    for item in direct if isinstance(direct, list) else ():
        ends = item.get("ends") if isinstance(item, dict) else None
        if isinstance(ends, list) and terminal in ends:
            found += [("", str(end)) for end in ends if end != terminal]
    return found
