"""Voltage drop along a pair of conductors, and how much of it is allowed.

Knows arithmetic and the limits only: neither which cable is meant nor what it feeds.
"""

from generator.states.mains import NOMINAL_V

LIGHTING_LIMIT = 0.03
"""Share of the nominal voltage, from the origin, public supply: BS 7671 Appendix 4, Table 4Ab."""

OTHER_LIMIT = 0.05
"""As above, for everything but lighting."""


def voltage_drop_v(mv_per_a_m: float, current_a: float, length_m: float) -> float:
    """Drop out and back, in volt: BS 7671 Appendix 4, section 6.

    Args:
        mv_per_a_m: millivolt per ampere and metre of run, which counts both conductors.
        current_a: current in ampere.
        length_m: length of the run one way, in metre.
    """
    return mv_per_a_m * current_a * length_m / 1000


def resistive_drop_v(ohm_per_km: float, current_a: float, length_m: float) -> float:
    """Drop out and back, in volt, from the resistance of one conductor.

    Args:
        ohm_per_km: resistance of one conductor at its temperature.
        current_a: current in ampere.
        length_m: length of the run one way, in metre.
    """
    return 2 * ohm_per_km * current_a * length_m / 1000


def drop_share(drop_v: float, nominal_v: float = NOMINAL_V) -> float:
    """The drop as a share of the nominal voltage, to hold against a limit."""
    return drop_v / nominal_v


def longest_run_m(mv_per_a_m: float, current_a: float, limit: float = OTHER_LIMIT) -> float:
    """The longest run, in metre one way, whose drop stays within the limit."""
    return limit * NOMINAL_V * 1000 / (mv_per_a_m * current_a)
