"""What meters show behind a diode, against the formula of a half-wave into a resistance and against variants of a circuit."""

from collections.abc import Sequence
from dataclasses import astuple, replace
from itertools import product
from math import pi, sin, sqrt

import pytest

from generator.catalogue.logic import ALWAYS, NEVER
from generator.catalogue.parts import DeviceParts, Diode, Load, LoadKind, Role, Sense, Terminal
from generator.circuit.model import Circuit
from generator.states.half_wave import AS_RECORDED, Band, HalfWave, Ranges, half_wave
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, Meter, incoming_earth, incoming_neutral
from generator.states.waveform import Diode as WaveDiode
from generator.states.waveform import Series, Sketch, steady_waveform
from tests.circuits import Kinds, Wire, house

DROP_V = 0.7
"""Across a silicon diode: common practice, no source."""
FINE = [2 * pi * at / 36_000 for at in range(36_000)]


def resistor(name: str, a: str, b: str, ohm: float = 1000.0) -> Load:
    return Load(name=name, words=name, a=a, b=b, watts=230**2 / ohm, power_factor=1, kind=LoadKind.HEATER)


def motor(power_factor: float = 0.8) -> Load:
    return Load(name="m", words="m", a="2", b="N", watts=20, power_factor=power_factor, kind=LoadKind.MOTOR)


def box(
    *loads: Load, ohm: float = 500.0, senses: tuple[Sense, ...] = (), turned: bool = False, on: bool = True
) -> DeviceParts:
    """A diode from ``1`` to ``2``, and what hangs on it."""
    ends = ("2", "1") if turned else ("1", "2")
    return DeviceParts(
        terminals=tuple(
            Terminal(name=name, words=name, role=Role.CONTACT, needed=False) for name in ("1", "2", "3", "N")
        ),
        loads=loads,
        senses=senses,
        diodes=(
            Diode(name="d", words="d", anode=ends[0], cathode=ends[1], ohm=ohm, when=ALWAYS if on else NEVER),
        ),
    )


def circuit(
    parts: DeviceParts, *wires: Wire, others: Kinds | None = None, phase: int = 1, line: str = "1"
) -> Circuit:
    """The box on the supply of a spur, and further wires and devices."""
    return house(
        devices={"spur": ("fused-spur", {"phase": phase}), "box": parts, **(others or {})},
        conductors=[("spur.L", f"box.{line}", "BN", "a"), ("spur.N", "box.N", "BU", "a"), *wires],
    )


def shown(
    house_: Circuit, *, to: str = "", ranges: Ranges | None = AS_RECORDED, meter: Meter = HIGH_IMPEDANCE
) -> dict[str, HalfWave]:
    result = solve_volts(house_, {})
    return half_wave(house_, result, meter, to=to or incoming_neutral(house_), ranges=ranges)


def by_hand(share: float, *, peak: float = 230 * sqrt(2)) -> tuple[float, float, float, float]:
    """Average-responding, r.m.s. of the a.c. part, r.m.s., and mean, of the share of a half-wave less the drop."""
    wave = [max(0.0, peak * sin(angle) - DROP_V) * share for angle in FINE]
    mean = sum(wave) / len(wave)
    square = sum(value * value for value in wave) / len(wave)
    rectified = sum(abs(value - mean) for value in wave) / len(wave)
    # A sine with this rectified mean has pi / (2 sqrt 2) times as much r.m.s.
    return rectified * pi / 2 / sqrt(2), sqrt(square - mean**2), sqrt(square), mean


def check(found: HalfWave, low: Sequence[float], high: Sequence[float], within: float = 0.1) -> None:
    for (ours_low, ours_high), least, most in zip(astuple(found), low, high, strict=True):
        assert ours_low == pytest.approx(least, abs=within)
        assert ours_high == pytest.approx(most, abs=within)


def test_into_a_resistance_by_the_formula() -> None:
    """1,000 ohm behind 500: two thirds of the half-wave. To the neutral and to the earth, which are one point."""
    house_ = circuit(box(resistor("r", "2", "N")))
    for to in (incoming_neutral(house_), incoming_earth(house_)):
        found = shown(house_, to=to)
        assert set(found) == {"box.2"}
        check(found["box.2"], by_hand(2 / 3), by_hand(2 / 3))


