"""A stock of any size made at random, as rows: invented streets, no record behind them. The same each time."""

from datetime import date, timedelta
from random import Random

from generator.findings.finding import Severity
from generator.views.stock_lines import finished
from generator.views.stock_model import PartGroup, StockCylinder, StockFinding, StockPart, StockRow

DAY = date(2026, 11, 25)

_FIRST = (
    "Alder",
    "Birch",
    "Cinder",
    "Dyer",
    "Ember",
    "Fuller",
    "Glebe",
    "Hatch",
    "Kiln",
    "Lime",
    "Mill",
    "Osier",
)
_SECOND = (
    "Bank",
    "Close",
    "Court",
    "Gardens",
    "Green",
    "Hill",
    "Lane",
    "Mews",
    "Rise",
    "Road",
    "Row",
    "Walk",
)
_TOWNS = ("Embermere", "Marsh End", "Nether Quern", "Over Quern", "Stanlow Ferry", "Llanhesgen")
_KINDS = (
    ("two-port-valve", "two-port valve"),
    ("three-port-mid-position-valve", "three-port mid-position valve"),
    ("three-port-diverter-valve", "three-port diverter valve"),
    ("room-thermostat", "room thermostat"),
    ("programmable-room-thermostat", "programmable room thermostat"),
    ("cylinder-thermostat", "cylinder thermostat"),
    ("frost-thermostat", "frost thermostat"),
    ("pipe-thermostat", "pipe thermostat"),
    ("relay", "relay"),
    ("automatic-bypass", "automatic bypass"),
    ("immersion-heater", "immersion heater"),
    ("pressure-switch", "pressure switch"),
)  # fmt: skip
_ALWAYS = (
    ("fused-spur", "fused spur"),
    ("wiring-centre", "wiring centre"),
    ("boiler", "boiler"),
    ("pump", "pump"),
)
_UNUSUAL = (
    "several-supplies",
    "assumed-wiring",
    "permanent-live-on-orange",
    "line-in-neutral-colour",
    "old-colours",
    "several-centres",
    "direct-wiring",
    "relay",
    "special",
    "no-timer",
    "loose-cores",
    "frost-thermostat",
    "notes",
)  # fmt: skip
_RULES = 70
_LETTERS = "ABDEFGHJLNPQRSTUWXYZ"


def made_rows(count: int, *, seed: int = 9) -> list[StockRow]:
    """So many rows; with 10,000 there are some 500 arrangements and as many sets of findings and devices as random gives."""
    chance = Random(seed)  # noqa: S311  # a stock, not a secret
    streets = [f"{first} {second}" for first in _FIRST for second in _SECOND]
    arrangements = _arrangements()
    return [
        finished(_row(number, chance, chance.choice(streets), chance.choice(arrangements)))
        for number in range(count)
    ]


def _arrangements() -> list[str]:
    numbers = ("one", "two", "three", "four", "five")
    return [
        f"{zones.capitalize()} heating zone{'s' if zones != 'one' else ''}{water}, on {valves}; {timer}{overrun}."
        for zones in numbers
        for water in (" and hot water", "")
        for valves in (
            "two-port valves",
            "one three-port mid-position valve",
            "one three-port diverter valve",
        )
        for timer in (
            *(f"a programmer with {channels} channels" for channels in numbers),
            *(f"a time switch with {channels} channels" for channels in numbers[:3]),
        )
        for overrun in ("", "; the boiler holds the pump on after a call (overrun)")
    ]


def _row(number: int, chance: Random, street: str, arrangement: str) -> StockRow:
    reference = f"{chance.choice(('EB', 'FW', 'MQ'))}-{number:05}"
    postcode = f"{chance.choice(('QE', 'QW'))}{chance.randint(1, 19)} {chance.randint(1, 9)}{chance.choice(_LETTERS)}{chance.choice(_LETTERS)}"
    flat = f"Flat {chance.randint(1, 30)}, " if chance.random() < 0.15 else ""
    unusual = tuple(each for each in _UNUSUAL if chance.random() < 0.15)
    looked_on = DAY - timedelta(days=chance.randint(0, 1500)) if chance.random() < 0.95 else None
    return StockRow(
        reference=reference,
        address=f"{flat}{chance.randint(1, 220)} {street}, {chance.choice(_TOWNS)}, {postcode}",
        postcode=postcode,
        uprn=str(chance.randint(10**11, 10**12 - 1)) if chance.random() < 0.9 else "",
        nation=chance.choice(("england", "england", "england", "wales", "scotland")),
        fuel=chance.choice(("gas", "gas", "gas", "oil", "lpg", "electricity")),
        house_type=f"type-{chance.randint(1, 60)}" if chance.random() < 0.6 else "",
        arrangement=arrangement,
        kinds=(*_ALWAYS, *(each for each in _KINDS if chance.random() < 0.4)),
        unusual=unusual,
        orange=("Hall valve",) if "permanent-live-on-orange" in unusual else (),
        worked_out=True,
        findings=tuple(_finding(chance, reference) for _ in range(chance.choice((0, 0, 0, 1, 1, 2, 3, 5)))),
        parts=tuple(_part(chance) for _ in range(8)),
        cylinders=(_cylinder(chance),) if chance.random() < 0.7 else (),
        looked_on=looked_on,
        visited_on=looked_on,
    )


def _finding(chance: Random, reference: str) -> StockFinding:
    rule = chance.randrange(_RULES)
    severity = tuple(Severity)[rule % 4]
    return StockFinding(
        rule=f"made-up-rule-{rule}",
        severity=chance.choice((severity, severity, Severity.NOTE)),
        message="a conductor of the hall valve lands where it should not",
        fix="Move it to where it belongs, and try every state again.",
        file=f"properties/{reference}.yaml",
        line=chance.randint(5, 120),
        column=5,
        holds="whenever heating calls",
        subject="hall-valve",
        cure="",
        example="",
    )


def _part(chance: Random) -> StockPart:
    kind, words = chance.choice(_KINDS)
    group = chance.choice(tuple(PartGroup))
    return StockPart(
        group=group,
        kind=kind,
        words=f"{words} motor" if group is PartGroup.MOTORS else words,
        detail=chance.choice(("", "22 mm", "28 mm", "two channels")),
        device="Hall valve",
        place="airing cupboard, left of the cylinder",
        part=f"V-{chance.randint(1, 40):03}" if chance.random() < 0.3 else "",
        fitted=DAY - timedelta(days=chance.randint(0, 9000)) if chance.random() < 0.7 else None,
    )


def _cylinder(chance: Random) -> StockCylinder:
    return StockCylinder(
        device="Cylinder",
        place="airing cupboard",
        system=chance.choice(("vented", "unvented", "thermal store")),
        litres=chance.choice((117, 150, 210, None)),
        cut_out="wired",
        relief_valve="seen",
    )
