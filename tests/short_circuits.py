"""The circuits of houses written the short way: every arrangement, and many zones."""

from collections.abc import Mapping
from functools import cache
from itertools import islice

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.record.load import load_text
from tests.short_houses import ARRANGEMENTS, HEAD, arrangement_text

_ROOMS = (
    "hall",
    "study",
    "kitchen",
    "loft",
    "annexe",
    "cellar",
    "porch",
    "snug",
    "gallery",
    "larder",
    "dairy",
)


@cache
def short_circuits() -> Mapping[str, Circuit]:
    """One house for every arrangement and for each option that changes its wiring."""
    return {name: _circuit(lines) for name, lines in ARRANGEMENTS.items()}


@cache
def large_circuits() -> Mapping[str, Circuit]:
    """Houses of one zone to sixteen."""
    many = {
        **{
            f"two-port, {count} zones": ("name: two-port", _rooms(count))
            for count in (1, 3, 5, 7, 9, 11, 13, 15, 16)
        },
        "header, 6 zones": ("name: header-with-zone-pumps", _rooms(6)),
        "combination, 5 zones": ("name: combination", _rooms(5, water=False)),
        "underfloor, 8 zones": ("name: underfloor", _rooms(8)),
        "underfloor, 12 zones": ("name: underfloor", _rooms(12, water=False)),
    }
    return {name: _circuit(lines) for name, lines in many.items()}


def _rooms(count: int, *, water: bool = True) -> str:
    names = (*_ROOMS, *(f"{room}-2" for room in _ROOMS))
    zones = [f"{room}: {{serves: heating}}" for room in islice(names, count - water)]
    return f"zones: {{{', '.join([*zones, *(['hot-water: {serves: hot water}'] if water else [])])}}}"


def _circuit(lines: tuple[str, ...]) -> Circuit:
    loaded = load_text((HEAD + arrangement_text(lines)).encode(), "record.yaml")
    assert loaded.record is not None, loaded.findings
    return build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places).circuit
