"""The command `bench`: how fast states are solved, against other ways of finding the same, in one run.

It measures and judges nothing: no figure of it decides whether anything holds.
"""

import sys
from collections.abc import Sequence
from random import Random
from time import perf_counter, process_time

import click

from generator.circuit.build import build_circuit
from generator.circuit.model import Circuit
from generator.command.bench_methods import Timed, graph_library, own_volts, simulator
from generator.command.bench_stock import stock
from generator.command.page_text import paragraph, table
from generator.command.terminal import width_of
from generator.record.load import load_text
from generator.states.solve import solve

_HEAD = """\
format: 1
property:
  reference: BENCH
  address: { lines: [1 Bench Row], town: Benchton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 182 }
sure: { how: assumed, on: 2026-03-14, by: heating engineer }
arrangement:
  name: two-port
  zones:
"""


@click.group(short_help="Measure how fast states are solved, and how fast a stock is built.")
def bench() -> None:
    """Measure how fast states are solved and a whole stock is built, on this machine, against other ways to do it.

    \b
    Examples:
      hearthbook bench solver
      hearthbook bench stock
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are


bench.add_command(stock)


@bench.command(short_help="The all-state solver against solving one state at a time.")
@click.option(
    "--zones",
    type=click.IntRange(1, 12),
    default=12,
    show_default=True,
    help="Heating zones of the house made up for it, each with a timer channel and a thermostat.",
)
@click.option(
    "--sample",
    type=click.IntRange(1, 100_000),
    default=500,
    show_default=True,
    help="How many states, drawn at random, are given to each way that takes one at a time.",
)
def solver(zones: int, sample: int) -> None:
    """Solve a house in every state, then some of its states one at a time in other ways, and print the ratios.

    ngspice and networkx take part where they are installed. Both are told where every contact stands; the
    all-state solver finds that out.

    \b
    Examples:
      hearthbook bench solver
      hearthbook bench solver --zones 6 --sample 2000
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    circuit = made_up_house(zones)
    before = _peak_mib()
    begun, used = perf_counter(), process_time()
    solution = solve(circuit)
    seconds, busy = perf_counter() - begun, process_time() - used
    peak = _peak_mib()
    count = solution.space.size
    states = _drawn(count, sample)
    ours = Timed(words="all-state solver, every state at once", states=count, seconds=seconds, agreeing=count)
    methods = [ours, *(method(solution, states) for method in (own_volts, graph_library, simulator))]
    width = width_of(sys.stdout)
    exact = (
        "every state settled"
        if not solution.hunting and not solution.memories
        else "not every state settled alike"
    )
    memory = (
        f" Peak memory of the whole program {peak:.0f} MiB, {peak - before:.0f} MiB of it for this."
        if peak
        else ""
    )
    for line in paragraph(
        f"{zones} heating zones, each with timer channel and thermostat: {count:,} states, "
        f"{len(circuit.nodes)} points, {len(circuit.contacts)} contacts, {len(circuit.loads)} loads. "
        f"Solved in {seconds:.3f} s on one core, {busy:.3f} s of it at work; {exact}.{memory}",
        width,
    ):
        click.echo(line)
    click.echo()
    for line in table(
        _rows(methods), head=("way", "states", "seconds", "states/s", "ratio", "agree"), right=range(1, 6)
    ):
        click.echo(line)
    click.echo()
    for line in paragraph(
        "ratio: how many times as many states a second the all-state solver does. agree: states in which the answer was "
        "the same (which loads are fed; for networkx, which points are live).",
        width,
    ):
        click.echo(line)


def _rows(methods: Sequence[Timed]) -> list[tuple[str, ...]]:
    first = methods[0]
    rows: list[tuple[str, ...]] = []
    for at, each in enumerate(methods):
        if not each.states:
            rows.append((each.words, "not installed", "", "", "", ""))
            continue
        rows.append(
            (
                each.words,
                f"{each.states:,}",
                f"{each.seconds:.3f}",
                f"{each.a_second:,.0f}",
                f"{first.a_second / each.a_second:,.0f}" if at else "1",
                f"{each.agreeing:,}" if at else "",
            )
        )
    return rows


def made_up_house(zones: int) -> Circuit:
    """A two-port house of so many heating zones, each with a timer channel and a thermostat."""
    text = _HEAD + "".join(f"    room-{number}: {{ serves: heating }}\n" for number in range(1, zones + 1))
    loaded = load_text(text.encode(), "bench.yaml")
    if loaded.record is None:
        raise AssertionError(loaded.findings)
    return build_circuit(loaded.record, loaded.kinds, loaded.settings, loaded.places).circuit


def _drawn(count: int, sample: int) -> list[int]:
    """States drawn at random, the same each time."""
    chance = Random(20260314)  # noqa: S311 - a choice, not a secret
    return [chance.randrange(count) for _ in range(min(sample, count))]


def _peak_mib() -> float:
    """Most memory this program has had so far, 0 where the system does not tell."""
    try:
        import resource
    except ImportError:
        return 0.0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (
        1024 * 1024 if sys.platform == "darwin" else 1024
    )
