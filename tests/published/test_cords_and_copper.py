"""Cord ratings and conductor resistances against the published tables, and the solver against both."""

import pytest

from generator.catalogue.cords import CORDS, Cord, cord_of
from generator.states.copper import FLEXIBLE_OHM_PER_KM, SOLID_OHM_PER_KM, conductor_ohm
from generator.states.volts import solve_volts
from tests.circuits import house

WARM = (230 + 60) / (230 + 20)
"""From 20 C to the 60 C of a loaded cord: 1.16, as BS 7671 Appendix 4 corrects for temperature."""

SIZES_OF_IEC_60228 = (0.5, 0.75, 1.0, 1.5, 2.5)


@pytest.mark.parametrize(
    ("size_mm2", "rated_a"), [(0.5, 3), (0.75, 6), (1.0, 10), (1.25, 13), (1.5, 16), (2.5, 25), (4.0, 32)]
)
def test_current_of_cords(size_mm2: float, rated_a: float) -> None:
    """BS 7671, Requirements for Electrical Installations, Table 4F3A, single-phase a.c.

    Tables for testing appliances give 15 A for 1.5 mm2; the one of the wiring regulations holds here.
    """
    assert cord_of(size_mm2).rated_a == rated_a


@pytest.mark.parametrize(
    ("size_mm2", "mv"), [(0.5, 93), (0.75, 62), (1.0, 46), (1.25, 37), (1.5, 32), (2.5, 19), (4.0, 12)]
)
def test_drop_of_cords(size_mm2: float, mv: float) -> None:
    """BS 7671, Requirements for Electrical Installations, Table 4F3B, two-core cable, single-phase a.c."""
    assert cord_of(size_mm2).drop_mv_per_a_m == mv


def test_no_other_sizes() -> None:
    with pytest.raises(KeyError):
        cord_of(0.6)


@pytest.mark.parametrize(
    ("size_mm2", "ohm_per_km"),
    [(0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (1.5, 13.3), (2.5, 7.98), (4.0, 4.95)],
)
def test_resistance_of_flexible_conductors(size_mm2: float, ohm_per_km: float) -> None:
    """IEC 60228, Conductors of insulated cables, Table 3 (class 5), plain wires, maximum at 20 C."""
    assert FLEXIBLE_OHM_PER_KM[size_mm2] == ohm_per_km
    assert conductor_ohm(size_mm2, 1000, "flexible cord") == ohm_per_km
    assert conductor_ohm(size_mm2, 1000, "unknown") == ohm_per_km


@pytest.mark.parametrize(
    ("size_mm2", "ohm_per_km"),
    [(0.5, 36.0), (0.75, 24.5), (1.0, 18.1), (1.5, 12.1), (2.5, 7.41), (4.0, 4.61)],
)
def test_resistance_of_fixed_wiring(size_mm2: float, ohm_per_km: float) -> None:
    """IEC 60228, Conductors of insulated cables, Tables 1 and 2 (classes 1 and 2), plain, maximum at 20 C."""
    assert SOLID_OHM_PER_KM[size_mm2] == ohm_per_km
    assert conductor_ohm(size_mm2, 500, "flat cable") == ohm_per_km / 2


@pytest.mark.parametrize("cord", CORDS, ids=lambda cord: f"{cord.size_mm2} mm2")
def test_the_two_published_tables_agree(cord: Cord) -> None:
    """BS 7671 Table 4F3B lies 1.7 % (1.0 mm2) to 4.5 % (4 mm2) above IEC 60228 class 5 taken to 60 C."""
    share = cord.drop_mv_per_a_m / (2 * FLEXIBLE_OHM_PER_KM[cord.size_mm2] * WARM) - 1
    assert 0.0165 <= share <= 0.0455


@pytest.mark.parametrize("size_mm2", SIZES_OF_IEC_60228)
def test_solver_reproduces_the_drop_of_a_cord(size_mm2: float) -> None:
    """BS 7671 Table 4F3B: what the solver loses along a cord at 20 C is that less the temperature factor."""
    length_m = 12.0
    circuit = house(
        devices={"spur": "fused-spur", "heater": ("immersion-heater", {"watts": 690.0})},
        conductors=[
            (f"spur.{end}", f"heater.{end}", core, "cord") for end, core in (("L", "BN"), ("N", "BU"))
        ],
        cables={"cord": {"size_mm2": size_mm2, "length_m": length_m, "type": "flexible cord"}},
    )
    result = solve_volts(circuit, {})
    at = result.volts
    current_a = abs(at["heater.element"] - at["heater.N"]) / (230**2 / 690)
    lost_v = abs(at["spur.L"] - at["heater.L"]) + abs(at["heater.N"] - at["spur.N"])
    mv_per_a_m = lost_v * 1000 / current_a / length_m
    assert mv_per_a_m == pytest.approx(2 * FLEXIBLE_OHM_PER_KM[size_mm2], rel=1e-6)
    assert 1.0165 <= cord_of(size_mm2).drop_mv_per_a_m / (mv_per_a_m * WARM) <= 1.04
