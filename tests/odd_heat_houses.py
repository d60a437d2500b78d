"""Records of houses whose heat is no boiler's: a flat on a heat network, a flat with electronics before its tap water, LPG, oil."""

from pathlib import Path

from tests.tools.paths import PROPERTIES

FLAT = """\
format: 1

property:
  reference: HN-01
  address: {lines: [Flat 3, 8 Weir Court], town: Embermere, postcode: QE1 1WC}
  nation: england
  fuel: heat network
  dwelling: {storeys: 1, floor_area_m2: 52, year: 2019}

sure: {how: tested, on: 2026-03-30, by: electrician}

devices:
  spur: {kind: fused-spur, place: "hall cupboard, left", reach: tenant}
  centre:
    kind: wiring-centre
    place: hall cupboard
    settings: {terminals: [A, B, C, D, E, F]}
  time-switch: {kind: time-switch, place: hall, reach: tenant, settings: {channels: 1}}
  thermostat: {kind: room-thermostat, place: living room, reach: tenant, settings: {type: electronic}}
  valve:
    kind: two-port-valve
    place: hall cupboard, low
    reach: tenant
    settings: {size_mm: 22, lever: does not make, arrow: with the flow}
  unit:
    kind: heat-interface-unit
    place: hall cupboard
    settings: {TAPS}

cables:
  spur: {cores: [BN, BU, GNYE], size_mm2: 1.5, length_m: 1, type: flat cable}
  time-switch: {cores: [BN, BU, BK], size_mm2: 0.75, length_m: 7, type: flexible cord}
  thermostat: {cores: [BN, BK], size_mm2: 1.0, length_m: 9, type: flexible cord}
  unit: {cores: [BN, BU, BK, GNYE], size_mm2: 0.75, length_m: 1.5, type: heat-resisting cord}

wiring:
  centres:
    centre:
      A: [{to: time-switch.on-1, core: BK}, {to: thermostat.common, core: BN}]
      B: [{to: thermostat.call, core: BK}, {to: valve.motor, core: BN}]
      C: [{to: valve.switch-b, core: OG}, {to: unit.call, core: BK}]
      D: [{to: spur.E, core: GNYE}, {to: valve.E, core: GNYE}, {to: unit.E, core: GNYE}]
      E: [{to: spur.N, core: BU}, {to: time-switch.N, core: BU}, {to: valve.N, core: BU}, {to: unit.N, core: BU}]
      F:
        - {to: spur.L, core: BN}
        - {to: time-switch.L, core: BN}
        - {to: valve.switch-a, core: GY}
        - {to: unit.L, core: BN}

zones:
  heating: {serves: heating, channel: time-switch.1, thermostat: thermostat, valve: valve}

water:
  circuits:
    heating: {valve: valve, feeds: radiators, where: whole flat, radiator_valves: true}
  pump: in the boiler
  bypass: in the boiler
"""
"""A flat on a heat network, conductor by conductor; ``TAPS`` stands for the settings of its unit."""


TWO_BOILERS = """\
format: 1
property:
  reference: EX-0003
  address: { lines: [3 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 140 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }
devices:
  spur: { kind: fused-spur }
  annexe-spur: { kind: fused-spur }
  centre: { kind: wiring-centre, settings: { count: 4 } }
  annexe-centre: { kind: wiring-centre, settings: { count: 4 } }
  boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }
  annexe-boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }
  thermostat: { kind: programmable-room-thermostat, place: hall }
  annexe-thermostat: { kind: programmable-room-thermostat, place: annexe }
wiring:
  centres:
    centre:
      1: [{ to: spur.L, core: BN }, { to: boiler.L, core: BN }, { to: thermostat.common, core: BN }]
      2: [{ to: spur.N, core: BU }, { to: boiler.N, core: BU }]
      3: [{ to: spur.E, core: GNYE }, { to: boiler.E, core: GNYE }]
      4: [{ to: thermostat.call, core: BK }, { to: boiler.call, core: BK }]
    annexe-centre:
      1: [{ to: annexe-spur.L, core: BN }, { to: annexe-boiler.L, core: BN }, { to: annexe-thermostat.common, core: BN }]
      2: [{ to: annexe-spur.N, core: BU }, { to: annexe-boiler.N, core: BU }]
      3: [{ to: annexe-spur.E, core: GNYE }, { to: annexe-boiler.E, core: GNYE }]
      4: [{ to: annexe-thermostat.call, core: BK }, { to: annexe-boiler.call, core: BK }]
zones:
  house: { serves: heating, thermostat: thermostat }
  annexe: { serves: heating, thermostat: annexe-thermostat }
water:
  circuits:
    house: { feeds: radiators }
    annexe: { feeds: radiators, source: annexe }
  pump: in the boiler
  bypass: in the boiler
  sources: { annexe: { of: boiler, device: annexe-boiler } }
"""
"""Two boilers in one property, each with a loop, a supply and a pump of its own; no zone has a valve."""


def flat(settings: str = "pump_inside: true") -> str:
    """The flat with these settings of its heat interface unit."""
    return FLAT.replace("TAPS", settings)


def changed(reference: str, *changes: tuple[str, str]) -> str:
    """A demo property's record with some of its text exchanged; each has to be there."""
    text = (PROPERTIES / f"{reference}.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def written(text: str, folder: Path, name: str = "HN-01") -> Path:
    """A record as a file."""
    file = folder / f"{name}.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def two_stores() -> str:
    """A thermal store house with a second store beside it: the same call heats both, and each part of the house draws from one."""
    devices = (
        '  second-pump: {kind: pump, place: "store room, behind"}\n'
        "  second: {kind: cylinder, place: store room, settings: {system: thermal store}}\n"
    )
    wiring = (
        "    - {ends: [second-pump.L, pump.L], core: BN}\n"
        "    - {ends: [second-pump.N, pump.N], core: BU}\n"
        "    - {ends: [second-pump.E, pump.E], core: GNYE}\n"
    )
    water = (
        "zones:\n"
        "  second: {serves: hot water, channel: programmer.1, thermostat: store-thermostat, pump: second-pump}\n\n"
        "water:\n"
        "  circuits:\n"
        "    second: {pump: second-pump, feeds: thermal store}\n"
        "    ground: {source: second}\n"
        "  sources:\n"
        "    second: {of: thermal store}\n\n"
        "visits:\n"
    )
    return changed(
        "EB-0164",
        ("  boiler:            {place", f"{devices}  boiler:            {{place"),
        ("  direct:\n", f"  direct:\n{wiring}"),
        ("visits:\n", water),
    )


def store_house(lines: str) -> str:
    """The thermal store house with lines of its own for zones or water, before its visits."""
    return changed("EB-0164", ("visits:\n", f"{lines}\nvisits:\n"))


def unit_as_source() -> str:
    """The flat on a heat network, with the network recorded as a source that its rooms draw from."""
    text = flat().replace(
        "  pump: in the boiler",
        "  sources:\n    net: {of: heat network, device: unit}\n  pump: in the boiler",
    )
    return text.replace("where: whole flat,", "where: whole flat, source: net,")


def heat_pump_with_buffer() -> str:
    """A heat pump house with a buffer between the heat pump and what it heats."""
    return changed("EB-0167", ("  bypass: bypass\n", "  bypass: bypass\n  header: buffer\n"))
