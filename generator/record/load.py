"""Reads a record to the end: file, house type, short way, models, settings; all findings at once.

The one way from a file to a checked record. Knows nothing of circuits.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from os import scandir
from pathlib import Path as FilePath
from typing import Any

from generator.catalogue.kind import Kind, Settings
from generator.catalogue.kinds import KINDS
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.record.file_names import shown_path
from generator.record.layers import merge
from generator.record.model import FORMAT, Device, HouseType, Record
from generator.record.moved import drop_moved
from generator.record.own_kinds import OWN_KINDS, kinds_of_own, own_kinds
from generator.record.places import Document, Path, Places
from generator.record.problems import validate
from generator.record.salvage import HEAD, NOTHING_LOST, Lost, Salvaged, salvage
from generator.record.short_model import Arrangement
from generator.record.short_overrides import without_misfits
from generator.record.short_way import expand
from generator.record.wording import as_text, closest
from generator.record.yaml12 import load

HOUSE_TYPES = "house-types"
"""Folder of the house types, beside the records."""

_INHERITED = frozenset({"arrangement", "devices", "cables", "wiring", "zones", "water"})
"""What a record may have from its house type, below which nothing is missing while that could not be read."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LoadedRecord:
    """A record as far as it could be read.

    ``record`` is None where its shape is wrong. ``kinds`` and ``settings`` are by device; a device of
    unknown kind or with wrong settings is missing from them. ``document`` is the whole record with the
    house type and the short way applied, None where the file could not be read. ``salvaged`` is what is
    left of a record whose shape is wrong, for looking up names and nothing else. ``lost`` are names that
    may be in a part that could not be read, as in a house type that is not there: any, or none.
    """

    file: str
    text: str
    record: Record | None
    kinds: Mapping[str, Kind]
    settings: Mapping[str, Settings]
    places: Places
    document: Document | None
    findings: tuple[Finding, ...]
    salvaged: Salvaged | None = None
    lost: Lost = NOTHING_LOST


def load_record(file: FilePath, *, kinds: tuple[Kind, ...] = KINDS) -> LoadedRecord:
    """Read the record in a file, with its house type from the folder `house-types` beside it.

    Raises:
        OSError: the file cannot be read.
    """
    return load_text(file.read_bytes(), shown_path(file), folder=file.parent, stem=file.stem, kinds=kinds)


def load_text(
    source: bytes,
    file: str,
    *,
    folder: FilePath | None = None,
    stem: str | None = None,
    kinds: tuple[Kind, ...] = KINDS,
) -> LoadedRecord:
    """Read a record from memory.

    Args:
        source: the file's bytes.
        file: its path as messages show it.
        folder: where house types are looked for; None where there are none.
        stem: the file's name without its ending, which the reference must equal; None to leave that out.
        kinds: the catalogue; the firm's own kinds in the folder `kinds` come to it.
    """
    document, findings = load(source, file)
    text = source.decode("utf-8", errors="replace")
    if document is None:
        return _unreadable(file, text, findings)
    if not isinstance(document.data, dict):
        return _unreadable(file, text, [*findings, _not_a_mapping(document, "a record")])
    early = _format_problem(document)
    if early:
        return _unreadable(file, text, [*findings, early])
    if stem is not None:
        findings += _named_as_file(document, stem)
    return _loaded(document, file, text, findings, folder=folder, kinds=kinds)


def load_as_built(file: FilePath, *, kinds: tuple[Kind, ...] = KINDS) -> LoadedRecord:
    """Read a house type as the record of a house that differs from it in nothing.

    Raises:
        OSError: the file cannot be read.
    """
    head = Document({**HEAD, "house_type": file.stem}, Places({}, {(): ("", 1, 1)}))
    return _loaded(head, "", "", [], folder=file.parent.parent, kinds=kinds)


def _loaded(
    document: Document,
    file: str,
    text: str,
    findings: list[Finding],
    *,
    folder: FilePath | None,
    kinds: tuple[Kind, ...],
) -> LoadedRecord:
    """The record of a document that could be read."""
    whole, more, lost = _layered(document, folder)
    record, problems = validate(
        Record, whole.data, whole.places, inherited=_INHERITED if lost.any_name else frozenset()
    )
    # What is wrong in a house type by itself is wrong in what is laid over it as well, in other words maybe.
    told = {(each.rule, each.span) for each in more}
    findings = [*findings, *more, *(each for each in problems if (each.rule, each.span) not in told)]
    own = own_kinds(folder)
    findings += [problem for each in own if each.name in _kinds_used(whole) for problem in each.findings]
    kinds = (*kinds, *kinds_of_own(folder))
    found_kinds, settings, problems = _settings(whole, kinds, broken=[each.name for each in own])
    findings += problems
    return LoadedRecord(
        file=file,
        text=text,
        record=record,
        kinds=found_kinds,
        settings=settings,
        places=whole.places,
        document=whole,
        findings=in_order(findings),
        salvaged=salvage(whole, lost) if record is None else None,
        lost=lost,
    )


