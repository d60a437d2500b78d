"""Writes a circuit as a netlist for ngspice and reads back what a meter shows: the third opinion on volts.

Plain physics, stated here once more on purpose: every number of this module is its own, so that a slip in the
nodal solver's cannot hide. It takes the positions of contacts as given. A sensing source is its inner resistance as
long as mains is looked at, and a diode is not there: neither is for one frequency. Must not import any solver.

A meter is a resistor in series with an ammeter (a source of 0 V). One deck holds the whole circuit with a meter
at every terminal; all but one have next to no conductance, and a control block connects one after another.
`test_volts_and_ngspice.py` holds that against decks with really one meter and nothing else.
"""

import os
import re
import subprocess
from collections.abc import Collection, Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from math import acos, pi, sin

from generator.circuit.model import Circuit

HERTZ = 50
SUPPLY_V = 230
LINE_OHM, NEUTRAL_OHM, EARTH_OHM = 0.5, 0.15, 0.15
CONTACT_OHM, LINK_OHM, CONDUCTOR_OHM = 0.01, 0.001, 0.01
# IEC 60228, ohm per km at 20 C, at most: class 5 for cords, class 1 and 2 for fixed wiring.
FLEXIBLE = {0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.25: 15.6, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95}
SOLID = {0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.25: 14.48, 1.5: 12.1, 2.5: 7.41, 4.0: 4.61}

_OPEN_OHM = "1e15"
_AWAY_OHM = "1e18"
_LEAD_OHM = "1e-3"
_LEAK_OHM = "1e12"
_SOLVES_A_RUN = 10_000

Positions = frozenset[str]
"""Names of the contacts that are closed; all others are open."""


class SimulatorFailed(Exception):
    """Ngspice did not give what was asked; the message is its own."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing to measure: the meter's leads on ``terminal`` and on ``to``, contacts in these positions."""

    closed: Positions
    terminal: str
    to: str


def node_names(circuit: Circuit) -> dict[str, str]:
    """The netlist's own name of each point; 0 is where neutral and earth are joined."""
    return {node: f"p{at}" for at, node in enumerate(circuit.nodes)}


def element_lines(circuit: Circuit) -> Iterator[str]:
    """Supplies, conductors, loads and senses of the circuit, one line each; contacts are left to the caller."""
    name = node_names(circuit)
    for at, supply in enumerate(circuit.supplies):
        yield f"Vs{at} s{at} 0 dc 0 ac {SUPPLY_V * supply.volts / 230:.9g} {-120 * (supply.phase - 1)}"
        yield f"Rsl{at} s{at} {name[supply.line]} {LINE_OHM}"
        yield f"Rsn{at} {name[supply.neutral]} 0 {NEUTRAL_OHM}"
        yield f"Rse{at} {name[supply.earth]} 0 {EARTH_OHM}"
    cables = {cable.name: cable for cable in circuit.cables}
    for at, wire in enumerate(circuit.conductors):
        ohm = CONDUCTOR_OHM if wire.core else LINK_OHM
        cable = cables.get(wire.cable) if wire.core else None
        if cable is not None and cable.size_mm2 and cable.length_m:
            solid = cable.type in {"flat cable", "conduit singles"}
            ohm = (SOLID if solid else FLEXIBLE)[cable.size_mm2] / 1000 * cable.length_m
        yield f"Rw{at} {name[wire.a]} {name[wire.b]} {ohm:.9g}"
    for at, load in enumerate(circuit.loads):
        # P = I^2 R and I = P / (V cos phi), so R = (V cos phi)^2 / P, X = R tan phi.
        resistance = (230 * load.power_factor) ** 2 / load.watts
        reactance = resistance * sin(acos(load.power_factor)) / load.power_factor
        if reactance < 1e-9 * resistance:
            yield f"Rl{at} {name[load.a]} {name[load.b]} {resistance:.12g}"
        else:
            yield f"Rl{at} {name[load.a]} l{at} {resistance:.12g}"
            yield f"Ll{at} l{at} {name[load.b]} {reactance / (2 * pi * HERTZ):.12g}"
    for at, sense in enumerate(circuit.senses):
        # A battery in series for `sensed_volts`; on mains alone it is a piece of wire.
        yield f"Vq{at} q{at} {name[sense.b]} dc 0"
        yield f"Rq{at} {name[sense.a]} q{at} {sense.ohm:.9g}"


