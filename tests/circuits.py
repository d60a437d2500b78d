"""Circuits for tests, written in a few lines: devices by kind, conductors by their ends.

Goes the way of a record (models, `build_circuit`), but needs no file. A name that does not exist raises.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.kinds import kind_named
from generator.catalogue.parts import DeviceParts
from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.record.model import Record
from generator.record.places import Places

Kinds = Mapping[str, str | tuple[str, Mapping[str, Any]] | DeviceParts]
"""Devices by name: the name of the kind, or that and its settings; or parts of a kind made for a test alone."""

Wire = tuple[str, str, str] | tuple[str, str, str, str]
"""End, end, core, and the cable; without one, the cable named after the first end's device."""

SURE = {"how": "tested", "on": "2026-03-14", "by": "heating engineer"}

_PROPERTY = {
    "reference": "TEST-1",
    "address": {"lines": ["1 Test Row"], "town": "Testham"},
    "nation": "england",
    "fuel": "gas",
    "dwelling": {"storeys": 2, "floor_area_m2": 80},
}


def house(
    *,
    devices: Kinds,
    conductors: Sequence[Wire] = (),
    links: Sequence[Sequence[str]] = (),
    zones: Mapping[str, Mapping[str, Any]] | None = None,
    cables: Mapping[str, Mapping[str, Any]] | None = None,
    water: Mapping[str, Any] | None = None,
    spare: Sequence[Mapping[str, Any]] = (),
) -> Circuit:
    """The circuit of a house.

    Args:
        devices: name -> kind, or name -> (kind, settings).
        conductors: (end, end, core) or (end, end, core, cable); a core of a cable once only.
        links: terminals that each link joins.
        zones: as in a record, ``{"hall": {"serves": "heating", "channel": "programmer.1", ...}}``.
        cables: as in a record, ``{"hall-valve": {"size_mm2": 0.75, "length_m": 8}}``.
        water: as in a record, ``{"circuits": {...}, "pump": ..., "bypass": ...}``.
        spare: as in a record.

    Raises:
        AssertionError: something named does not exist, or a kind is unknown; all of it in the message.
        pydantic.ValidationError: settings or other values are wrong.
    """
    kinds: dict[str, Kind] = {}
    settings: dict[str, Settings] = {}
    for name, what in devices.items():
        if isinstance(what, DeviceParts):
            kinds[name], settings[name] = _made_kind(what), Settings()
            continue
        kind_name, given = (what, {}) if isinstance(what, str) else what
        kind = kind_named(kind_name)
        assert kind is not None, f"no kind is called {kind_name!r}"
        kinds[name] = kind
        settings[name] = kind.settings.model_validate(given)
    record = Record.model_validate(
        {
            "format": 1,
            "property": _PROPERTY,
            "sure": SURE,
            "devices": {name: {"kind": kind.name} for name, kind in kinds.items()},
            "cables": cables or {},
            "wiring": {
                "direct": [_direct(wire) for wire in conductors],
                "links": [{"ends": list(ends)} for ends in links],
                "spare": list(spare),
            },
            "zones": zones or {},
            "water": water or {},
        }
    )
    built = build_circuit(record, kinds, settings, Places({}, {}))
    assert not built.findings, "\n".join(finding.message for finding in built.findings)
    return built.circuit


def _made_kind(parts: DeviceParts) -> Kind:
    def same(_: Settings) -> DeviceParts:
        return parts

    return Kind(
        name="test-kind",
        words="Test device",
        about="Made for a test.",
        duty=Duty.RELAY,
        settings=Settings,
        parts=same,
    )


def _direct(wire: Wire) -> dict[str, Any]:
    written: dict[str, Any] = {"ends": [wire[0], wire[1]], "core": wire[2]}
    if len(wire) == 4:
        written["cable"] = wire[3]
    return written
