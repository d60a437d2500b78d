"""The index that the finder searches: every property's reference, address and sorts, column by column.

Made from the stock's rows in one pass. What many properties share (the street, the arrangement, a set of findings) is
written once in a list and meant by its place there, so that the whole stays small on a telephone.
Must not know HTML, nor how the finder ranks what it finds.
"""

import re
from collections.abc import Callable, Collection, Hashable, Iterable
from dataclasses import dataclass, field
from datetime import date
from typing import Any, Generic, TypeVar

from generator.views.stock_counts import Looked, looked
from generator.views.stock_lines import WORST_FIRST
from generator.views.stock_model import StockRow
from generator.views.wording import capital

FORMAT = 1
NO_FINDING = "none"
NO_CYLINDER = "none"
NOT_RECORDED = "not recorded"
NOT_WORKED_OUT = "not worked out"

_HOUSE_NUMBER = re.compile(r"(.*\d\S*) (.+)", re.DOTALL)
"""What of an address is its own, and what it has in common with the other houses of the street."""

Item = TypeVar("Item")


class _Listed(Generic[Item]):
    """Items in the order in which they are first met, each meant by its place."""

    def __init__(self, known: Iterable[Item] = ()) -> None:
        self._places: dict[Item, int] = {item: place for place, item in enumerate(known)}

    def place(self, item: Item) -> int:
        return self._places.setdefault(item, len(self._places))

    def items(self) -> list[Item]:
        return list(self._places)


@dataclass(frozen=True, slots=True)
class Facet:
    """One respect in which properties can be picked out.

    Attributes:
        key: Its name in links to the finder.
        words: What it is called above the choice.
        part: The part of a row that it goes by, which many rows have alike.
        values: What a property with such a part has in this respect: (key, words) each; none for one that is not to be picked
            by it.
        known: Values that come first, whether any property has them or not.
        found: Whether words that are typed are looked for among the words of its values.
    """

    key: str
    words: str
    part: Callable[[StockRow, date], Hashable]
    values: Callable[[Any], Iterable[tuple[str, str]]]
    known: tuple[tuple[str, str], ...] = ()
    found: bool = False


def _plain(key: str) -> tuple[str, str]:
    return key, capital(key)


def _slug(key: str) -> tuple[str, str]:
    return key, capital(key.replace("-", " "))


FACETS: tuple[Facet, ...] = (
    Facet(
        "severity",
        "Has a finding that is",
        lambda row, _: tuple([one.severity for one in row.findings]),
        lambda severities: [_plain(str(one)) for one in severities] or [(NO_FINDING, "No finding")],
        known=(*(_plain(str(severity)) for severity in WORST_FIRST), (NO_FINDING, "No finding")),
    ),
    Facet(
        "rule",
        "Finding by rule",
        lambda row, _: tuple([one.rule for one in row.findings]),
        lambda rules: ((rule, rule) for rule in rules),
    ),
    Facet(
        "unusual",
        "What is unusual",
        lambda row, _: row.unusual,
        lambda keys: map(_slug, keys),
        found=True,
    ),
    Facet(
        "arrangement",
        "Arrangement",
        lambda row, _: row.arrangement,
        lambda words: [(words or NOT_WORKED_OUT, words or capital(NOT_WORKED_OUT))],
        found=True,
    ),
    Facet(
        "kind",
        "Device",
        lambda row, _: row.kinds,
        lambda kinds: ((name, capital(words)) for name, words in kinds),
        found=True,
    ),
    Facet(
        "cylinder",
        "Cylinder",
        lambda row, _: tuple([one.system for one in row.cylinders]),
        lambda systems: (
            [_plain(system or NOT_RECORDED) for system in systems] or [(NO_CYLINDER, "No cylinder")]
        ),
        found=True,
    ),
    Facet(
        "type",
        "House type",
        lambda row, _: row.house_type,
        lambda name: [_plain(name or NO_FINDING)],
        found=True,
    ),
    Facet("nation", "Nation", lambda row, _: row.nation, lambda nation: [_plain(nation or NOT_RECORDED)]),
    Facet("fuel", "Fuel", lambda row, _: row.fuel, lambda fuel: [_plain(fuel or NOT_RECORDED)]),
    Facet(
        "looked",
        "Last looked at",
        looked,
        lambda ago: [_plain(str(ago))],
        known=tuple(_plain(str(each)) for each in Looked),
    ),
)


@dataclass(slots=True)
class _Column:
    """One facet while it is filled: its values, the sets of them that properties have, and each property's set."""

    facet: Facet
    values: _Listed[tuple[str, str]]
    sets: _Listed[tuple[int, ...]] = field(default_factory=_Listed)
    of: list[int] = field(default_factory=list)
    known: dict[Hashable, int] = field(default_factory=dict)

    def fill(self, rows: Collection[StockRow], day: date) -> None:
        known, part_of = self.known, self.facet.part
        for row in rows:
            part = part_of(row, day)
            if part not in known:
                places = sorted({self.values.place(value) for value in self.facet.values(part)})
                known[part] = self.sets.place(tuple(places))
            self.of.append(known[part])


def stock_index(rows: Collection[StockRow], *, day: date) -> dict[str, Any]:
    """The index as plain data, ready for JSON; the script `finder.js` reads it.

    Keys: ``format``; ``refs``, ``uprns``, ``postcodes``, ``numbers``, one line a property; ``streets``, a list, and
    ``street``, each property's place in it (an address is its number, a space where there is one, and its street);
    ``facets``, each with ``key``, ``words``, ``found``, ``ordered``, ``values`` as [key, words] or one text for both, ``sets`` of
    places among the values, and ``of``, each property's place among the sets.

    Args:
        rows: the stock, in the order in which properties are listed.
        day: the day by which it is said how long ago a property was looked at.
    """
    refs: list[str] = []
    uprns: list[str] = []
    postcodes: list[str] = []
    numbers: list[str] = []
    streets: _Listed[str] = _Listed()
    street: list[int] = []
    columns = [_Column(facet, _Listed(facet.known)) for facet in FACETS]
    for row in rows:
        refs.append(row.reference)
        uprns.append(row.uprn)
        postcodes.append(row.postcode)
        own, common = _divided(row.address.removesuffix(f", {row.postcode}") if row.postcode else row.address)
        numbers.append(own)
        street.append(streets.place(common))
    for column in columns:
        column.fill(rows, day)
    return {
        "format": FORMAT,
        "refs": _lines(refs),
        "uprns": _lines(uprns),
        "postcodes": _lines(postcodes),
        "numbers": _lines(numbers),
        "streets": streets.items(),
        "street": street,
        "facets": [_written(column) for column in columns],
    }


def _lines(texts: list[str]) -> str:
    """One line a text: smaller than a list, since every quotation mark would count ten thousand times."""
    return "\n".join(" ".join(text.split("\n")) for text in texts)


def _divided(address: str) -> tuple[str, str]:
    match = _HOUSE_NUMBER.fullmatch(address)
    return (match[1], match[2]) if match else ("", address)


def _written(column: _Column) -> dict[str, Any]:
    facet = column.facet
    return {
        "key": facet.key,
        "words": facet.words,
        "found": facet.found,
        "ordered": bool(facet.known),
        "values": [key if key == words else [key, words] for key, words in column.values.items()],
        "sets": column.sets.items(),
        "of": column.of,
    }
