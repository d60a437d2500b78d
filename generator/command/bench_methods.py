"""Other ways to find what is live, one state at a time, timed against the all-state solver on the same circuit.

Each is spared work that a fair rival would have to do: it is told where every contact stands in the state. Must not
know how anything is printed.
"""

import re
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib import import_module
from math import pi
from time import perf_counter

from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.mains import EARTH_OHM, HERTZ, LINE_OHM, NEUTRAL_OHM
from generator.states.volts import solve_volts
from generator.states.volts_network import CONTACT_OHM, conductor_ohms, load_ohm

LIVE_V = 200.0
"""A point that metal joins to line reads more than this in a simulation, one that loads alone join to it may too."""


class Positions:
    """Values of single states out of vectors of all of them: turned into bytes once, since shifting costs by length."""

    def __init__(self, vectors: Mapping[str, int], size: int) -> None:
        """Take the vectors, each of ``size`` states."""
        self._bytes = {name: vector.to_bytes((size + 7) // 8, "little") for name, vector in vectors.items()}

    def __call__(self, state: int) -> dict[str, bool]:
        """The value of each vector in a state."""
        return {name: bool(held[state >> 3] >> (state & 7) & 1) for name, held in self._bytes.items()}


@dataclass(frozen=True, slots=True, kw_only=True)
class Timed:
    """A method that was tried on some states.

    Attributes:
        words: what it is.
        states: how many states it was tried on; 0 where it is not on this machine.
        seconds: how long it took, everything included.
        agreeing: in how many of them it found the all-state answer.
    """

    words: str
    states: int
    seconds: float
    agreeing: int

    @property
    def a_second(self) -> float:
        """States a second."""
        return self.states / self.seconds


def own_volts(solution: Solution, states: Sequence[int]) -> Timed:
    """Our own solver of volts, which finds by itself where contacts stand."""
    begun = perf_counter()
    fed = [solve_volts(solution.circuit, solution.inputs_in(state)).fed for state in states]
    seconds = perf_counter() - begun
    expected = Positions(solution.settled.fed, solution.space.size)
    return Timed(
        words="our volts solver, a state at a time",
        states=len(states),
        seconds=seconds,
        agreeing=sum(found == expected(state) for found, state in zip(fed, states, strict=True)),
    )


def graph_library(solution: Solution, states: Sequence[int]) -> Timed:
    """Connected components of networkx."""
    words = "networkx, connected components, a state at a time"
    try:
        nx = import_module("networkx")
    except ImportError:
        return Timed(words=words, states=0, seconds=0.0, agreeing=0)
    circuit = solution.circuit
    lines = [supply.line for supply in circuit.supplies]
    made = Positions(solution.settled.made, solution.space.size)
    closed = [made(state) for state in states]
    begun = perf_counter()
    live = []
    for positions in closed:
        graph = nx.Graph()
        graph.add_nodes_from(circuit.nodes)
        graph.add_edges_from((conductor.a, conductor.b) for conductor in circuit.conductors)
        graph.add_edges_from(
            (contact.a, contact.b) for contact in circuit.contacts if positions[contact.name]
        )
        found: set[str] = set()
        for component in nx.connected_components(graph):
            if any(line in component for line in lines):
                found |= component
        live.append(found)
    seconds = perf_counter() - begun
    groups: dict[int, list[str]] = {}
    for node, vector in solution.settled.line.items():
        groups.setdefault(id(vector), []).append(node)
    expected = Positions(
        {nodes[0]: solution.settled.line[nodes[0]] for nodes in groups.values()}, solution.space.size
    )
    agreeing = 0
    for found, state in zip(live, states, strict=True):
        values = expected(state)
        agreeing += found == {node for nodes in groups.values() if values[nodes[0]] for node in nodes}
    return Timed(words=words, states=len(states), seconds=seconds, agreeing=agreeing)


def simulator(solution: Solution, states: Sequence[int]) -> Timed:
    """The circuit simulator ngspice, at 50 Hz, all states in one run of it."""
    words = "ngspice, a state at a time"
    program = shutil.which("ngspice")
    if program is None:
        return Timed(words=words, states=0, seconds=0.0, agreeing=0)
    made = Positions(solution.settled.made, solution.space.size)
    closed = [made(state) for state in states]
    expected = Positions(solution.settled.fed, solution.space.size)
    begun = perf_counter()
    deck = _deck(solution.circuit, closed)
    done = subprocess.run([program, "-b", "-n"], input=deck, capture_output=True, text=True, check=False)  # noqa: S603  # our own text, and a program found on the path
    values = [float(found) for found in re.findall(r"^mag\(.*\) = (\S+)$", done.stdout, flags=re.MULTILINE)]
    seconds = perf_counter() - begun
    loads = solution.circuit.loads
    agreeing = 0
    for at, state in enumerate(states):
        shown = values[at * len(loads) : (at + 1) * len(loads)]
        found = {load.name: volts > LIVE_V for load, volts in zip(loads, shown, strict=False)}
        agreeing += found == expected(state)
    return Timed(words=words, states=len(states), seconds=seconds, agreeing=agreeing)


def _deck(circuit: Circuit, states: Sequence[Mapping[str, bool]]) -> str:
    name = {node: f"p{at}" for at, node in enumerate(circuit.nodes)}
    lines = ["states one at a time", *_elements(circuit, name)]
    # What hangs on nothing must have some voltage; a teraohm carries no current to speak of.
    lines += [f"Rz{at} {point} 0 1e12" for at, point in enumerate(name.values())]
    lines += [f"Rk{at} {name[item.a]} {name[item.b]} 1e15" for at, item in enumerate(circuit.contacts)]
    lines += [".options noacct noopac pivtol=1e-25", ".control"]
    before = [False] * len(circuit.contacts)
    for state in states:
        now = [state[item.name] for item in circuit.contacts]
        lines += [
            f"alter rk{at} = {CONTACT_OHM if closed else 1e15:g}"
            for at, (closed, was) in enumerate(zip(now, before, strict=True))
            if closed is not was
        ]
        before = now
        lines.append(f"ac lin 1 {HERTZ:g} {HERTZ:g}")
        lines += [f"print mag(v({name[load.a]})-v({name[load.b]}))" for load in circuit.loads]
        lines.append("destroy all")
    return "\n".join([*lines, ".endc", ".end", ""])


def _elements(circuit: Circuit, name: Mapping[str, str]) -> list[str]:
    lines = []
    for at, supply in enumerate(circuit.supplies):
        lines += [
            f"Vs{at} s{at} 0 dc 0 ac {supply.volts:g} {-120 * (supply.phase - 1)}",
            f"Rsl{at} s{at} {name[supply.line]} {LINE_OHM}",
            f"Rsn{at} {name[supply.neutral]} 0 {NEUTRAL_OHM}",
            f"Rse{at} {name[supply.earth]} 0 {EARTH_OHM}",
        ]
    for at, (wire, ohm) in enumerate(zip(circuit.conductors, conductor_ohms(circuit), strict=True)):
        lines.append(f"Rw{at} {name[wire.a]} {name[wire.b]} {ohm:.9g}")
    for at, load in enumerate(circuit.loads):
        impedance = load_ohm(load)
        lines.append(f"Rl{at} {name[load.a]} l{at} {impedance.real:.9g}")
        lines.append(f"Ll{at} l{at} {name[load.b]} {max(impedance.imag, 1e-6) / (2 * pi * HERTZ):.9g}")
    return lines
