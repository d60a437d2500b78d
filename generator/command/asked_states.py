"""Which states of the controls were asked for on the command line, by zones that call or by single controls.

It must not know what is read in them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.circuit.model import Circuit
from generator.findings.errors import HearthbookError
from generator.record.wording import closest, quote
from generator.views.shown_states import ShownState, shown_states
from generator.views.wording import listed, lower

REST, ALL, EACH = "rest", "all", "each"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The states, and the controls held in them at another place than usual."""

    states: tuple[ShownState, ...]
    held: Mapping[str, bool]


class NoSuchControl(HearthbookError):
    """Zones or controls were named that the house does not have."""

    def __init__(self, faults: tuple[str, ...], known: tuple[str, ...]) -> None:
        super().__init__(faults, known)
        self.faults = faults
        self.known = known

    @property
    def message(self) -> str:
        return f"{'; '.join(self.faults)}. There are: {', '.join(self.known)}"


def by_name(circuit: Circuit, name: str) -> Asked:
    """The state at rest, the one in which everything calls, or each that a page shows."""
    states = shown_states(circuit)
    if name == REST:
        states = states[:1]
    elif name == ALL:
        states = states[-1:]
    return Asked(states=states, held={})


def by_zones(circuit: Circuit, zones: Iterable[str]) -> Asked:
    """The state in which exactly these zones call.

    Raises:
        NoSuchControl: zones are not there, or have no control to call with; all of them are named.
    """
    calling = {zone.name: zone for zone in circuit.zones if zone.call_inputs}
    wanted = list(dict.fromkeys(zones))
    faults = [_unknown("zone that calls", name, calling) for name in wanted if name not in calling]
    if faults:
        raise NoSuchControl(tuple(faults), tuple(calling))
    words = listed(
        [
            calling[name].words if place == 0 else lower(calling[name].words)
            for place, name in enumerate(wanted)
        ]
    )
    calls = "calls" if len(wanted) == 1 else "call"
    on = dict.fromkeys(name for zone in wanted for name in calling[zone].call_inputs)
    state = ShownState(
        id="asked",
        short=f"{words} {calls}",
        words=f"only {lower(words)} {calls}",
        on=tuple(on),
        zones=tuple(wanted),
    )
    return Asked(states=(state,), held={})


def by_controls(circuit: Circuit, on: Iterable[str], off: Iterable[str]) -> Asked:
    """The state in which exactly these controls are on, and these are off that are usually on.

    A control is named as in `hearthbook explain KIND`: `programmer.1` for a channel, the device alone where it has
    one control that calls, `hall-valve.lever` for what a person moves.

    Raises:
        NoSuchControl: controls are not there; all of them are named.
    """
    faults: list[str] = []
    names_on = _resolved(circuit, on, faults)
    names_off = _resolved(circuit, off, faults)
    if faults:
        raise NoSuchControl(tuple(faults), tuple(item.name for item in circuit.inputs))
    inputs = {item.name: item for item in circuit.inputs}
    said = [_said(circuit, name, on=True) for name in names_on]
    said += [_said(circuit, name, on=False) for name in names_off]
    words = listed(said) if said else "every control is off"
    state = ShownState(
        id="asked",
        short=f"{words[:1].upper()}{words[1:]}",
        words=words,
        on=tuple(name for name in names_on if inputs[name].normal is None),
        zones=(),
    )
    held = {name: True for name in names_on if inputs[name].normal is not None}
    held |= dict.fromkeys(names_off, False)
    return Asked(states=(state,), held=held)


def _resolved(circuit: Circuit, given: Iterable[str], faults: list[str]) -> list[str]:
    names = {item.name for item in circuit.inputs}
    found: list[str] = []
    for each in dict.fromkeys(given):
        name = next((way for way in _ways(circuit, each) if way in names), None)
        if name is None:
            faults.append(_unknown("control", each, names))
        else:
            found.append(name)
    return found


def _ways(circuit: Circuit, given: str) -> Iterable[str]:
    """What a control may be called in full."""
    yield given
    device, dot, part = given.partition(".")
    if dot:
        yield f"{device}.channel-{part}"
        return
    calls = [item.name for item in circuit.called_inputs if item.name.split(".", 1)[0] == device]
    if len(calls) == 1:
        yield calls[0]


def _said(circuit: Circuit, name: str, *, on: bool) -> str:
    """``the room thermostat is calling for heat``, ``channel 2 of the programmer is on``."""
    item = next(each for each in circuit.inputs if each.name == name)
    device = circuit.device(name.split(".", 1)[0])
    who = f"the {lower(device.words)}"
    if len(device.parts.inputs) > 1 or item.normal is not None:
        part = item.words if item.words[-1:].isdigit() else f"the {item.words}"
        who = f"{part} of {who}"
    return f"{who} is {item.on_words if on else item.off_words}"


def _unknown(what: str, name: str, known: Iterable[str]) -> str:
    close = closest(name, known)
    return f"there is no {what} {quote(name)}" + (f" (did you mean {quote(close)}?)" if close else "")
