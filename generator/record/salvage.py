"""What can still be read of data whose shape is wrong, so that its other faults can be told as well.

The result is for looking up names only: parts are missing from it and others stand in for what was wrong, so
nothing may be worked out from it. Must not know circuits.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from generator.record.error_places import ErrorPlace, ErrorPlaces
from generator.record.model import FORMAT, Record
from generator.record.moved import without
from generator.record.places import Document, Path, Places
from generator.record.wording import closest

_ROUNDS = 3
"""What is dropped may leave something around it too short; after that something is wrong that dropping does not cure."""

_SECTIONS: tuple[Path, ...] = (("devices",), ("water", "sources"))
"""Sections that give names: where one is gone as a whole, no name can be called unknown."""

HEAD: Mapping[str, Any] = {
    "format": FORMAT,
    "property": {
        "reference": "NONE-0001",
        "address": {"lines": ["None"], "town": "None"},
        "nation": "england",
        "fuel": "gas",
        "dwelling": {"storeys": 1, "floor_area_m2": 1.0},
    },
    "sure": {"how": "assumed", "on": "2000-01-01", "by": "record keeper"},
}
"""Stands in for the head of a record, all that a record cannot do without, where there is none or a wrong one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lost:
    """Names that may be missing only since their part was dropped.

    Attributes:
        names: Which.
        any_name: Whether it may be any name, since a whole section is gone.
    """

    names: frozenset[str] = frozenset()
    any_name: bool = False

    def __contains__(self, name: object) -> bool:
        return self.any_name or name in self.names


NOTHING_LOST = Lost()


@dataclass(frozen=True, slots=True, kw_only=True)
class Salvaged:
    """What could be read: a record, the places of what is left in it, and the names that were dropped."""

    record: Record
    places: Places
    lost: Lost


def salvage(document: Document, lost: Lost = NOTHING_LOST) -> Salvaged | None:
    """Drop what is wrong in a record until the rest is right.

    Args:
        document: the record as far as it was read.
        lost: names that were lost before.

    Returns:
        None where the data is no mapping, or still wrong after a few rounds.
    """
    if not isinstance(document.data, dict):
        return None
    error_places = ErrorPlaces(Record)
    dropped: dict[Path, Any] = {}
    for _ in range(_ROUNDS + 1):
        try:
            return Salvaged(
                record=Record.model_validate(document.data),
                places=document.places,
                lost=lost if lost.any_name else _lost(dropped),
            )
        except ValidationError as error:
            details = error.errors(include_url=False)
        cures = _Cures(error_places, document.data)
        for detail in details:
            cures.of(error_places.find(detail["loc"], document.data), missing=detail["type"] == "missing")
        for path in cures.gone:
            dropped.setdefault(path, _at(document.data, path))
        document = without(Document(_with(document.data, cures.instead), document.places), cures.gone)
    return None


class _Cures:
    """What to drop and what to replace in one round."""

    def __init__(self, places: ErrorPlaces, data: Any) -> None:
        self._places = places
        self._data = data
        self.gone: set[Path] = set()
        self.instead: dict[Path, Any] = {}

    def of(self, place: ErrorPlace, *, missing: bool) -> None:
        """Add the cure of one error."""
        if place.unions:
            self._drop(place.unions[0][0])
        elif place.is_key or not place.path:
            self.gone.add(place.path)
        elif place.path[:1] == ("photos",) and place.path[2:] == ("file",):
            self.instead[place.path] = "photo.png"  # so that the device it shows is kept
        elif place.allowed() and self._is_required(place.path):
            # Any of the words will do, since names alone are looked up; so the names beside it are kept.
            self.instead[place.path] = getattr(place.allowed()[0], "value", place.allowed()[0])
        else:
            self._drop(place.path, missing=missing)

    def _is_required(self, path: Path) -> bool:
        return self._keys(path[:-1]).get(str(path[-1]), False)

    def _keys(self, path: Path) -> dict[str, bool]:
        return dict(self._places.find(path, self._data).keys_within())

    def _drop(self, path: Path, *, missing: bool = False) -> None:
        """Drop the smallest part around a path that may be left out."""
        if missing and len(path) > 1:
            path = path[:-1]
        while len(path) > 1 and isinstance(path[-1], str):
            keys = self._keys(path[:-1])
            if path[-1] not in keys and not (keys and _is_cable(path[-1])):
                break
            if path[-1] in keys and not keys[path[-1]] and path[-1] != "cable":
                break
            path = path[:-1]
        if len(path) == 1 and path[0] in HEAD:
            self.instead[path] = HEAD[str(path[0])]
        elif path:
            self.gone.add(path)


def _is_cable(key: str) -> bool:
    """Whether a misspelt key was meant for the cable; without it a core would be taken for one of another cable."""
    return closest(key, ["cable", "core", "sleeve", "sure", "to", "ends"]) == "cable"


def _with(data: Any, instead: Mapping[Path, Any], path: Path = ()) -> Any:
    """A copy of the data with other values at some paths, those of missing keys added."""
    if path in instead:
        return instead[path]
    if isinstance(data, dict):
        added = {
            str(each[-1]): value
            for each, value in instead.items()
            if len(each) == len(path) + 1 and each[:-1] == path and each[-1] not in data
        }
        return {key: _with(value, instead, (*path, key)) for key, value in data.items()} | added
    if isinstance(data, list):
        return [_with(value, instead, (*path, index)) for index, value in enumerate(data)]
    return data


def _at(data: Any, path: Path) -> Any:
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def _lost(dropped: Mapping[Path, Any]) -> Lost:
    names: set[str] = set()
    for path, value in dropped.items():
        names.update(step for step in path[-1:] if isinstance(step, str))
        if len(path) == 1 and isinstance(value, dict):
            names.update(value)  # a section under a misspelt key
    any_name = any(path in _SECTIONS or path[:1] == ("arrangement",) for path in dropped)
    return Lost(names=frozenset(names), any_name=any_name)