def test_every_phase_gives_the_same() -> None:
    for phase in (2, 3):
        found = shown(circuit(box(resistor("r", "2", "N")), phase=phase))
        check(found["box.2"], by_hand(2 / 3), by_hand(2 / 3), within=0.3)


def test_the_other_half_reads_alike() -> None:
    """A meter leaves the sign of a mean out."""
    found = shown(circuit(box(resistor("r", "2", "N"), turned=True)))
    check(found["box.2"], by_hand(2 / 3), by_hand(2 / 3))


def test_a_meter_of_1000_ohm_halves_the_resistance() -> None:
    found = shown(circuit(box(resistor("r", "2", "N"))), meter=Meter(words="1 k", ohm=1000.0))
    check(found["box.2"], by_hand(500 / 1000), by_hand(500 / 1000))


def test_a_resistor_that_may_be_a_tenth_or_four_times_the_recorded_one() -> None:
    ranges = Ranges(ohm_factors=(0.1, 1.0, 4.0), power_factors=())
    found = shown(circuit(box(resistor("r", "2", "N"))), ranges=ranges)
    check(found["box.2"], by_hand(1000 / 3000), by_hand(1000 / 1050))


def test_the_band_is_that_of_the_a_c_meters_alone() -> None:
    """The mean, here wider than all of them, does not count."""
    bands: dict[str, Band] = {"average": (3, 9), "rms_ac": (4, 8), "rms": (5, 10), "mean": (1, 20)}
    assert HalfWave(**bands).band == (3, 10)


def test_points_one_behind_another_and_points_that_are_joined() -> None:
    """Two loads of 1,000 ohm in series: four fifths of the half-wave, and two fifths between them."""
    parts = box(resistor("near", "2", "3"), resistor("far", "3", "N"))
    other: Kinds = {"other": ("wiring-centre", {"terminals": ("A", "B")})}
    house_ = circuit(parts, ("box.3", "other.A", "BK", "b"), others=other)
    found = shown(house_)
    assert set(found) == {"box.2", "box.3", "other.A"}
    check(found["box.2"], by_hand(4 / 5), by_hand(4 / 5))
    check(found["box.3"], by_hand(2 / 5), by_hand(2 / 5))
    assert found["other.A"] == found["box.3"]


def test_the_inner_resistance_of_a_sensing_source_is_a_load() -> None:
    sense = Sense(name="s", a="2", b="N", volts=24, ohm=1000)
    check(shown(circuit(box(senses=(sense,))))["box.2"], by_hand(2 / 3), by_hand(2 / 3))


def test_what_hangs_on_no_diode_changes_nothing() -> None:
    """Another load beside it, a load and a sensing source with both ends on one point, another supply."""
    plain = shown(circuit(box(resistor("r", "2", "N"))))
    parts = box(
        resistor("r", "2", "N"),
        resistor("idle", "2", "3", 10.0),
        resistor("beside", "1", "N"),
        senses=(
            Sense(name="s", a="2", b="3", volts=24, ohm=5),
            Sense(name="t", a="1", b="N", volts=9, ohm=9e3),
        ),
    )
    others: Kinds = {"pump": "pump", "second": "fused-spur"}
    wires: list[Wire] = [
        ("box.2", "box.3", "BK", "b"),
        ("spur.L", "pump.L", "BN", "c"),
        ("spur.N", "pump.N", "BU", "c"),
    ]
    found = shown(circuit(parts, *wires, others=others))
    assert set(found) == {"box.2", "box.3"}
    # The pump takes a quarter of a volt off the line.
    check(found["box.2"], *hull([plain["box.2"]]), within=0.3)


def test_nothing_where_no_diode_passes_anything() -> None:
    load = resistor("r", "2", "N")
    assert shown(circuit(box(load, on=False))) == {}
    assert shown(circuit(box(load), ("spur.L", "box.2", "BK", "b"))) == {}, "both ends on the line"
    assert shown(circuit(box(), ("spur.N", "box.2", "BK", "b"))) == {}, "from line to neutral"
    assert shown(circuit(box(load), line="3")) == {}, "not connected"