def capacitor_lines(circuit: Circuit, farad_a_metre: float, usual_m: float) -> list[str]:
    """A capacitor between every two cores of a cable; ``usual_m`` is the length of a cable without one."""
    name = node_names(circuit)
    metres = {cable.name: cable.length_m for cable in circuit.cables}
    return [
        f"Cc{one.index}x{two.index} {name[one.a]} {name[two.a]} {farad_a_metre * (metres.get(one.cable) or usual_m):.9g}"
        for one in circuit.conductors
        for two in circuit.conductors
        if one.index < two.index and one.cable == two.cable and one.core and two.core
    ]


def single_meter_deck(
    circuit: Circuit, reading: Reading, meter_ohm: float, *, extra: Iterable[str] = ()
) -> str:
    """The deck that hides nothing: open contacts are not there, and one meter is; ``extra`` lines as they are."""
    name = node_names(circuit)
    lines = ["one meter", *element_lines(circuit), *extra]
    lines += [
        f"Rk{at} {name[contact.a]} {name[contact.b]} {CONTACT_OHM}"
        for at, contact in enumerate(circuit.contacts)
        if contact.name in reading.closed
    ]
    # Something must hold the voltage of parts that are joined to nothing; a teraohm carries no current to speak of.
    lines += [f"Rz{at} {point} 0 {_LEAK_OHM}" for at, point in enumerate(name.values())]
    lines += [f"Rm {name[reading.terminal]} lead {meter_ohm:.9g}", f"Vm lead {name[reading.to]} dc 0"]
    lines += _control([f"ac lin 1 {HERTZ} {HERTZ}", "print mag(i(vm))"])
    return "\n".join(lines) + "\n"


def positions_text(circuit: Circuit, closed: Positions) -> str:
    """All of the deck that differs between two states of a circuit."""
    return "\n".join(
        f"alter rk{at} = {CONTACT_OHM if contact.name in closed else _OPEN_OHM}"
        for at, contact in enumerate(circuit.contacts)
    )


def shown_volts(circuit: Circuit, wanted: Iterable[Reading], meter_ohm: float) -> list[float]:
    """What the meter shows in each reading, in their order, each with this one meter connected.

    Raises:
        SimulatorFailed: ngspice could not solve one of them.
    """
    jobs = list(wanted)
    parts = [jobs[at : at + _SOLVES_A_RUN] for at in range(0, len(jobs), _SOLVES_A_RUN)]
    with ThreadPoolExecutor(max_workers=os.cpu_count() or 1) as pool:
        runs = pool.map(lambda part: _moving_meter(circuit, part, meter_ohm), parts)
        return [volts for run in runs for volts in run]


def _moving_meter(circuit: Circuit, jobs: Sequence[Reading], meter_ohm: float) -> list[float]:
    name = node_names(circuit)
    ends = tuple(dict.fromkeys(job.to for job in jobs))
    at_terminal = {node: at for at, node in enumerate(circuit.nodes)}
    lines = ["moving meter", *element_lines(circuit)]
    lines += [
        f"Rk{at} {name[contact.a]} {name[contact.b]} {_OPEN_OHM}"
        for at, contact in enumerate(circuit.contacts)
    ]
    lines += [f"Rz{at} {point} 0 {_LEAK_OHM}" for at, point in enumerate(name.values())]
    lines += [f"Rm{at} {point} lead {_AWAY_OHM}" for at, point in enumerate(name.values())]
    lines += ["Vm lead other dc 0"]
    lines += [f"Ro{at} other {name[end]} {_AWAY_OHM}" for at, end in enumerate(ends)]
    steps = ["save i(vm)"]
    closed: Positions | None = None
    to, terminal = -1, -1
    for job in jobs:
        if job.closed != closed:
            closed = job.closed
            steps.append(positions_text(circuit, closed))
        if ends.index(job.to) != to:
            steps += [f"alter ro{to} = {_AWAY_OHM}"] if to >= 0 else []
            to = ends.index(job.to)
            steps.append(f"alter ro{to} = {_LEAD_OHM}")
        if at_terminal[job.terminal] != terminal:
            steps += [f"alter rm{terminal} = {_AWAY_OHM}"] if terminal >= 0 else []
            terminal = at_terminal[job.terminal]
            steps.append(f"alter rm{terminal} = {meter_ohm:.9g}")
        steps += [f"ac lin 1 {HERTZ} {HERTZ}", "print mag(i(vm))", "destroy all"]
    lines += _control(steps)
    return [amperes * meter_ohm for amperes in run_deck("\n".join(lines) + "\n", len(jobs))]


