"""A small sound house, and variations of it: the record that every rule's examples start from.

Knows text only. The examples are read, solved and judged by tests like any other record.
"""

from datetime import date
from itertools import pairwise

TODAY = date(2026, 3, 20)
"""The day on which the examples are judged."""

HOUSE = """\
format: 1
property:
  reference: EX-0001
  address: { lines: [1 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 82 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }

devices:
  spur: { kind: fused-spur }
  centre: { kind: wiring-centre, settings: { terminals: [A, B, C, D, E, F, G, H] } }
  programmer: { kind: programmer, settings: { channels: 2 } }
  room-thermostat: { kind: room-thermostat, place: hall }
  water-thermostat: { kind: cylinder-thermostat }
  heating-valve: { kind: two-port-valve }
  water-valve: { kind: two-port-valve }
  boiler: { kind: boiler }
  pump: { kind: pump }
  cylinder: { kind: cylinder, settings: { system: vented } }
  bypass: { kind: automatic-bypass }

cables:
  heating-valve: { cores: [BN, BU, GNYE, GY, OG], size_mm2: 0.75, length_m: 1.5 }
  water-thermostat: { cores: [BK, BN], size_mm2: 0.75, length_m: 3 }

wiring:
  centres:
    centre:
      A: # hot water on
        - { to: programmer.on-1, core: BK }
        - { to: water-thermostat.common, core: BN }
      B: # hot water calls
        - { to: water-thermostat.call, core: BK }
        - { to: water-valve.motor, core: BN }
      C: # heating on
        - { to: programmer.on-2, core: GY }
        - { to: room-thermostat.common, core: BN }
      D: # heating calls
        - { to: room-thermostat.call, core: BK }
        - { to: heating-valve.motor, core: BN }
      E: # boiler called
        - { to: water-valve.switch-b, core: OG }
        - { to: heating-valve.switch-b, core: OG }
        - { to: boiler.call, core: BK }
        - { to: pump.L, core: BN }
      F: # earth
        - { to: spur.E, core: GNYE }
        - { to: water-valve.E, core: GNYE }
        - { to: heating-valve.E, core: GNYE }
        - { to: boiler.E, core: GNYE }
        - { to: pump.E, core: GNYE }
      G: # neutral
        - { to: spur.N, core: BU }
        - { to: programmer.N, core: BU }
        - { to: water-valve.N, core: BU }
        - { to: heating-valve.N, core: BU }
        - { to: boiler.N, core: BU }
        - { to: pump.N, core: BU }
      H: # permanent live
        - { to: spur.L, core: BN }
        - { to: programmer.L, core: BN }
        - { to: water-valve.switch-a, core: GY }
        - { to: heating-valve.switch-a, core: GY }
        - { to: boiler.L, core: BN }

zones:
  hot-water: { serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: water-valve }
  heating: { serves: heating, channel: programmer.2, thermostat: room-thermostat, valve: heating-valve }

water:
  circuits:
    hot-water: { valve: water-valve, feeds: cylinder coil }
    heating: { valve: heating-valve, feeds: radiators }
  pump: on the flow
  bypass: bypass
"""


class ChangeNotPossible(ValueError):
    """The text to change is not in the record exactly once, or two changes overlap."""


def change(record: str, *changes: tuple[str, str]) -> str:
    """The record with each first text replaced by the second, all at once.

    Raises:
        ChangeNotPossible: a text is missing, or there more than once, or two of them overlap.
    """
    places = []
    for old, new in changes:
        if record.count(old) != 1:
            raise ChangeNotPossible(f"{old!r} is there {record.count(old)} times")
        start = record.index(old)
        places.append((start, start + len(old), new))
    places.sort()
    if any(first[1] > second[0] for first, second in pairwise(places)):
        raise ChangeNotPossible("two changes overlap")
    for start, end, new in reversed(places):
        record = record[:start] + new + record[end:]
    return record


def _line(record: str, text: str) -> str:
    """The whole line, indentation and line feed included, whose text this is. It must be there once."""
    matching = [line for line in record.splitlines(keepends=True) if line.strip() == text]
    if len(matching) != 1:
        raise ChangeNotPossible(f"the line {text!r} is there {len(matching)} times")
    return matching[0]


def without(record: str, *lines: str) -> str:
    """The record without some lines."""
    return change(record, *((_line(record, line), "") for line in lines))


def added(record: str, line: str, *, after: str) -> str:
    """The record with a line put after another, indented alike."""
    before = _line(record, after)
    indent = before[: len(before) - len(before.lstrip())]
    return change(record, (before, f"{before}{indent}{line}\n"))


def moved(record: str, line: str, *, after: str) -> str:
    """The record with a line moved to stand after another."""
    return added(without(record, line), line, after=after)


UNVENTED = change(
    HOUSE,
    (
        "settings: { system: vented }",
        "settings: { system: unvented, cut_out: wired, relief_valve: seen }",
    ),
    ("terminals: [A, B, C, D,", "terminals: [A, B, B2, C, D,"),
    (
        "        - { to: water-valve.motor, core: BN }\n",
        (
            "        - { to: cylinder.cut-out-in, core: BN }\n"
            "      B2: # hot water calls, through the cut-out\n"
            "        - { to: cylinder.cut-out-out, core: BK }\n"
            "        - { to: water-valve.motor, core: BN }\n"
        ),
    ),
)
"""The house with an unvented cylinder whose cut-out acts through the valve."""