def load_house_type(file: FilePath) -> tuple[Document | None, tuple[Finding, ...]]:
    """Read a house type by itself, checking the shape of what it states."""
    shown = shown_path(file)
    document, findings = load(file.read_bytes(), shown)
    if document is None:
        return None, in_order(findings)
    if not isinstance(document.data, dict):
        return None, in_order([*findings, _not_a_mapping(document, "a house type")])
    early = _format_problem(document)
    if early:
        return None, in_order([*findings, early])
    _, problems = validate(HouseType, _without_removals(document.data), document.places)
    named = as_text(document.data.get("house_type"))
    if named is not None and named != file.stem:
        problems.append(
            _finding(
                "not-the-file-name",
                document.places.value(("house_type",)),
                f"the house type is called `{named}` but its file `{file.name}`",
                "Name both alike.",
            )
        )
    return document, in_order([*findings, *problems])


def _without_removals(data: dict[str, Any]) -> dict[str, Any]:
    """The data without keys set to null below the top, which take away what the short way gives.

    A device may leave its kind to the short way.
    """
    cleaned = dict(data)
    for section in ("devices", "cables", "zones"):
        if isinstance(cleaned.get(section), dict):
            cleaned[section] = {key: value for key, value in cleaned[section].items() if value is not None}
    if cleaned.get("arrangement") is not None and isinstance(cleaned.get("devices"), dict):
        cleaned["devices"] = {name: _with_kind(device) for name, device in cleaned["devices"].items()}
    return cleaned


def _with_kind(device: Any) -> Any:
    """A device with a kind in any case, but where another key may be a misspelt one."""
    if isinstance(device, dict) and device.keys() <= Device.model_fields.keys():
        return {"kind": "given", **device}
    return device


def _unreadable(file: str, text: str, findings: list[Finding]) -> LoadedRecord:
    return LoadedRecord(
        file=file,
        text=text,
        record=None,
        kinds={},
        settings={},
        places=Places({}, {(): (file, 1, 1)}),
        document=None,
        findings=in_order(findings),
    )


def _finding(rule: str, span: Span, message: str, fix: str = "") -> Finding:
    return Finding(rule=rule, severity=Severity.ERROR, message=message, fix=fix, span=span)


def _not_a_mapping(document: Document, what: str) -> Finding:
    span = document.places.value(())
    if document.data is None and not document.places.is_unread(()):
        return _finding("not-a-record", span, f"the file is empty, and {what} is a mapping of keys")
    return _finding("not-a-record", span, f"{what} is a mapping of keys")


def _format_problem(document: Document) -> Finding | None:
    """A record of another format version is not read further: its other keys may mean other things."""
    written = document.data.get("format")
    if isinstance(written, bool) or not isinstance(written, int) or written == FORMAT:
        return None
    span = document.places.value(("format",))
    if written > FORMAT:
        return _finding(
            "newer-format",
            span,
            f"this file is of format {written}; this program reads format {FORMAT}, so nothing else in it was read",
            "Update the program; do not lower the number.",
        )
    return _finding(
        "unknown-format",
        span,
        f"there is no format {written}; this program reads format {FORMAT}",
        f"Write `format: {FORMAT}`.",
    )


def _named_as_file(document: Document, stem: str) -> list[Finding]:
    section = document.data.get("property")
    written = as_text(section.get("reference")) if isinstance(section, dict) else None
    if written is None or written == stem:
        return []
    return [
        _finding(
            "not-the-file-name",
            document.places.value(("property", "reference")),
            f"the reference is `{written}` but the file is `{stem}.yaml`",
            "Name both alike.",
        )
    ]


def _layered(document: Document, folder: FilePath | None) -> tuple[Document, list[Finding], Lost]:
    """The document over its house type over the short way of either; and what a house type that is not there had."""
    findings: list[Finding] = []
    named = as_text(document.data.get("house_type"))
    if named is not None:
        # A name of digits is text from here on, for whoever reads the document.
        document = Document(data={**document.data, "house_type": named}, places=document.places)
    layers = [document]
    if named is not None:
        base, problems = _house_type(named, document, folder)
        findings += problems
        if base is None:
            stated = Document(data=_without_removals(document.data), places=document.places)
            return stated, findings, Lost(any_name=True)
        layers.insert(0, base)
    short = _short_way(_laid(layers)[0])
    if short is not None:
        layers.insert(0, short)
    whole, more = _laid(layers)
    if short is None:
        return whole, [*findings, *more], NOTHING_LOST
    whole, misfits = without_misfits(short, whole)
    return whole, [*findings, *more, *misfits], NOTHING_LOST


