"""The time-domain solver on networks whose waveform has a formula."""

from math import pi, sqrt

import pytest

from generator.states.half_wave import FORM_FACTOR
from generator.states.waveform import DROP_V, STEPS_A_CYCLE, Diode, Series, Sketch, steady_waveform

METER_OHM = 10e6
HENRY = 1000 / (2 * pi * 50)


def network(*series: Series, diodes: tuple[Diode, ...] = (), unknown: int = 1) -> Sketch:
    """Source 0 is the line, source 1 the neutral."""
    return Sketch(unknown=unknown, sources=(230 + 0j, 0j), series=series, diodes=diodes)


def rms(wave: tuple[float, ...]) -> float:
    return sqrt(sum(value * value for value in wave) / len(wave))


def mean(wave: tuple[float, ...]) -> float:
    return sum(wave) / len(wave)


def test_resistance_and_inductance_divide_as_phasors_do() -> None:
    sketch = network(Series(-1, 0, 500.0, 0.0), Series(0, -2, 1000.0, HENRY))
    wave = steady_waveform(sketch, 0, 1, METER_OHM)
    assert len(wave) == STEPS_A_CYCLE
    assert rms(wave) == pytest.approx(230 * abs((1000 + 1000j) / (1500 + 1000j)), abs=0.05)
    assert mean(wave) == pytest.approx(0, abs=0.05)


def test_a_diode_into_a_resistance_is_half_a_sine() -> None:
    """Mean peak / pi, r.m.s. peak / 2, less the drop."""
    sketch = network(Series(0, -2, 1000.0, 0.0), diodes=(Diode(-1, 0, 1.0),))
    wave = steady_waveform(sketch, 0, 1, METER_OHM)
    peak = 230 * sqrt(2) * 1000 / 1001
    assert mean(wave) == pytest.approx(peak / pi - DROP_V / 2, abs=0.2)
    assert rms(wave) == pytest.approx(peak / 2 - DROP_V / 2, abs=0.3)
    assert min(wave) > -1


def test_the_other_way_round_is_the_other_half() -> None:
    there = steady_waveform(network(Series(0, -2, 1e3, 0.0), diodes=(Diode(-1, 0, 1.0),)), 0, 1, METER_OHM)
    back = steady_waveform(network(Series(0, -2, 1e3, 0.0), diodes=(Diode(0, -1, 1.0),)), 0, 1, METER_OHM)
    assert mean(back) == pytest.approx(-mean(there), abs=0.01)
    assert rms(back) == pytest.approx(rms(there), abs=0.01)


def test_a_diode_with_nothing_behind_it_reads_on_through_the_meter() -> None:
    wave = steady_waveform(network(diodes=(Diode(-1, 0, 1000.0),)), 0, 1, METER_OHM)
    assert mean(wave) == pytest.approx(230 * sqrt(2) / pi, rel=0.02)


def test_current_of_an_inductance_goes_on_past_the_zero_of_the_line() -> None:
    """Conduction angle of a diode into R-L: sin(b - phi) = -sin(phi) exp(-b / tan(phi)), here 225.8 degrees at phi 45."""
    sketch = network(Series(0, -2, 1000.0, HENRY), diodes=(Diode(-1, 0, 1e-3),))
    wave = steady_waveform(sketch, 0, 1, METER_OHM)
    # While it conducts the point has the line's volts, negative after half a cycle; then next to nothing.
    conducting = [at for at, value in enumerate(wave) if abs(value) > 3]
    assert min(wave) < -100
    assert len(conducting) / STEPS_A_CYCLE * 360 == pytest.approx(225.8, abs=4)


def test_two_diodes_head_to_head_pass_nothing() -> None:
    sketch = network(Series(1, -2, 1000.0, 0.0), diodes=(Diode(-1, 0, 1.0), Diode(1, 0, 1.0)), unknown=2)
    assert rms(steady_waveform(sketch, 1, 1, METER_OHM)) == pytest.approx(0, abs=0.1)


def test_form_factor_of_a_sine() -> None:
    assert pytest.approx(1.1107, abs=1e-4) == FORM_FACTOR
