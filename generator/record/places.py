"""Where each key and each value of a record stands, and the record's data beside it.

Must not know how a file is read or what its values mean.
"""

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass
from typing import Any

from generator.findings.finding import Span

Path = tuple[str | int, ...]
"""The way to a value from the top of a record: keys of mappings and 0-based places in lists."""

Mark = tuple[str, int, int]
"""A span before it is asked for: file, 1-based line, 1-based column."""

EVERYWHERE: Path = ()


class Places:
    """Maps a path to the span of its key and of its value.

    A path that is not written anywhere (a key that is missing, say) gets the place of its nearest ancestor.
    """

    __slots__ = ("_keys", "_moved", "_unread", "_values")

    def __init__(
        self,
        keys: Mapping[Path, Mark],
        values: Mapping[Path, Mark],
        unread: Set[Path] = frozenset(),
        moved: Mapping[Path, int] | None = None,
    ) -> None:
        """Keep the marks.

        Args:
            keys: The mark of every key of every mapping, by the path of its value.
            values: The mark of every value, the top of the record (the empty path) among them.
            unread: Paths of values that were refused when the file was read. Their data is a stand-in, and a
                finding about them was already given.
            moved: For items of lists that stand elsewhere in the file than in the data, their 0-based place in the
                list of the file.
        """
        self._keys = keys
        self._values = values
        self._unread = unread
        self._moved = moved or {}

    def key(self, path: Path) -> Span:
        """Span of the key that leads to a value.

        Args:
            path: Path of the value. For an item of a list and for the top, which have no key, the span of the
                value itself.

        Returns:
            The span, or that of the nearest ancestor that is written.
        """
        mark = self._keys.get(path)
        return Span(*mark) if mark is not None else self.value(path)

    def value(self, path: Path) -> Span:
        """Span of a value, or of its nearest ancestor that is written (its key, where it has one)."""
        mark = self._values.get(path)
        if mark is not None:
            return Span(*mark)
        if not path:
            return Span("", 1, 1)
        return self.key(path[:-1])

    def is_written(self, path: Path) -> bool:
        """Whether a value stands at this path in the file, even an empty one."""
        return path in self._values

    def is_unread(self, path: Path) -> bool:
        """Whether the value at the path, or one around it, was refused when the file was read."""
        return bool(self._unread) and any(path[:length] in self._unread for length in range(len(path) + 1))

    def as_written(self, path: Path) -> Path:
        """The path with the places in lists that its values have in their own file."""
        if not self._moved:
            return path
        return tuple(self._moved.get(path[: length + 1], step) for length, step in enumerate(path))

    def key_mark(self, path: Path) -> Mark | None:
        """The mark of exactly this key, for building other places."""
        return self._keys.get(path)

    def value_mark(self, path: Path) -> Mark | None:
        """The mark of exactly this value, for building other places."""
        return self._values.get(path)

    def unread_paths(self) -> frozenset[Path]:
        """Paths of values that were refused when the file was read."""
        return frozenset(self._unread)

    def paths(self) -> Iterator[Path]:
        """Every path that is written, in the order of the file."""
        return iter(self._values)


@dataclass(frozen=True, slots=True)
class Document:
    """A record as it is written.

    Attributes:
        data: Mappings as dict (keys are always text, in the order of the file), lists as list, and scalars. A
            number written without quotes is an ``IntAsWritten`` or a ``FloatAsWritten``.
        places: Where each key and value stands.
    """

    data: Any
    places: Places
