"""Lays one document over another: a record over its house type, or over what a short way expands to.

Must not know what the values mean, only which lists of a record are added to rather than replaced.
"""

from dataclasses import dataclass, field
from typing import Any

from generator.findings.finding import Finding, Severity
from generator.record.places import Document, Mark, Path, Places
from generator.record.wording import place_words, quote

_ANY = "*"

ADDED_TO: tuple[Path, ...] = (
    ("wiring", "centres", _ANY, _ANY),
    ("wiring", "direct"),
    ("wiring", "links"),
    ("wiring", "spare"),
    ("wiring", "removed"),
)
"""Lists whose items are put after those of the layer below; every other list replaces the one below it."""


def merge(base: Document, over: Document) -> tuple[Document, list[Finding]]:
    """Lay one document over another.

    Mappings are merged key by key: the keys of ``base`` in its order, then the new ones of ``over`` in theirs. An
    empty value (``null``) in ``over`` takes away what ``base`` has under that key. Any other value of ``over``
    takes the place of that in ``base``, but for the lists named in ``ADDED_TO``.

    Args:
        base: The layer below, a house type for one.
        over: The layer above, which has the last word.

    Returns:
        The merged document, in which every span still names the file it came from (a mapping or a list that both
        layers have is placed where ``over`` has it), and a finding for every key of ``over`` that should take
        away something that is not there.
    """
    merging = _Merging(base, over)
    data = merging.value((), base.data, over.data)
    places = Places(merging.keys, merging.values, merging.unread, merging.moved)
    return Document(data, places), merging.findings


@dataclass(slots=True)
class _Merging:
    base: Document
    over: Document
    keys: dict[Path, Mark] = field(default_factory=dict)
    values: dict[Path, Mark] = field(default_factory=dict)
    unread: set[Path] = field(default_factory=set)
    moved: dict[Path, int] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)

    def value(self, path: Path, below: Any, above: Any) -> Any:
        """Merge two values that stand at one path."""
        if isinstance(below, dict) and isinstance(above, dict):
            self._mark(self.over, path, path)
            return self._mappings(path, below, above)
        if isinstance(below, list) and isinstance(above, list) and _is_added_to(path):
            self._mark(self.over, path, path)
            return [
                *(
                    self._copy(self.base, (*path, place), (*path, place), item)
                    for place, item in enumerate(below)
                ),
                *(
                    self._copy(self.over, (*path, place), (*path, len(below) + place), item)
                    for place, item in enumerate(above)
                ),
            ]
        return self._copy(self.over, path, path, above)

    def _mappings(self, path: Path, below: dict[str, Any], above: dict[str, Any]) -> dict[str, Any]:
        merged: dict[str, Any] = {}
        for key, value in below.items():
            here = (*path, key)
            if key not in above:
                merged[key] = self._copy(self.base, here, here, value)
            elif above[key] is not None or self.over.places.is_unread(here):
                merged[key] = self.value(here, value, above[key])
        for key, value in above.items():
            if key in below:
                continue
            here = (*path, key)
            if value is None and not self.over.places.is_unread(here):
                self.findings.append(self._nothing_to_remove(here, key))
            else:
                merged[key] = self._copy(self.over, here, here, value)
        return merged

    def _copy(self, source: Document, path: Path, new_path: Path, value: Any) -> Any:
        """A value of one layer as it stands, with the places of all that is in it."""
        self._mark(source, path, new_path)
        if isinstance(value, dict):
            return {
                key: self._copy(source, (*path, key), (*new_path, key), item) for key, item in value.items()
            }
        if isinstance(value, list):
            return [
                self._copy(source, (*path, place), (*new_path, place), item)
                for place, item in enumerate(value)
            ]
        return value

    def _mark(self, source: Document, path: Path, new_path: Path) -> None:
        places = source.places
        key, value = places.key_mark(path), places.value_mark(path)
        if key is not None:
            self.keys[new_path] = key
        if value is not None:
            self.values[new_path] = value
        if places.is_unread(path):
            self.unread.add(new_path)
        if path and isinstance(number := places.as_written(path)[-1], int) and number != new_path[-1]:
            self.moved[new_path] = number

    def _nothing_to_remove(self, path: Path, key: str) -> Finding:
        return Finding(
            rule="nothing-to-remove",
            severity=Severity.WARNING,
            message=f"{quote(key)} is left empty to take away what is inherited {place_words(path[:-1])}, "
            "but nothing is",
            fix="Take the line out, or correct the key.",
            span=self.over.places.key(path),
        )


def _is_added_to(path: Path) -> bool:
    return any(
        len(path) == len(pattern)
        and all(want in (_ANY, step) for want, step in zip(pattern, path, strict=True))
        for pattern in ADDED_TO
    )
