"""What meters show at points that a diode feeds: bands, found in the time domain, since a diode is not linear.

Only the part that hangs on a diode is simulated; everything that metal joins to a supply has the volts that the
nodal solver found. The steady waveform depends on the holding resistor and on the motor, of which little is known,
and meters make different things of it: so every answer is a band. Must not know what the half-wave does to a motor.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product
from math import pi, sqrt

from generator.catalogue.parts import Load, LoadKind
from generator.circuit.model import Circuit
from generator.states.mains import HERTZ
from generator.states.volts import VoltsResult
from generator.states.volts_meter import Meter
from generator.states.volts_network import load_ohm, network_of
from generator.states.waveform import Diode, Series, Sketch, steady_waveform

Band = tuple[float, float]
"""Lowest and highest, in volt."""

FORM_FACTOR = pi / (2 * sqrt(2))
"""R.m.s. over rectified mean of a sine: what an average-responding meter multiplies by."""

_SAME_V = 0.5
"""Volts at supplied points are rounded to this, so that states that differ by a little drop share an answer."""
_NOTHING_V = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Ranges:
    """What may be, besides what is recorded. All from memory: no published figure was found.

    Attributes:
        ohm_factors: the resistor in series with the diode, in parts of what is recorded.
        power_factors: power factors that a motor may have, besides the recorded one; its watts stay.
    """

    ohm_factors: tuple[float, ...] = (0.1, 1.0, 4.0)
    power_factors: tuple[float, ...] = (0.3, 0.95)


AS_RECORDED = Ranges(ohm_factors=(1.0,), power_factors=())


@dataclass(frozen=True, slots=True, kw_only=True)
class HalfWave:
    """What meters of different kinds show at one point, over the ranges.

    Attributes:
        average: average-responding meter, a.c. only: most cheap ones.
        rms_ac: true-r.m.s. meter, a.c. only.
        rms: true-r.m.s. meter, a.c. and d.c. together.
        mean: d.c. range, sign left out.
    """

    average: Band
    rms_ac: Band
    rms: Band
    mean: Band

    @property
    def band(self) -> Band:
        """What any of the three a.c. meters may show."""
        bands = (self.average, self.rms_ac, self.rms)
        return min(low for low, _ in bands), max(high for _, high in bands)


def half_wave(
    circuit: Circuit, result: VoltsResult, meter: Meter, *, to: str, ranges: Ranges | None = None
) -> dict[str, HalfWave]:
    """What the meter shows at every point that hangs on a diode, each measured alone; other points are left out.

    Args:
        circuit: the circuit that was solved.
        result: its solved state.
        meter: the meter.
        to: where its other lead is, the incoming neutral or earth; another point may give an empty answer.
        ranges: what may be; as a rule everything plausible.
    """
    if not result.diodes:
        return {}
    part = _Part(circuit, result)
    far = part.source_at(to)
    if far is None or not part.nets:
        return {}
    shown = {}
    for net in part.nets:
        over = [
            _measures(steady_waveform(sketch, part.nets.index(net), far, meter.ohm))
            for sketch in part.sketches(ranges or Ranges())
        ]
        lows, highs = (
            [min(each) for each in zip(*over, strict=True)],
            [max(each) for each in zip(*over, strict=True)],
        )
        bands = list(zip(lows, highs, strict=True))
        found = HalfWave(average=bands[0], rms_ac=bands[1], rms=bands[2], mean=bands[3])
        if found.band[1] >= _NOTHING_V:
            shown[net] = found
    return {node: shown[net] for node, net in part.net.items() if net in shown}


def _measures(wave: Sequence[float]) -> tuple[float, float, float, float]:
    count = len(wave)
    mean = sum(wave) / count
    without = [value - mean for value in wave]
    rectified = sum(abs(value) for value in without) / count
    return rectified * FORM_FACTOR, _rms(without), _rms(wave), abs(mean)


def _rms(wave: Sequence[float]) -> float:
    return sqrt(sum(value * value for value in wave) / len(wave))


class _Part:
    """The part of a solved circuit that hangs on its diodes, with every other net as a source."""

    def __init__(self, circuit: Circuit, result: VoltsResult) -> None:
        self.circuit = circuit
        network = network_of(circuit, result.supply_v)
        is_closed = set(result.closed)
        metal = network.metal(bytes(contact.name in is_closed for contact in circuit.contacts))
        self.net = {node: metal[at] for node, at in network.index.items()}
        self._supplied = {
            self.net[end]
            for supply in circuit.supplies
            for end in (supply.line, supply.neutral, supply.earth)
        }
        connected = set(result.diodes)
        self._diodes = [
            (self.net[item.anode], self.net[item.cathode], item.ohm)
            for item in circuit.diodes
            if item.name in connected and self.net[item.anode] != self.net[item.cathode]
        ]
        self._loads = [
            (self.net[load.a], self.net[load.b], load)
            for load in circuit.loads
            if self.net[load.a] != self.net[load.b]
        ]
        self._senses = [
            (self.net[sense.a], self.net[sense.b], sense.ohm)
            for sense in circuit.senses
            if self.net[sense.a] != self.net[sense.b]
        ]
        self.nets = self._hanging()
        at_net: dict[int, complex] = {}
        for node, net in self.net.items():
            if net in self._supplied:
                at_net.setdefault(net, _rounded(result.volts[node]))
        # One source for all nets of the same volts, and none that nothing here ends at: more states are alike then.
        used = {
            end
            for a, b in self._branches()
            if a in self.nets or b in self.nets
            for end in (a, b)
            if end in at_net
        }
        used |= {self.net[end] for supply in circuit.supplies[:1] for end in (supply.neutral, supply.earth)}
        self._volts = list(dict.fromkeys(volts for net, volts in at_net.items() if net in used))
        self._sources = {net: self._volts.index(volts) for net, volts in at_net.items() if net in used}

    def _hanging(self) -> list[int]:
        """The nets that a chain of diodes and loads joins to a diode, without passing a supplied one."""
        branches = self._branches()
        found = list(
            dict.fromkeys(end for a, b, _ in self._diodes for end in (a, b) if end not in self._supplied)
        )
        for net in found:
            for a, b in branches:
                for here, there in ((a, b), (b, a)):
                    if here == net and there not in self._supplied and there not in found:
                        found.append(there)
        return found

    def _branches(self) -> list[tuple[int, int]]:
        return [
            *((a, b) for a, b, _ in self._diodes),
            *((a, b) for a, b, _ in self._loads),
            *((a, b) for a, b, _ in self._senses),
        ]

    def source_at(self, node: str) -> int | None:
        """The number of the source that a point is joined to; None where it is not one that was asked about."""
        return self._sources.get(self.net[node])

    def _end(self, net: int) -> int:
        """The number of a net in a sketch: from 0 where its volts are unknown, -1 - source where they are known."""
        return self.nets.index(net) if net in self.nets else -1 - self._sources[net]

    def _ours(self, branches: Iterable[tuple[int, int, object]]) -> list[int]:
        return [at for at, (a, b, _) in enumerate(branches) if a in self.nets or b in self.nets]

    def sketches(self, ranges: Ranges) -> list[Sketch]:
        """The network to simulate, over the ranges."""
        loads = [self._loads[at] for at in self._ours(self._loads)]
        senses = [self._senses[at] for at in self._ours(self._senses)]
        diodes = [self._diodes[at] for at in self._ours(self._diodes)]
        return [
            Sketch(
                unknown=len(self.nets),
                sources=tuple(self._volts),
                series=(
                    *(self._series(a, b, load, factor) for a, b, load in loads),
                    *(Series(self._end(a), self._end(b), ohm, 0.0) for a, b, ohm in senses),
                ),
                diodes=tuple(Diode(self._end(a), self._end(b), ohm * times) for a, b, ohm in diodes),
            )
            for times, factor in product(ranges.ohm_factors, (None, *ranges.power_factors))
        ]

    def _series(self, a: int, b: int, load: Load, power_factor: float | None) -> Series:
        ohm = load_ohm(load)
        if power_factor is not None and load.kind is LoadKind.MOTOR:
            # The watts stay, so the current grows as the power factor falls.
            size = ohm.real / load.power_factor**2 * power_factor
            ohm = complex(size * power_factor, size * sqrt(1 - power_factor**2))
        return Series(self._end(a), self._end(b), ohm.real, ohm.imag / (2 * pi * HERTZ))


def _rounded(volts: complex) -> complex:
    return complex(round(volts.real / _SAME_V) * _SAME_V, round(volts.imag / _SAME_V) * _SAME_V)