def test_only_what_hangs_on_a_diode_that_is_connected() -> None:
    """Beside it a diode that is not, and two loads in series between line and neutral: of those nothing is told."""
    load = resistor("r", "2", "N")
    chain = DeviceParts(
        terminals=box().terminals, loads=(resistor("near", "1", "2"), resistor("far", "2", "N"))
    )
    wires: list[Wire] = [
        (f"spur.{end}", f"{name}.{to}", core, name)
        for name in ("off", "chain")
        for end, to, core in (("L", "1", "BN"), ("N", "N", "BU"))
    ]
    found = shown(circuit(box(load), *wires, others={"off": box(load, on=False), "chain": chain}))
    assert set(found) == {"box.2"}
    check(found["box.2"], by_hand(2 / 3), by_hand(2 / 3), within=0.3)


def test_nothing_to_a_point_that_has_no_volts_of_its_own() -> None:
    assert shown(circuit(box(resistor("r", "2", "N"))), to="box.2") == {}
    assert shown(circuit(box(resistor("r", "2", "N"))), to="box.3") == {}


@pytest.mark.parametrize(("ohm", "is_shown"), [(930.0, True), (500.0, False)])
def test_less_than_a_volt_is_not_told(ohm: float, is_shown: bool) -> None:
    """Behind 100 kilohm: r.m.s. 1.5 V across 930 ohm, 0.8 V across 500."""
    found = shown(circuit(box(resistor("r", "2", "N", ohm), ohm=100e3)))
    assert bool(found) is is_shown
    if found:
        check(found["box.2"], by_hand(930 / 100930), by_hand(930 / 100930), within=0.02)


def hull(found: Sequence[HalfWave]) -> tuple[list[float], list[float]]:
    """The lowest and the highest of each sort of meter."""
    each = list(zip(*(astuple(one) for one in found), strict=True))
    return [min(low for low, _ in bands) for bands in each], [
        max(high for _, high in bands) for bands in each
    ]


def test_a_motor_may_have_another_power_factor_for_the_same_watts() -> None:
    """As wide as the answers for two motors of which each is recorded."""
    ranges = Ranges(ohm_factors=(1.0,), power_factors=(0.5,))
    found = shown(circuit(box(motor(0.8))), ranges=ranges)["box.2"]
    single = [shown(circuit(box(motor(factor))))["box.2"] for factor in (0.8, 0.5)]
    check(found, *hull(single), within=1e-6)
    heater = circuit(box(resistor("r", "2", "N")))
    assert shown(heater, ranges=ranges) == shown(heater)


def test_a_motor_is_the_resistance_and_inductance_that_take_its_watts() -> None:
    """20 W at a power factor of 0.8: 2,116 ohm in all, of which 0.8 resist, and 0.6 are of an inductance."""
    ohm = 230**2 * 0.8 / 20
    sketch = Sketch(
        unknown=1,
        sources=(230 + 0j, 0j),
        series=(Series(0, -2, 0.8 * ohm, 0.6 * ohm / (2 * pi * 50)),),
        diodes=(WaveDiode(-1, 0, 500.0),),
    )
    wave = steady_waveform(sketch, 0, 1, HIGH_IMPEDANCE.ohm)
    found = shown(circuit(box(motor(0.8))))["box.2"]
    assert found.rms[0] == pytest.approx(sqrt(sum(value**2 for value in wave) / len(wave)), abs=0.1)
    assert found.mean[0] == pytest.approx(sum(wave) / len(wave), abs=0.1)


def test_what_may_be_as_a_rule() -> None:
    """Every resistance and every power factor of the ranges, each as if it were the recorded one."""
    found = shown(circuit(box(motor())), ranges=None)["box.2"]
    variants = [
        shown(circuit(box(motor(factor), ohm=500 * times)))["box.2"]
        for factor, times in product((0.8, *Ranges().power_factors), Ranges().ohm_factors)
    ]
    check(found, *hull(variants), within=1e-6)


def test_two_diodes_from_two_supplies_are_told_apart() -> None:
    """A second box on a second supply, its line a third of a turn off: each as if alone."""
    parts = box(resistor("r", "2", "N"))
    house_ = circuit(
        parts,
        ("second.L", "other.1", "BN", "b"),
        ("second.N", "other.N", "BU", "b"),
        others={
            "second": ("fused-spur", {"phase": 2}),
            "other": replace(parts, loads=(resistor("r", "2", "N", 250),)),
        },
    )
    found = shown(house_)
    assert set(found) == {"box.2", "other.2"}
    check(found["box.2"], by_hand(2 / 3), by_hand(2 / 3))
    check(found["other.2"], by_hand(1 / 3), by_hand(1 / 3), within=0.3)
