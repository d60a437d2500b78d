"""A made-up stock of any size for measuring: house types, houses built to them, and houses that are like no other.

Every record is real: it goes through the whole pipeline. The same number and seed give the same files. The town and
everything in it are invented.
"""

from collections.abc import Iterator
from random import Random
from typing import Any

from generator.record.load import load_text
from generator.record.written_out import write_yaml, written_out

_STREETS = (
    "Alder", "Barley", "Bellfounder", "Brickfield", "Candlewick", "Chandler", "Clover", "Cooper", "Dyer", "Elder",
    "Fletcher", "Flint", "Glebe", "Granary", "Harrow", "Hazel", "Heron", "Hopfield", "Juniper", "Kestrel",
    "Lantern", "Larch", "Linnet", "Mallow", "Maltings", "Millrace", "Orchard", "Osier", "Plover", "Quarry",
    "Rowan", "Saddler", "Sexton", "Sorrel", "Tanner", "Teasel", "Thatcher", "Tiller", "Wheelwright", "Willow",
)  # fmt: skip
_WAYS = ("Row", "Street", "Lane", "Close", "Terrace", "Walk", "Road", "Court")
_TOWN = "Embermere"
_HOUSES_A_TYPE = 24
"""How many houses are built to one type, on average; one in twenty-five is built to none."""
_ROLES = ("heating engineer", "gas engineer", "electrician", "surveyor")
_CLOCKS = ("room-thermostat", "room-thermostat", "programmable-room-thermostat", "wireless-receiver")
_ROOMS = ("ground", "first", "second", "loft", "annexe")
_WATER = {"hot-water": {"serves": "hot water"}}
_PLACES = ("airing cupboard", "kitchen, beside the boiler", "landing cupboard", "utility room", "garage")


