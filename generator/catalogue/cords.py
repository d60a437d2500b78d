"""Flexible cords: what current each size may carry and how many volts it loses.

Knows one published table only. Values: BS 7671 Table 4F3A (current) and Table 4F3B (voltage drop, single phase),
60 C thermoplastic or thermosetting cords in air at 30 C.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Cord:
    """A size of flexible cord.

    ``drop_mv_per_a_m`` is millivolt per ampere and metre of run, out and back together.
    """

    size_mm2: float
    rated_a: float
    drop_mv_per_a_m: float


CORDS: tuple[Cord, ...] = (
    Cord(size_mm2=0.5, rated_a=3, drop_mv_per_a_m=93),
    Cord(size_mm2=0.75, rated_a=6, drop_mv_per_a_m=62),
    Cord(size_mm2=1.0, rated_a=10, drop_mv_per_a_m=46),
    Cord(size_mm2=1.25, rated_a=13, drop_mv_per_a_m=37),
    Cord(size_mm2=1.5, rated_a=16, drop_mv_per_a_m=32),
    Cord(size_mm2=2.5, rated_a=25, drop_mv_per_a_m=19),
    Cord(size_mm2=4.0, rated_a=32, drop_mv_per_a_m=12),
)


def cord_of(size_mm2: float) -> Cord:
    """The cord of that size. Raises KeyError where the table has none."""
    for cord in CORDS:
        if cord.size_mm2 == size_mm2:
            return cord
    raise KeyError(size_mm2)
