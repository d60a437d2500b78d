"""The time-domain solver point by point: against formulas, and against a plain march in steps of a hundredth of its own."""

from cmath import exp as turn
from math import exp, pi, sin, sqrt

import pytest

from generator.states.waveform import STEPS_A_CYCLE, Diode, Series, Sketch, steady_waveform

METER_OHM = 10e6
PEAK_V = 230 * sqrt(2)
HENRY = 1000 / (2 * pi * 50)
"""1,000 ohm at 50 Hz."""
DROP_V = 0.7
"""Across a silicon diode: common practice, no source."""
ANGLES = [2 * pi * (at + 1) / STEPS_A_CYCLE for at in range(STEPS_A_CYCLE)]
"""The first value is that of one step after the line's rising zero."""


def network(
    *series: Series, diodes: tuple[Diode, ...] = (), unknown: int = 1, others: tuple[complex, ...] = ()
) -> Sketch:
    """Source 0 is the line, source 1 the neutral, and then the others."""
    return Sketch(unknown=unknown, sources=(230 + 0j, 0j, *others), series=series, diodes=diodes)


def sine(size: complex) -> list[float]:
    """A phasor in time."""
    return [sqrt(2) * (size * turn(1j * angle)).imag for angle in ANGLES]


def test_a_divider_is_in_step_with_the_line() -> None:
    wave = steady_waveform(network(Series(-1, 0, 1e3, 0.0), Series(0, -2, 3e3, 0.0)), 0, 1, METER_OHM)
    assert wave == pytest.approx(sine(230 * 3 / 4), abs=0.05)


def test_the_meter_is_a_resistance_between_its_leads() -> None:
    """1 kilohm from the line, and a meter of 1 kilohm: half of it, to the neutral as to a source in the other half."""
    sketch = network(Series(-1, 0, 1e3, 0.0), others=(-230 + 0j,))
    assert steady_waveform(sketch, 0, 1, 1e3) == pytest.approx(sine(115), abs=0.01)
    assert steady_waveform(sketch, 0, 2, 1e3) == pytest.approx(sine(230), abs=0.01)
    assert steady_waveform(sketch, 0, 0, 1e3) == pytest.approx(sine(0), abs=0.01)


def test_a_source_ahead_comes_earlier() -> None:
    """A second phase, a third of a turn ahead, behind half of a divider."""
    ahead = 230 * turn(2j * pi / 3)
    sketch = network(Series(-3, 0, 1e3, 0.0), Series(0, -2, 1e3, 0.0), others=(ahead,))
    assert steady_waveform(sketch, 0, 1, METER_OHM) == pytest.approx(sine(ahead / 2), abs=0.03)


@pytest.mark.parametrize(("ohm", "henry"), [(1e3, HENRY), (0.0, HENRY), (200.0, 2 * HENRY)])
def test_an_inductance_lags_as_phasors_do(ohm: float, henry: float) -> None:
    """Behind 500 ohm: the volts across it against the formula for phasors, at every step of the cycle."""
    sketch = network(Series(-1, 0, 500.0, 0.0), Series(0, -2, ohm, henry))
    ohms = ohm + 2j * pi * 50 * henry
    assert steady_waveform(sketch, 0, 1, METER_OHM) == pytest.approx(
        sine(230 * ohms / (500 + ohms)), abs=0.15
    )


def test_an_inductance_before_the_point_counts_as_one_behind_it() -> None:
    """Given the other way round as well."""
    expected = sine(230 * 500 / (1500 + 1000j))
    for first in (Series(-1, 0, 1e3, HENRY), Series(0, -1, 1e3, HENRY)):
        for second in (Series(0, -2, 500.0, 0.0), Series(-2, 0, 500.0, 0.0)):
            wave = steady_waveform(network(first, second), 0, 1, METER_OHM)
            assert wave == pytest.approx(expected, abs=0.15)


def test_two_points_one_behind_the_other() -> None:
    """A ladder of 1 kilohm each: 230 V over 2/5 and 1/5 of it."""
    ladder = (
        Series(-1, 0, 1e3, 0.0),
        Series(0, -2, 1e3, 0.0),
        Series(0, 1, 1e3, 0.0),
        Series(1, -2, 1e3, 0.0),
    )
    for near, share in ((0, 2 / 5), (1, 1 / 5)):
        wave = steady_waveform(network(*ladder, unknown=2), near, 1, METER_OHM)
        assert wave == pytest.approx(sine(230 * share), abs=0.03)
        # A source that nothing leads to, and a point that nothing leads to, are as if they were not there.
        for middle in (Series(0, 1, 1e3, 0.0), Series(1, 0, 1e3, 0.0)):
            turned = (middle if {item.a, item.b} == {0, 1} else item for item in ladder)
            alone = network(*turned, unknown=3, others=(99j,))
            assert steady_waveform(alone, near, 1, METER_OHM) == pytest.approx(wave, abs=1e-9)


def test_the_current_of_an_inductance_goes_on_through_a_second_diode() -> None:
    """While the line is below, the point lies under the neutral by a drop and what the current has across 1 ohm."""
    sketch = network(Series(0, -2, 1e3, HENRY), diodes=(Diode(-1, 0, 1.0), Diode(-2, 0, 1.0)))
    wave = steady_waveform(sketch, 0, 1, METER_OHM)
    for ours, angle in zip(wave, ANGLES, strict=True):
        line = PEAK_V * sin(angle)
        if line > 20:
            assert ours == pytest.approx(line - DROP_V, abs=0.5)
        elif line < -20:
            assert ours == pytest.approx(-DROP_V - 0.1, abs=0.15)


