"""The steady waveform of a small network of sources, resistances, inductances and diodes at 50 Hz.

Companion models, trapezoidal, with two steps of backward Euler after a diode has turned so that nothing rings
(Nagel, "SPICE2: a computer program to simulate semiconductor circuits", Memorandum ERL-M520, 1975, for both). A
diode is a drop and a resistance, or nothing. Must not know what the network stands for.
"""

from cmath import phase
from dataclasses import dataclass
from functools import lru_cache
from math import pi, sin

from generator.states.mains import HERTZ

STEPS_A_CYCLE = 240
CYCLES = 4
"""The last one is given; by then, an inductance settling with 7 ms has 0.02 % left of its beginning."""
DROP_V = 0.7
"""Across a silicon diode that conducts: common practice, no source."""

_LEAK_S = 1e-9
"""From every unknown point and across a diode that is off: without it, a point behind one would have no volts."""
_DAMPED_STEPS = 2


@dataclass(frozen=True, slots=True)
class Series:
    """Resistance and inductance in series between two points."""

    a: int
    b: int
    ohm: float
    henry: float


@dataclass(frozen=True, slots=True)
class Diode:
    """A diode with a resistance in series, conducting from ``a`` to ``b``."""

    a: int
    b: int
    ohm: float


@dataclass(frozen=True, slots=True)
class Sketch:
    """A network; points from 0 are unknown, point -1 - n is source n, given as an r.m.s. phasor."""

    unknown: int
    sources: tuple[complex, ...]
    series: tuple[Series, ...]
    diodes: tuple[Diode, ...]


@lru_cache(maxsize=512)
def steady_waveform(sketch: Sketch, near: int, source: int, meter_ohm: float) -> tuple[float, ...]:
    """Volts that a meter sees between an unknown point and a source over one cycle, evenly spaced in time.

    Args:
        sketch: the network.
        near: the unknown point.
        source: the number of the source where the meter's other lead is.
        meter_ohm: resistance of the meter, the only one connected.

    Complexity: one product of an n x n matrix and a vector a step for n unknown points.
    """
    run = _Run(sketch, near, source, meter_ohm)
    return tuple(run.step() for _ in range(STEPS_A_CYCLE * CYCLES))[-STEPS_A_CYCLE:]


