"""Resistance of copper conductors by cross-section and build.

Knows numbers of published tables only: nothing of circuits, loads or temperature while in use.
"""

from collections.abc import Mapping

FLEXIBLE_OHM_PER_KM: Mapping[float, float] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.25: 15.6,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
}
"""By size in mm2: IEC 60228 class 5 (flexible), plain copper, at most, d.c., at 20 C.

1.25 mm2 is no size of IEC 60228: that value is the one of 1.0 mm2 taken down by area.
"""

SOLID_OHM_PER_KM: Mapping[float, float] = {
    0.5: 36.0,
    0.75: 24.5,
    1.0: 18.1,
    1.25: 14.48,
    1.5: 12.1,
    2.5: 7.41,
    4.0: 4.61,
}
"""By size in mm2: IEC 60228 class 1 and 2 (solid, stranded), plain copper, at most, d.c., at 20 C.

1.25 mm2 as above.
"""

_SOLID_TYPES = ("flat cable", "conduit singles")


def conductor_ohm(size_mm2: float, length_m: float, cable_type: str) -> float:
    """Resistance at 20 C of one core from end to end, in ohm.

    Args:
        size_mm2: a size of the tables.
        length_m: its length in metre.
        cable_type: as a record words it; cables of fixed wiring are solid or stranded, all else is flexible.

    Raises:
        KeyError: no such size.
    """
    table = SOLID_OHM_PER_KM if cable_type in _SOLID_TYPES else FLEXIBLE_OHM_PER_KM
    return table[size_mm2] * length_m / 1000