def load_volts(circuit: Circuit, states: Collection[Positions]) -> list[dict[str, float]]:
    """Volts across every load with contacts in each of the positions, no meter anywhere."""
    name = node_names(circuit)
    lines = ["loads", *element_lines(circuit)]
    lines += [
        f"Rk{at} {name[contact.a]} {name[contact.b]} {_OPEN_OHM}"
        for at, contact in enumerate(circuit.contacts)
    ]
    lines += [f"Rz{at} {point} 0 {_LEAK_OHM}" for at, point in enumerate(name.values())]
    steps = []
    for closed in states:
        steps += [positions_text(circuit, closed), f"ac lin 1 {HERTZ} {HERTZ}"]
        steps += [f"print mag(v({name[load.a]})-v({name[load.b]}))" for load in circuit.loads]
        steps.append("destroy all")
    lines += _control(steps)
    values = iter(run_deck("\n".join(lines) + "\n", len(states) * len(circuit.loads)))
    return [{load.name: next(values) for load in circuit.loads} for _ in states]


def sensed_volts(circuit: Circuit, closed: Positions) -> dict[str, float]:
    """What each sensing source puts between its own terminals, all others and the mains being off."""
    name = node_names(circuit)
    shown = {}
    for at, sense in enumerate(circuit.senses):
        lines = [
            "sense",
            *(line for line in element_lines(circuit) if not line.startswith(("Vs", f"Vq{at} "))),
        ]
        lines += [f"Vs{other} s{other} 0 dc 0" for other in range(len(circuit.supplies))]
        lines.append(f"Vq{at} q{at} {name[sense.b]} dc 0 ac {sense.volts:.9g}")
        lines += [
            f"Rk{number} {name[contact.a]} {name[contact.b]} {CONTACT_OHM}"
            for number, contact in enumerate(circuit.contacts)
            if contact.name in closed
        ]
        lines += [f"Rz{number} {point} 0 {_LEAK_OHM}" for number, point in enumerate(name.values())]
        wanted = f"print mag(v({name[sense.a]})-v({name[sense.b]}))"
        lines += _control([f"ac lin 1 {HERTZ} {HERTZ}", wanted])
        shown[sense.name] = run_deck("\n".join(lines) + "\n", 1)[0]
    return shown


def _control(steps: Iterable[str]) -> list[str]:
    # noopac: everything here is linear, so no operating point is needed. pivtol: what is open is not nothing.
    return [".options noacct noopac pivtol=1e-25", ".control", "set numdgt=9", *steps, ".endc", ".end"]


_PRINTED = re.compile(r"^mag\(.*\) = (\S+)$", re.MULTILINE)


def run_deck(deck: str, wanted: int) -> list[float]:
    """Run ngspice on a deck and give back the magnitudes it printed, in order.

    Raises:
        SimulatorFailed: it printed another number of them than wanted, or reported an error.
    """
    done = subprocess.run(["ngspice", "-b", "-n"], input=deck, capture_output=True, text=True, check=False)
    values = [float(text) for text in _PRINTED.findall(done.stdout)]
    if len(values) != wanted or "rror" in done.stderr or "singular" in done.stderr:
        raise SimulatorFailed(
            f"{len(values)} of {wanted} values\n{done.stdout[-2000:]}\n{done.stderr[-2000:]}"
        )
    return values