class _Run:
    def __init__(self, sketch: Sketch, near: int, source: int, meter_ohm: float) -> None:
        self.near, self.far = near, -1 - source
        self.unknown = sketch.unknown
        self.series = (*sketch.series, Series(near, self.far, meter_ohm, 0.0))
        self.diodes = sketch.diodes
        self.waves = [(abs(volts) * 2**0.5, phase(volts)) for volts in sketch.sources]
        self.seconds = 1 / HERTZ / STEPS_A_CYCLE
        self.at = 0
        self.amps = [0.0] * len(self.series)
        self.across = [0.0] * len(self.series)
        self.on = (False,) * len(self.diodes)
        self.damped = _DAMPED_STEPS
        self.inverses: dict[tuple[tuple[bool, ...], bool], list[list[float]]] = {}
        # By method: trapezoidal, backward Euler.
        self.models = [
            [_companion(item, self.seconds, damped=damped) for item in self.series]
            for damped in (False, True)
        ]

    def step(self) -> float:
        """Advance by one step and give what the meter sees."""
        self.at += 1
        angle = 2 * pi * self.at / STEPS_A_CYCLE
        known = [size * sin(angle + ahead) for size, ahead in self.waves]
        damped = self.damped > 0
        model = self.models[damped]
        past = [
            siemens * (share * volts + back * amps)
            for (siemens, share, back), volts, amps in zip(model, self.across, self.amps, strict=True)
        ]
        on, tried = self.on, {self.on}
        while True:
            volts = self._solve(known, past, on, damped=damped)
            fitting = self._fitting(volts, known)
            if fitting in tried:
                break
            tried.add(fitting)
            on = fitting
        self.damped = _DAMPED_STEPS if on != self.on else max(0, self.damped - 1)
        self.on = on
        for at, item in enumerate(self.series):
            across = _at(item.a, volts, known) - _at(item.b, volts, known)
            self.across[at] = across
            self.amps[at] = model[at][0] * across + past[at]
        return volts[self.near] - known[-1 - self.far]

    def _fitting(self, volts: list[float], known: list[float]) -> tuple[bool, ...]:
        """Which diodes conduct with these volts: what is over the drop is forward current."""
        return tuple(_at(item.a, volts, known) - _at(item.b, volts, known) > DROP_V for item in self.diodes)

    def _solve(
        self, known: list[float], past: list[float], on: tuple[bool, ...], *, damped: bool
    ) -> list[float]:
        right = [0.0] * self.unknown
        for item, (siemens, _, _), amps in zip(self.series, self.models[damped], past, strict=True):
            _put(right, known, item.a, item.b, siemens, amps)
        for diode, conducts in zip(self.diodes, on, strict=True):
            siemens = 1 / diode.ohm if conducts else _LEAK_S
            _put(right, known, diode.a, diode.b, siemens, -DROP_V * siemens if conducts else 0.0)
        inverse = self.inverses.get((on, damped))
        if inverse is None:
            inverse = self.inverses[on, damped] = self._inverse(on, damped=damped)
        return [sum(a * b for a, b in zip(row, right, strict=True)) for row in inverse]

    def _inverse(self, on: tuple[bool, ...], *, damped: bool) -> list[list[float]]:
        matrix = [[_LEAK_S if a == b else 0.0 for b in range(self.unknown)] for a in range(self.unknown)]
        branches = [
            (item.a, item.b, siemens)
            for item, (siemens, _, _) in zip(self.series, self.models[damped], strict=True)
        ]
        branches += [
            (diode.a, diode.b, 1 / diode.ohm if conducts else _LEAK_S)
            for diode, conducts in zip(self.diodes, on, strict=True)
        ]
        for a, b, siemens in branches:
            for here, there in ((a, b), (b, a)):
                if here >= 0:
                    matrix[here][here] += siemens
                    if there >= 0:
                        matrix[here][there] -= siemens
        return _inverted(matrix)


def _companion(item: Series, seconds: float, *, damped: bool) -> tuple[float, float, float]:
    """Conductance over one step, the share of the past volts, and the ohm that the past current counts with."""
    if damped or not item.henry:
        return 1 / (item.ohm + item.henry / seconds), 0.0, item.henry / seconds
    return 1 / (item.ohm + 2 * item.henry / seconds), 1.0, 2 * item.henry / seconds - item.ohm


def _put(right: list[float], known: list[float], a: int, b: int, siemens: float, amps: float) -> None:
    """Add a branch from ``a`` to ``b`` that carries ``siemens`` times its volts and ``amps`` more."""
    if a >= 0:
        right[a] += (siemens * known[-1 - b] if b < 0 else 0.0) - amps
    if b >= 0:
        right[b] += (siemens * known[-1 - a] if a < 0 else 0.0) + amps


def _at(point: int, volts: list[float], known: list[float]) -> float:
    return volts[point] if point >= 0 else known[-1 - point]


def _inverted(matrix: list[list[float]]) -> list[list[float]]:
    """The inverse, by Gauss and Jordan with the largest pivot."""
    size = len(matrix)
    rows = [[*row, *(1.0 if a == b else 0.0 for b in range(size))] for a, row in enumerate(matrix)]
    for column in range(size):
        best = max(range(column, size), key=lambda row: abs(rows[row][column]))
        rows[column], rows[best] = rows[best], rows[column]
        pivot = rows[column][column]
        rows[column] = [value / pivot for value in rows[column]]
        for row in range(size):
            if row != column and rows[row][column]:
                factor = rows[row][column]
                rows[row] = [a - factor * b for a, b in zip(rows[row], rows[column], strict=True)]
    return [row[size:] for row in rows]