def _laid(layers: list[Document]) -> tuple[Document, list[Finding]]:
    """Each layer over the one before it, cores that it states anew taken away below."""
    whole = layers[0]
    findings: list[Finding] = []
    for above in layers[1:]:
        kept, problems = drop_moved(whole, above)
        findings += problems
        whole, more = merge(kept, above)
        findings += more
    if len(layers) == 1:
        findings += drop_moved(Document(data={}, places=whole.places), whole)[1]
    return whole, findings


def _house_type(
    name: str, document: Document, folder: FilePath | None
) -> tuple[Document | None, list[Finding]]:
    span = document.places.value(("house_type",))
    types = _stems(folder / HOUSE_TYPES) if folder is not None else frozenset()
    if folder is None or name not in types:
        close = closest(name, sorted(types))
        hint = f"; did you mean `{close}`?" if close else ""
        return None, [
            _finding(
                "unknown-house-type",
                span,
                f"no house type is called `{name}`{hint}",
                f"House types are files in the folder `{HOUSE_TYPES}` beside the records.",
            )
        ]
    base, problems = load_house_type(folder / HOUSE_TYPES / f"{name}.yaml")
    if base is None:
        return None, list(problems)
    data = {key: value for key, value in base.data.items() if key not in ("about", "house_type")}
    return Document(data=data, places=base.places), list(problems)


def _stems(folder: FilePath) -> frozenset[str]:
    """The names of the files in a folder, without their ending: with thousands of records each look at it counts."""
    try:
        with scandir(folder) as entries:
            names = [entry.name for entry in entries]
    except OSError:
        return frozenset()
    return frozenset(name.removesuffix(".yaml") for name in names if name.endswith(".yaml"))


def _short_way(whole: Document) -> Document | None:
    """What the arrangement expands to; None without one, or where its own section is wrong."""
    written = whole.data.get("arrangement")
    path: Path = ("arrangement",)
    arrangement = None if written is None else validate(Arrangement, written, whole.places, root_path=path)[0]
    if arrangement is None:
        return None
    span = whole.places.key(path)
    zone_marks = {}
    for zone in arrangement.zones:
        at = whole.places.key((*path, "zones", zone))
        zone_marks[zone] = (at.file, at.line, at.column)
    return expand(arrangement, (span.file, span.line, span.column), zone_marks)


def _kinds_used(whole: Document) -> frozenset[str]:
    """The kinds that the record's devices name, existing or not."""
    devices = whole.data.get("devices")
    written = [
        as_text(each.get("kind"))
        for each in (devices.values() if isinstance(devices, dict) else ())
        if isinstance(each, dict)
    ]
    return frozenset(kind for kind in written if kind is not None)


def _settings(
    whole: Document, kinds: tuple[Kind, ...], broken: list[str]
) -> tuple[dict[str, Kind], dict[str, Settings], list[Finding]]:
    """The kind and the checked settings of every device whose kind is known.

    ``broken`` are kinds of the firm's own that may be unusable, since their files are wrong.
    """
    found: dict[str, Kind] = {}
    settings: dict[str, Settings] = {}
    findings: list[Finding] = []
    devices = whole.data.get("devices")
    for name, device in (devices if isinstance(devices, dict) else {}).items():
        written = as_text(device.get("kind")) if isinstance(device, dict) else None
        if written is None:
            continue
        kind = next((kind for kind in kinds if kind.name == written), None)
        if kind is None:
            close = closest(written, [kind.name for kind in kinds])
            hint = f"; did you mean `{close}`?" if close else ""
            findings.append(
                _finding(
                    "unknown-kind",
                    whole.places.value(("devices", name, "kind")),
                    f"the kind `{written}` of your own cannot be used: its file is wrong",
                    f"Put `{OWN_KINDS}/{written}.yaml` right.",
                )
                if written in broken
                else _finding(
                    "unknown-kind",
                    whole.places.value(("devices", name, "kind")),
                    f"no kind of device is called `{written}`{hint}",
                    f"The kinds are: {', '.join(f'`{kind.name}`' for kind in kinds)}. Kinds of your own are files in "
                    f"the folder `{OWN_KINDS}` beside the records.",
                )
            )
            continue
        found[name] = kind
        path: Path = ("devices", name, "settings")
        given = device.get("settings")
        checked, problems = validate(
            kind.settings, {} if given is None else given, whole.places, root_path=path
        )
        findings += problems
        if checked is not None:
            settings[name] = checked
    return found, settings, findings
