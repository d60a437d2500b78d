"""A large mapping that is kept from build to build: written whole now and then, and in between only what changed since.

Knows names and values only. What is not whole, or does not belong together, counts as none.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Generic, TypeVar
from uuid import uuid4

from generator.kept.store import Kept

Value = TypeVar("Value")

MOST_CHANGES = 300
"""More changes than this are not kept apart from the whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Whole:
    """The mapping as it was when it was last written whole; ``name`` tells it from all other times."""

    entries: Mapping[str, Any]
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class _Since:
    """What has changed since, None for what is gone, and what is to be known of all of it."""

    base: str
    entries: Mapping[str, Any]
    about: Any


class KeptMapping(Generic[Value]):
    """The mapping of one name, with a value about all of it."""

    def __init__(self, kept: Kept, name: str) -> None:
        """Begin; nothing is read yet.

        Args:
            kept: Where it is kept.
            name: Under which.
        """
        self._kept = kept
        self.name = name
        """Under which it is kept."""
        self._base = ""
        self._changes: dict[str, Value | None] = {}
        self._held: tuple[object, ...] = ()
        self.entries: Mapping[str, Value] = {}
        """What was last read or written."""
        self.about: Any = None
        """Likewise; None where there is nothing."""

    def read(self) -> None:
        """Read what was last written, by whomever."""
        self._held = self._stamps()
        stored = self._kept.read(self.name)
        since = self._kept.read(f"{self.name}-since") if isinstance(stored, _Whole) else None
        if not isinstance(stored, _Whole) or not isinstance(since, _Since) or since.base != stored.name:
            self._base, self._changes, self.entries, self.about = "", {}, {}, None
            return
        self._base, self._changes, self.about = stored.name, dict(since.entries), since.about
        entries = {**stored.entries, **since.entries}
        self.entries = {key: value for key, value in entries.items() if value is not None}

    def write(self, entries: Mapping[str, Value], about: object) -> None:
        """Keep a mapping in the place of what was last read or written: where little changed, that alone.

        Args:
            entries: The mapping; no value is None.
            about: Whatever is to be known of all of it.
        """
        known, changes = self.entries, dict(self._changes)
        if entries is not known:
            changes |= {key: value for key, value in entries.items() if known.get(key) != value}
            changes |= {key: None for key in known if key not in entries}
        if not self._base or len(changes) > MOST_CHANGES or not self.holds():
            whole = _Whole(entries=entries, name=uuid4().hex)
            self._base, changes = whole.name, {}
            self._kept.write(self.name, whole)
        self._kept.write(f"{self.name}-since", _Since(base=self._base, entries=changes, about=about))
        self._changes, self.entries, self.about = changes, entries, about
        self._held = self._stamps()

    def holds(self) -> bool:
        """Whether what is in memory is what is kept: read or written here, and written by nobody since."""
        stamps = self._stamps()
        return None not in stamps and stamps == self._held

    def _stamps(self) -> tuple[object, ...]:
        return self._kept.stamp(self.name), self._kept.stamp(f"{self.name}-since")