OVERRUN = change(
    HOUSE,
    ("boiler: { kind: boiler }", "boiler: { kind: boiler, settings: { overrun: true, pump_output: true } }"),
    ("terminals: [A, B, C, D, E,", "terminals: [A, B, C, D, E, E2,"),
    (
        "        - { to: pump.L, core: BN }\n",
        "      E2: # pump\n        - { to: boiler.pump, core: GY }\n        - { to: pump.L, core: BN }\n",
    ),
)
"""The house with a boiler that runs its pump on."""

IMMERSION = change(
    HOUSE,
    (
        "  bypass: { kind: automatic-bypass }\n",
        (
            "  bypass: { kind: automatic-bypass }\n"
            "  water-spur: { kind: fused-spur, settings: { fuse_a: 13, feeds: immersion heater } }\n"
            "  immersion: { kind: immersion-heater }\n"
        ),
    ),
    (
        "\nzones:\n",
        (
            "  direct:\n"
            "    - { ends: [water-spur.L, immersion.L], core: BN, cable: immersion }\n"
            "    - { ends: [water-spur.N, immersion.N], core: BU, cable: immersion }\n"
            "    - { ends: [water-spur.E, immersion.E], core: GNYE, cable: immersion }\n\nzones:\n"
        ),
    ),
)
"""The house with an immersion heater on a spur of its own."""

OVERRUN_INSIDE = change(
    without(
        HOUSE,
        "pump: { kind: pump }",
        "- { to: pump.L, core: BN }",
        "- { to: pump.N, core: BU }",
        "- { to: pump.E, core: GNYE }",
    ),
    ("boiler: { kind: boiler }", "boiler: { kind: boiler, settings: { overrun: true, pump_inside: true } }"),
    ("pump: on the flow", "pump: in the boiler"),
)
"""The house with a boiler that has the pump inside and runs it on."""

RELAY = change(
    HOUSE,
    ("  pump: { kind: pump }\n", "  pump: { kind: pump }\n  relay: { kind: relay }\n"),
    ("terminals: [A, B, C, D, E,", "terminals: [A, B, C, D, E, E2,"),
    ("        - { to: boiler.call, core: BK }\n", "        - { to: relay.A1, core: RD }\n"),
    (
        "        - { to: pump.L, core: BN }\n",
        (
            "        - { to: pump.L, core: BN }\n"
            "      E2: # boiler called, by the relay\n"
            "        - { to: relay.14, core: OG }\n"
            "        - { to: boiler.call, core: BK }\n"
        ),
    ),
    (
        "        - { to: pump.N, core: BU }\n",
        "        - { to: pump.N, core: BU }\n        - { to: relay.A2, core: BU }\n",
    ),
    (
        "        - { to: boiler.L, core: BN }\n",
        "        - { to: boiler.L, core: BN }\n        - { to: relay.11, core: BN }\n",
    ),
)
"""The house with a relay between the end switches and the boiler."""

VOLT_FREE = change(
    RELAY,
    ("boiler: { kind: boiler }", "boiler: { kind: boiler, settings: { demand: volt-free } }"),
    ("terminals: [A, B, C, D, E, E2,", "terminals: [A, B, C, D, E,"),
    ("      E2: # boiler called, by the relay\n", ""),
    ("        - { to: relay.14, core: OG }\n", ""),
    ("        - { to: boiler.call, core: BK }\n", ""),
    ("        - { to: relay.11, core: BN }\n", ""),
    (
        "\nzones:\n",
        (
            "  direct:\n"
            "    - { ends: [boiler.call-a, relay.11], core: BK, cable: demand }\n"
            "    - { ends: [boiler.call-b, relay.14], core: WH, cable: demand }\n\nzones:\n"
        ),
    ),
)
"""The house with a boiler that a relay calls by a volt-free contact."""

FROST = change(
    HOUSE,
    (
        "  pump: { kind: pump }\n",
        (
            "  pump: { kind: pump }\n"
            "  frost-thermostat: { kind: frost-thermostat }\n"
            "  pipe-thermostat: { kind: pipe-thermostat }\n"
        ),
    ),
    (
        "        - { to: room-thermostat.call, core: BK }\n",
        (
            "        - { to: room-thermostat.call, core: BK }\n"
            "        - { to: pipe-thermostat.cold, core: BK }\n"
        ),
    ),
    (
        "        - { to: boiler.L, core: BN }\n",
        "        - { to: boiler.L, core: BN }\n        - { to: frost-thermostat.common, core: BN }\n",
    ),
    (
        "\nzones:\n",
        ("  direct:\n    - { ends: [frost-thermostat.call, pipe-thermostat.common], core: BK }\n\nzones:\n"),
    ),
)
"""The house with a frost and a pipe thermostat in series, past the controls of heating, to its valve."""