def made_up_stock(properties: int, *, seed: int) -> Iterator[tuple[str, str]]:
    """The files of the stock: path below its folder, and text; house types first.

    Args:
        properties: How many records.
        seed: The same seed gives the same stock.
    """
    chance = Random(seed)  # noqa: S311  # a choice, not a secret
    count = max(1, properties // _HOUSES_A_TYPE)
    types = [f"type-{number + 1:03d}" for number in range(count)]
    dwellings = {}
    for number, name in enumerate(types):
        dwellings[name] = _dwelling(chance)
        yield f"house-types/{name}.yaml", _house_type(name, number, chance)
    alone = properties // 25
    number = 0
    for place in range(properties):
        street, house = divmod(place, 40)
        address = {"lines": [f"{house + 1} {_street(street)}"], "town": _TOWN, "postcode": _postcode(street)}
        reference = f"EM-{place + 1:05d}"
        # Spread evenly, so that any part of the stock is like the whole.
        if (place + 1) * alone // properties > place * alone // properties:
            number += 1
            yield f"{reference}.yaml", _alone(reference, address, count + number, chance)
        else:
            name = types[place * count // properties]
            yield f"{reference}.yaml", _built(reference, address, name, dwellings[name], chance)


def _street(number: int) -> str:
    way, name = divmod(number, len(_STREETS))
    again, way = divmod(way, len(_WAYS))
    return f"{_STREETS[name]} {_WAYS[way]}{f' {again + 1}' if again else ''}"


def _postcode(number: int) -> str:
    # QE is no area of the Post Office.
    return f"QE{number % 40 + 1} {number // 40 % 9 + 1}{chr(65 + number % 23)}{chr(65 + number // 23 % 23)}"


def _dwelling(chance: Random) -> dict[str, Any]:
    return {
        "storeys": chance.choice((1, 2, 2, 2, 3)),
        "floor_area_m2": chance.randrange(48, 146),
        "year": chance.randrange(1880, 2016),
    }


def _property(
    reference: str, address: dict[str, Any], dwelling: dict[str, Any], chance: Random
) -> dict[str, Any]:
    return {
        "reference": reference,
        "uprn": f"9900{chance.randrange(10**8):08d}",
        "address": address,
        "nation": "england",
        "fuel": "gas",
        "dwelling": dwelling,
    }


def _head(
    reference: str, address: dict[str, Any], dwelling: dict[str, Any], chance: Random
) -> dict[str, Any]:
    how = chance.choice(("tested", "tested", "seen", "seen", "seen", "assumed"))
    sure = {"how": how, "on": _day(chance), "by": chance.choice(_ROLES)}
    return {"format": 1, "property": _property(reference, address, dwelling, chance), "sure": sure}


def _day(chance: Random) -> str:
    return f"{chance.randrange(2022, 2026)}-{chance.randrange(1, 13):02d}-{chance.randrange(1, 29):02d}"


def _visits(chance: Random) -> list[dict[str, Any]]:
    days = sorted(_day(chance) for _ in range(chance.randrange(1, 4)))
    return [
        {
            "on": day,
            "by": chance.choice(_ROLES),
            "found": f"Yearly service. Flow at {chance.randrange(58, 76)} degrees, return {chance.randrange(40, 56)}.",
        }
        for day in days
    ]


def _built(
    reference: str, address: dict[str, Any], name: str, dwelling: dict[str, Any], chance: Random
) -> str:
    """A house as its type, but for what is its own; one in thirty has had a part renewed."""
    record = _head(reference, address, dwelling, chance)
    record["house_type"] = name
    if chance.randrange(30) == 0:
        record["devices"] = {
            "boiler": {"fitted": _day(chance), "special": "Renewed, and wired as the old one was."}
        }
    record["visits"] = _visits(chance)
    return write_yaml(record)


def _alone(reference: str, address: dict[str, Any], number: int, chance: Random) -> str:
    """A house of its own, written out conductor by conductor; one in fifteen has two cores exchanged."""
    record = _head(reference, address, _dwelling(chance), chance)
    record |= _arrangement(number, chance)
    record["visits"] = _visits(chance)
    text = written_out(load_text(write_yaml(record).encode(), f"{reference}.yaml"))
    return _exchanged(text, chance) if chance.randrange(15) == 0 else text


def _house_type(name: str, number: int, chance: Random) -> str:
    head = {
        "format": 1,
        "house_type": name,
        "about": f"Houses built alike by one contractor, lot {number + 1}.",
    }
    return write_yaml(head | _arrangement(number, chance))


def _arrangement(number: int, chance: Random) -> dict[str, Any]:
    """An arrangement with its devices; the number goes round the arrangements, the rest is drawn."""
    name = ("two-port", "two-port", "mid-position", "diverter", "combination", "two-port", "underfloor")[
        number % 7
    ]
    options: dict[str, Any] = {"name": name}
    if name in ("mid-position", "diverter"):
        zones: dict[str, Any] = {
            "heating": {"serves": "heating", "thermostat": chance.choice(_CLOCKS[:3])}
        } | _WATER
    else:
        most = 3 if name == "two-port" else 2
        zones = {
            f"{room}-floor": {"serves": "heating", "thermostat": chance.choice(_CLOCKS)}
            for room in _ROOMS[: chance.randrange(1, most + 1)]
        }
        if name == "two-port" and chance.random() < 0.85:
            zones |= _WATER
    options["zones"] = zones
    if any(zone["serves"] == "hot water" for zone in zones.values()):
        options["cylinder"] = chance.choice(("vented", "vented", "unvented"))
        options |= {"cut_out": "wired"} if options["cylinder"] == "unvented" else {}
    if name in ("two-port", "combination"):
        options["fed_core"] = chance.choice(("GY", "GY", "OG"))
    if name != "underfloor":
        options["timer"] = chance.choice(("programmer", "time-switch"))
    options["boiler"] = (
        chance.choice(("permanent and switched live", "overrun"))
        if name == "combination"
        else chance.choice(("permanent and switched live", "overrun", "switched live only"))
    )
    return {"arrangement": options, "devices": _devices(options, chance)}


def _devices(options: dict[str, Any], chance: Random) -> dict[str, Any]:
    """What makes houses of one arrangement differ: where things are, and what they take."""
    devices: dict[str, Any] = {
        "boiler": {
            "place": chance.choice(("kitchen", "garage", "utility room", "loft")),
            "settings": {"watts": chance.randrange(60, 151, 5)},
        },
        "centre": {"place": chance.choice(_PLACES)},
    }
    if "cylinder" in options:
        cylinder: dict[str, Any] = {"litres": chance.randrange(90, 251, 10)}
        if options["cylinder"] == "unvented":
            cylinder["relief_valve"] = "seen"
        devices["cylinder"] = {"place": chance.choice(_PLACES), "settings": cylinder}
    return devices


def _exchanged(text: str, chance: Random) -> str:
    """The record with the cores of two conductors to devices exchanged, as a slip of the hand does it."""
    lines = text.split("\n")
    places = [at for at, line in enumerate(lines) if "- {to: " in line and ".motor" in line]
    others = [
        at for at, line in enumerate(lines) if "- {to: " in line and (".call" in line or ".common" in line)
    ]
    if not places or not others:
        return text
    one, other = places[0], chance.choice(others)
    lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)
