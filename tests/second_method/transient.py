"""Writes a circuit with its diodes as a transient deck for ngspice and reads back what meters show.

The diodes are ngspice's own, with an exponential and a resistance; nothing here knows how ours are. Contacts and
diodes that are connected are taken as given.
"""

import re
import subprocess
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import pi, sqrt

from generator.circuit.model import Circuit
from tests.second_method.netlist import (
    CONTACT_OHM,
    HERTZ,
    SUPPLY_V,
    Positions,
    SimulatorFailed,
    element_lines,
    node_names,
)

BEGIN_S, END_S, STEP_S = 0.2, 0.26, 10e-6
"""Ten cycles to come to rest, then three whole ones are measured."""
_MODEL = ".model rectifier d(is=4n n=1.9 rs=0.05 bv=1000)"


@dataclass(frozen=True, slots=True)
class Shown:
    """What meters show in volt: average-responding and true r.m.s. without d.c., true r.m.s. with it, d.c. alone."""

    average: float
    rms_ac: float
    rms: float
    mean: float


def shown_over_time(
    circuit: Circuit,
    closed: Positions,
    diodes: Collection[str],
    leads: Sequence[tuple[str, str]],
    meter_ohm: float,
) -> list[Shown]:
    """Each pair of points measured by the one meter connected.

    Raises:
        SimulatorFailed: ngspice did not give every value.
    """
    return [_one(circuit, closed, diodes, pair, meter_ohm) for pair in leads]


def _one(
    circuit: Circuit, closed: Positions, diodes: Collection[str], leads: tuple[str, str], meter_ohm: float
) -> Shown:
    name = node_names(circuit)
    lines = ["half-wave", _MODEL]
    for at, supply in enumerate(circuit.supplies):
        peak = SUPPLY_V * supply.volts / 230 * sqrt(2)
        lines.append(f"Vs{at} s{at} 0 sin(0 {peak:.9g} {HERTZ} 0 0 {-120 * (supply.phase - 1)})")
    lines += [line for line in element_lines(circuit) if not line.startswith("Vs")]
    lines += [
        f"Rk{at} {name[contact.a]} {name[contact.b]} {CONTACT_OHM}"
        for at, contact in enumerate(circuit.contacts)
        if contact.name in closed
    ]
    for at, diode in enumerate(circuit.diodes):
        if diode.name in diodes:
            lines += [
                f"Dd{at} {name[diode.anode]} d{at} rectifier",
                f"Rd{at} d{at} {name[diode.cathode]} {diode.ohm}",
            ]
    lines += [f"Rz{at} {point} 0 1e10" for at, point in enumerate(name.values())]
    first, second = (name[lead] for lead in leads)
    lines.append(f"Rm {first} {second} {meter_ohm:.9g}")
    window = f"from={BEGIN_S} to={END_S}"
    lines += [
        ".options noacct reltol=1e-4",
        ".control",
        "set numdgt=9",
        f"tran {STEP_S} {END_S} {BEGIN_S - 0.02} {STEP_S}",
        f"let seen = v({first})-v({second})",
        f"meas tran mean avg seen {window}",
        f"meas tran rms rms seen {window}",
        "let apart = seen - mean",
        "let rectified = abs(apart)",
        f"meas tran rmsac rms apart {window}",
        f"meas tran average avg rectified {window}",
        "print mean rms rmsac average",
        ".endc",
        ".end",
    ]
    done = subprocess.run(
        ["ngspice", "-b", "-n"], input="\n".join(lines) + "\n", capture_output=True, text=True, check=False
    )
    found = dict(re.findall(r"^(mean|rms|rmsac|average)\s+=\s+(\S+)", done.stdout, flags=re.MULTILINE))
    if len(found) != 4:
        raise SimulatorFailed(f"{done.stdout[-2000:]}\n{done.stderr[-2000:]}")
    form_factor = pi / sqrt(8)
    return Shown(
        average=float(found["average"]) * form_factor,
        rms_ac=float(found["rmsac"]),
        rms=float(found["rms"]),
        mean=abs(float(found["mean"])),
    )
