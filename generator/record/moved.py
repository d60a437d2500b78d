"""Lets a record state a core again: drops from what it inherits every conductor that it moves, spares or removes.

Works on documents as written, before they are checked, so it must bear anything.
"""

from collections.abc import Iterator
from typing import Any

from generator.findings.finding import Finding, Severity
from generator.record.places import Document, Mark, Path, Places
from generator.record.wording import as_text

Core = tuple[str, str]
Ends = frozenset[str]


def drop_moved(base: Document, over: Document) -> tuple[Document, tuple[Finding, ...]]:
    """The inherited document without what ``over`` states anew.

    A core (cable and colour code) is in one place only: a landing, direct conductor, spare or removed
    core in ``over`` takes the inherited one away. A removed link takes away the inherited link of
    exactly those ends. A removal that matches nothing is reported.
    """
    stated = {core for core, _ in _cores(over.data)}
    links = {ends for ends, _ in _removed_links(over.data)}
    there = {core for core, _ in _cores(base.data)}
    base_links = {_ends(item.get("ends")) for item, _ in _items(base.data, "links")}
    findings = []
    for item, path in _items(over.data, "removed"):
        core = _core_of(item, None)
        ends = _ends(item.get("link"))
        if (core and core not in there) or (ends and ends not in base_links):
            what = f"core {core[1]} of cable `{core[0]}`" if core else "link"
            findings.append(
                Finding(
                    rule="nothing-to-remove",
                    severity=Severity.ERROR,
                    message=f"no such {what} is inherited, so it cannot be removed",
                    fix="Remove only what the house type or the short way gives.",
                    span=over.places.value(path),
                )
            )
    gone: set[Path] = {path for core, path in _cores(base.data) if core in stated}
    for item, path in _items(base.data, "links"):
        if _ends(item.get("ends")) in links:
            gone.add(path)
    return without(base, gone), tuple(findings)


def _items(data: Any, part: str) -> Iterator[tuple[dict[str, Any], Path]]:
    """The mappings in one list of the wiring, each with its path."""
    wiring = data.get("wiring") if isinstance(data, dict) else None
    listed = wiring.get(part) if isinstance(wiring, dict) else None
    for index, item in enumerate(listed if isinstance(listed, list) else ()):
        if isinstance(item, dict):
            yield item, ("wiring", part, index)


def _landings(data: Any) -> Iterator[tuple[dict[str, Any], Path]]:
    wiring = data.get("wiring") if isinstance(data, dict) else None
    centres = wiring.get("centres") if isinstance(wiring, dict) else None
    for centre, terminals in (centres if isinstance(centres, dict) else {}).items():
        for terminal, listed in (terminals if isinstance(terminals, dict) else {}).items():
            for index, item in enumerate(listed if isinstance(listed, list) else ()):
                if isinstance(item, dict):
                    yield item, ("wiring", "centres", centre, terminal, index)


def _cores(data: Any) -> Iterator[tuple[Core, Path]]:
    """Every core that the wiring states, and where."""
    for item, path in _landings(data):
        core = _core_of(item, item.get("to"))
        if core:
            yield core, path
    for item, path in _items(data, "direct"):
        ends = item.get("ends")
        core = _core_of(item, ends[0] if isinstance(ends, list) and ends else None)
        if core:
            yield core, path
    for part in ("spare", "removed"):
        for item, path in _items(data, part):
            core = _core_of(item, None)
            if core:
                yield core, path


def _removed_links(data: Any) -> Iterator[tuple[Ends, Path]]:
    for item, path in _items(data, "removed"):
        if ends := _ends(item.get("link")):
            yield ends, path


def _core_of(item: dict[str, Any], end: Any) -> Core | None:
    cable, core, end = as_text(item.get("cable")), as_text(item.get("core")), as_text(end)
    if item.get("cable") is None and end is not None:
        cable = end.split(".", 1)[0]
    if cable is not None and core is not None:
        return cable, core.upper()
    return None


def _ends(written: Any) -> Ends:
    """The ends of a link, as written; empty for what is no list."""
    return frozenset(as_text(end) or "" for end in written) if isinstance(written, list) else frozenset()


def without(document: Document, gone: set[Path]) -> Document:
    """The document without some items of its lists and keys of its mappings, its places moved up accordingly."""
    if not gone:
        return document
    renumbered: dict[Path, Path] = {}

    def copy(value: Any, old: Path, new: Path) -> Any:
        renumbered[old] = new
        if isinstance(value, dict):
            return {
                key: copy(inner, (*old, key), (*new, key))
                for key, inner in value.items()
                if (*old, key) not in gone
            }
        if isinstance(value, list):
            kept: list[Any] = []
            for index, inner in enumerate(value):
                if (*old, index) not in gone:
                    kept.append(copy(inner, (*old, index), (*new, len(kept))))
            return kept
        return value

    data = copy(document.data, (), ())
    keys: dict[Path, Mark] = {}
    values: dict[Path, Mark] = {}
    for old, new in renumbered.items():
        key, value = document.places.key_mark(old), document.places.value_mark(old)
        if key is not None:
            keys[new] = key
        if value is not None:
            values[new] = value
    unread = frozenset(renumbered[p] for p in document.places.unread_paths() if p in renumbered)
    return Document(data=data, places=Places(keys, values, unread))
