"""Voltage drop: the formula, the limits, and worked examples."""

import pytest

from generator.catalogue.cords import cord_of
from generator.states.drop import (
    LIGHTING_LIMIT,
    OTHER_LIMIT,
    drop_share,
    longest_run_m,
    resistive_drop_v,
    voltage_drop_v,
)
from generator.states.mains import NOMINAL_V


def test_limits() -> None:
    """BS 7671, Requirements for Electrical Installations, Appendix 4, Table 4Ab: public low-voltage supply."""
    assert pytest.approx(6.9) == LIGHTING_LIMIT * NOMINAL_V
    assert pytest.approx(11.5) == OTHER_LIMIT * NOMINAL_V


def test_worked_example_with_millivolts() -> None:
    """A published worked example (common practice, no source): 2.5 mm2 flat cable, 18 mV/A/m, 16 A, 18 m."""
    drop_v = voltage_drop_v(18, 16, 18)
    assert drop_v == pytest.approx(5.184)
    assert drop_share(drop_v) <= OTHER_LIMIT


def test_worked_example_with_resistivity() -> None:
    """A published worked example (common practice, no source): 32 A, 30 m, 6 mm2, 0.0225 ohm mm2/m."""
    drop_v = resistive_drop_v(0.0225 / 6 * 1000, 32, 30)
    assert drop_v == pytest.approx(7.20)
    assert 100 * drop_share(drop_v) == pytest.approx(3.13, abs=0.005)
    assert LIGHTING_LIMIT < drop_share(drop_v) <= OTHER_LIMIT


@pytest.mark.parametrize(
    ("size_mm2", "drop_v", "run_m"),
    [(0.5, 2.79, 41.2), (0.75, 1.86, 61.8), (1.0, 1.38, 83.3), (1.5, 0.96, 119.8)],
)
def test_a_full_three_ampere_fuse(size_mm2: float, drop_v: float, run_m: float) -> None:
    """Worked from BS 7671 Tables 4F3B and 4Ab: 3 A over 10 m, and the longest run within 5 %."""
    mv = cord_of(size_mm2).drop_mv_per_a_m
    assert voltage_drop_v(mv, 3, 10) == pytest.approx(drop_v)
    assert longest_run_m(mv, 3) == pytest.approx(run_m, abs=0.05)


def test_a_usual_heating_load() -> None:
    """Worked from BS 7671 Table 4F3B: boiler 130 W, pump 60 W, two valves at 6 W, 15 m of 0.75 mm2."""
    current_a = (130 + 60 + 2 * 6) / NOMINAL_V
    drop_v = voltage_drop_v(cord_of(0.75).drop_mv_per_a_m, current_a, 15)
    assert current_a == pytest.approx(0.878, abs=0.0005)
    assert drop_v == pytest.approx(0.817, abs=0.0005)
    assert 100 * drop_share(drop_v) == pytest.approx(0.355, abs=0.0005)