def marched(
    ohm: float, henry: float, diode_ohm: float, *, steps: int = 100, cycles: int = 6
) -> tuple[list[float], list[float]]:
    """Line, diode, then resistance and inductance to the neutral: volts at the point between, and the current.

    Backward Euler with a hundred steps for each of the solver's; off while the current would run backwards.
    """
    seconds = 0.02 / STEPS_A_CYCLE / steps
    amps = 0.0
    volts: list[float] = []
    current: list[float] = []
    for at in range(1, STEPS_A_CYCLE * cycles * steps + 1):
        line = PEAK_V * sin(2 * pi * at / STEPS_A_CYCLE / steps)
        amps = max(0.0, (amps * henry / seconds + line - DROP_V) / (henry / seconds + ohm + diode_ohm))
        if at % steps == 0:
            volts.append(line - DROP_V - diode_ohm * amps if amps else 0.0)
            current.append(amps)
    return volts[-STEPS_A_CYCLE:], current[-STEPS_A_CYCLE:]


@pytest.mark.parametrize("ohm", [300.0, 1000.0])
def test_a_diode_into_an_inductance_at_every_step(ohm: float) -> None:
    """But for the two steps in which the diode turns."""
    wave = steady_waveform(network(Series(0, -2, ohm, HENRY), diodes=(Diode(-1, 0, 50.0),)), 0, 1, METER_OHM)
    expected, amps = marched(ohm, HENRY, 50.0, steps=20)
    turning = [at for at in range(STEPS_A_CYCLE) if (amps[at] > 0) != (amps[at - 1] > 0)]
    assert len(turning) == 2
    near = {(at + by) % STEPS_A_CYCLE for at in turning for by in (-2, -1, 0, 1, 2)}
    for at, (ours, theirs) in enumerate(zip(wave, expected, strict=True)):
        if at not in near:
            assert ours == pytest.approx(theirs, abs=0.005 * PEAK_V), at


def test_the_drop_of_a_diode_into_a_resistance() -> None:
    """While it conducts, the line less the drop, over 1,000 of 1,050 ohm; the meter apart. Else nothing."""
    wave = steady_waveform(network(Series(0, -2, 1e3, 0.0), diodes=(Diode(-1, 0, 50.0),)), 0, 1, METER_OHM)
    for ours, angle in zip(wave, ANGLES, strict=True):
        line = PEAK_V * sin(angle)
        assert ours == pytest.approx(max(0.0, (line - DROP_V) * 1000 / 1050), abs=0.05)


def test_the_other_way_round_at_every_step() -> None:
    wave = steady_waveform(network(Series(0, -2, 1e3, 0.0), diodes=(Diode(0, -1, 50.0),)), 0, 1, METER_OHM)
    for ours, angle in zip(wave, ANGLES, strict=True):
        line = PEAK_V * sin(angle)
        assert ours == pytest.approx(min(0.0, (line + DROP_V) * 1000 / 1050), abs=0.05)


def test_two_diodes_to_one_point_pass_both_halves() -> None:
    """From the line and from a source in the other half: the line's size, always the same way."""
    sketch = network(
        Series(0, -2, 1e3, 0.0),
        diodes=(Diode(-1, 0, 50.0), Diode(-3, 0, 50.0)),
        others=(-230 + 0j,),
    )
    for ours, angle in zip(steady_waveform(sketch, 0, 1, METER_OHM), ANGLES, strict=True):
        line = abs(PEAK_V * sin(angle))
        assert ours == pytest.approx(max(0.0, (line - DROP_V) * 1000 / 1050), abs=0.05)


def test_a_diode_between_two_points_that_are_not_sources() -> None:
    """1 kilohm, a diode, 1 kilohm: half the line less the drop behind it, and before it all of the other half."""
    sketch = network(Series(-1, 0, 1e3, 0.0), Series(1, -2, 1e3, 0.0), diodes=(Diode(0, 1, 50.0),), unknown=2)
    before, behind = (steady_waveform(sketch, near, 1, METER_OHM) for near in (0, 1))
    for at, angle in enumerate(ANGLES):
        line = PEAK_V * sin(angle)
        amps = max(0.0, line - DROP_V) / 2050
        assert behind[at] == pytest.approx(1000 * amps, abs=0.05)
        assert before[at] == pytest.approx(line - 1000 * amps, abs=0.05)


def test_it_has_settled_by_the_cycle_that_is_given() -> None:
    """After three cycles 2.5e-4 is left of what an inductance with 7.2 ms began with: no direct current worth the name."""
    ohm, henry = 100.0, 0.72
    wave = steady_waveform(network(Series(-1, 0, ohm, 0.0), Series(0, -2, 0.0, henry)), 0, 1, METER_OHM)
    assert exp(-0.06 / (henry / ohm)) == pytest.approx(2.4e-4, rel=0.02)
    assert sum(wave) / len(wave) == pytest.approx(0, abs=0.05)
    ohms = 2j * pi * 50 * henry
    assert wave == pytest.approx(sine(230 * ohms / (ohm + ohms)), abs=0.3)
