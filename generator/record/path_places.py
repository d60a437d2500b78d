"""Places that say by which path something is found, not where that stands: for findings that many records share.

Knows paths and spans only.
"""

from collections.abc import Iterable
from dataclasses import replace
from json import dumps, loads
from typing import Any

from generator.findings.finding import Finding, Span
from generator.record.places import Path, Places

_KEY = "k"
_VALUE = "v"


class PathPlaces(Places):
    """Gives spans that hold a path. They sort as the values stand in the data, whichever files these came from."""

    __slots__ = ("_numbers",)

    def __init__(self, data: Any) -> None:
        """Number everything in the data.

        Args:
            data: A record as it is written, with its house type and short way applied.
        """
        super().__init__({}, {})
        self._numbers: dict[Path, int] = {}
        self._count(data, ())

    def _count(self, data: Any, path: Path) -> None:
        self._numbers[path] = len(self._numbers)
        inner: Iterable[tuple[str | int, Any]] = ()
        if isinstance(data, dict):
            inner = data.items()
        elif isinstance(data, list):
            inner = enumerate(data)
        for step, value in inner:
            self._count(value, (*path, step))

    def key(self, path: Path) -> Span:
        """The span that means the key there."""
        return self._span(_KEY, path)

    def value(self, path: Path) -> Span:
        """The span that means the value there."""
        return self._span(_VALUE, path)

    def _span(self, what: str, path: Path) -> Span:
        near = path
        while near and near not in self._numbers:
            near = near[:-1]
        return Span(f"{self._numbers[near]:06d}{dumps([what, *path])}", 1, 1)


def placed(finding: Finding, places: Places) -> Finding:
    """A finding whose spans hold paths, with the places of one record instead."""
    return replace(
        finding,
        span=_place(finding.span, places),
        related=tuple((_place(span, places), words) for span, words in finding.related),
    )


def _place(span: Span, places: Places) -> Span:
    what, *path = loads(span.file[6:])
    return places.key(tuple(path)) if what == _KEY else places.value(tuple(path))
