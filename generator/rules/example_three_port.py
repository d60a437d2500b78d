"""Small sound houses with three-port valves: the records that examples on such valves start from.

Knows text only.
"""

from generator.rules.example_house import change, without

MID_POSITION = """\
format: 1
property:
  reference: EX-0002
  address: { lines: [2 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 82 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }

devices:
  spur: { kind: fused-spur }
  centre: { kind: wiring-centre, settings: { terminals: [A, B, C, D, E, F, G, H] } }
  programmer: { kind: programmer, settings: { channels: 2, off_terminals: [1] } }
  room-thermostat: { kind: room-thermostat, place: hall }
  water-thermostat: { kind: cylinder-thermostat }
  valve: { kind: three-port-mid-position-valve }
  boiler: { kind: boiler }
  pump: { kind: pump }
  cylinder: { kind: cylinder, settings: { system: vented } }
  bypass: { kind: automatic-bypass }

cables:
  valve: { cores: [WH, GY, OG, BU, GNYE], size_mm2: 0.75, length_m: 1.5 }

wiring:
  centres:
    centre:
      A: # hot water on
        - { to: programmer.on-1, core: BK }
        - { to: water-thermostat.common, core: BN }
      B: # boiler called
        - { to: water-thermostat.call, core: BK }
        - { to: valve.out, core: OG }
        - { to: boiler.call, core: BK }
        - { to: pump.L, core: BN }
      C: # heating on
        - { to: programmer.on-2, core: GY }
        - { to: room-thermostat.common, core: BN }
      D: # heating calls
        - { to: room-thermostat.call, core: BK }
        - { to: valve.heat, core: WH }
      E: # hot water off
        - { to: programmer.off-1, core: OG }
        - { to: water-thermostat.satisfied, core: GY }
        - { to: valve.water-off, core: GY }
      F: # earth
        - { to: spur.E, core: GNYE }
        - { to: valve.E, core: GNYE }
        - { to: boiler.E, core: GNYE }
        - { to: pump.E, core: GNYE }
      G: # neutral
        - { to: spur.N, core: BU }
        - { to: programmer.N, core: BU }
        - { to: valve.N, core: BU }
        - { to: boiler.N, core: BU }
        - { to: pump.N, core: BU }
      H: # permanent live
        - { to: spur.L, core: BN }
        - { to: programmer.L, core: BN }
        - { to: boiler.L, core: BN }

zones:
  hot-water: { serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: valve }
  heating: { serves: heating, channel: programmer.2, thermostat: room-thermostat, valve: valve }

water:
  circuits:
    hot-water: { valve: valve, feeds: cylinder coil }
    heating: { valve: valve, feeds: radiators }
  pump: on the flow
  bypass: bypass
"""
"""A house with a mid-position valve, a vented cylinder and a programmer with a hot water off terminal."""

MID_POSITION_UNVENTED = change(
    MID_POSITION,
    (
        "settings: { system: vented }",
        "settings: { system: unvented, cut_out: wired, relief_valve: seen }",
    ),
    ("terminals: [A, B, C,", "terminals: [A, A2, A3, B, C,"),
    (
        "  valve: { kind: three-port-mid-position-valve }\n",
        "  valve: { kind: three-port-mid-position-valve }\n  water-valve: { kind: two-port-valve }\n",
    ),
    (
        "      B: # boiler called\n        - { to: water-thermostat.call, core: BK }\n",
        (
            "      A2: # hot water calls\n"
            "        - { to: water-thermostat.call, core: BK }\n"
            "        - { to: cylinder.cut-out-in, core: BN }\n"
            "      A3: # hot water calls, through the cut-out\n"
            "        - { to: cylinder.cut-out-out, core: BK }\n"
            "        - { to: water-valve.motor, core: BN }\n"
            "      B: # boiler called\n"
            "        - { to: water-valve.switch-b, core: OG }\n"
        ),
    ),
    (
        "        - { to: valve.E, core: GNYE }\n",
        "        - { to: valve.E, core: GNYE }\n        - { to: water-valve.E, core: GNYE }\n",
    ),
    (
        "        - { to: valve.N, core: BU }\n",
        "        - { to: valve.N, core: BU }\n        - { to: water-valve.N, core: BU }\n",
    ),
    (
        "        - { to: programmer.L, core: BN }\n",
        "        - { to: programmer.L, core: BN }\n        - { to: water-valve.switch-a, core: GY }\n",
    ),
    ("thermostat: water-thermostat, valve: valve }", "thermostat: water-thermostat, valve: water-valve }"),
)
"""The house with an unvented cylinder: a two-port valve stands in series, and the cut-out acts through it."""

DIVERTER = change(
    without(
        MID_POSITION,
        "- { to: valve.out, core: OG }",
        "- { to: valve.heat, core: WH }",
        "- { to: room-thermostat.call, core: BK }",
        "D: # heating calls",
    ),
    ("terminals: [A, B, C, D, E,", "terminals: [A, B, C, E,"),
    ("valve: { kind: three-port-mid-position-valve }", "valve: { kind: three-port-diverter-valve }"),
    ("valve: { cores: [WH, GY, OG, BU, GNYE],", "valve: { cores: [BN, BU, GNYE],"),
    ("{ to: valve.water-off, core: GY }", "{ to: valve.motor, core: BN }"),
    (
        "        - { to: boiler.call, core: BK }\n",
        "        - { to: boiler.call, core: BK }\n        - { to: room-thermostat.call, core: BK }\n",
    ),
)
"""A house with a diverter valve: its motor is live while hot water is off or satisfied, so both have their own times."""
