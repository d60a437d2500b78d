"""Which files a command is about: records, house types and kinds of the firm's own, below the paths that were given.

It must not know what is in a file.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from generator.findings.errors import CannotReadFile, HearthbookError
from generator.record.load import HOUSE_TYPES
from generator.record.own_kinds import OWN_KINDS
from generator.record.wording import closest, quote
from generator.views.tenant_wording import WORDING

ENDING = ".yaml"
NOT_RECORDS = ("hearthbook.yml", "mkdocs.yml")
"""Settings that may lie beside records, and are none."""
NOT_FOR_RECORDS = ("photos", WORDING)
"""Folders beside records in which nobody looks for one."""
_NEARLY = (".yml", ".yaml")


class Sort(StrEnum):
    """What a file is to be read as."""

    RECORD = "record"
    HOUSE_TYPE = "house type"
    KIND = "kind of device"
    FOLDER = "folder"
    """None of them: a folder inside, with files named like records that nobody reads."""


@dataclass(frozen=True, slots=True)
class Listed:
    """A file to be read."""

    path: Path
    sort: Sort


class NoSuchPath(HearthbookError):
    """Paths were given that do not exist."""

    def __init__(self, paths: tuple[str, ...]) -> None:
        super().__init__(paths)
        self.paths = paths

    @property
    def message(self) -> str:
        named = ", ".join(quote(path) for path in self.paths)
        return f"there is no file or folder {named}; name the folder of records, or records one by one"


class NoRecords(HearthbookError):
    """Folders were given that hold no record."""

    def __init__(self, folders: tuple[str, ...]) -> None:
        super().__init__(folders)
        self.folders = folders

    @property
    def message(self) -> str:
        named = ", ".join(quote(folder) for folder in self.folders)
        return f"there is no record in {named}: records are files whose names end in {ENDING}"


class NoSuchRecord(HearthbookError):
    """A reference was given that no record has."""

    def __init__(self, reference: str, folder: str, close: str) -> None:
        super().__init__(reference, folder, close)
        self.reference = reference
        self.folder = folder
        self.close = close

    @property
    def message(self) -> str:
        hint = f"; did you mean {quote(self.close)}?" if self.close else ""
        return f"there is no record {quote(self.reference)} in {quote(self.folder)}{hint}"


def list_files(paths: Iterable[Path]) -> tuple[Listed, ...]:
    """The records, house types and kinds at the paths, in the order in which they are to be read.

    A folder gives all records directly inside, then the house types and the kinds in their folders; hidden files and the files of
    settings are passed over. Files whose ending is nearly that of a record come too, and folders that hold files named like
    records, so that it can be said that they are not read. A file is taken as it is. What is given twice is read once.

    Raises:
        NoSuchPath: paths do not exist; all of them are named.
        NoRecords: folders hold nothing to read; all of them are named.
        OSError: a folder cannot be read.
    """
    given = list(paths)
    missing = tuple(str(path) for path in given if not path.exists() and not path.is_symlink())
    if missing:
        raise NoSuchPath(missing)
    files: dict[Path, Listed] = {}
    empty: list[str] = []
    for path in given:
        found = list(_in_folder(path)) if path.is_dir() else [Listed(path, _sort_of(path))]
        if all(each.sort is Sort.FOLDER for each in found):
            empty.append(str(path))
        for each in found:
            files.setdefault(each.path.absolute(), each)
    if empty:
        raise NoRecords(tuple(empty))
    return tuple(files.values())


def record_file(given: str, folder: Path) -> Path:
    """The file of a record that was named by its path or by its reference, in capitals or not.

    Raises:
        NoSuchRecord: it is neither.
        CannotReadFile: it is called like a record, and is a folder or leads nowhere.
        OSError: the folder cannot be read.
    """
    path = Path(given)
    if path.is_file():
        return path
    records = [file for file in (_named(folder) if folder.is_dir() else ()) if file.suffix == ENDING]
    wanted = given.removesuffix(ENDING)
    alike = [file for file in records if file.stem.lower() == wanted.lower()]
    if alike:
        file = next((file for file in alike if file.stem == wanted), alike[0])
        if not file.is_file():
            raise CannotReadFile(str(file), "it is not a file")
        return file
    raise NoSuchRecord(given, str(folder), closest(wanted, [file.stem for file in records]) or "")


def _in_folder(folder: Path) -> Iterator[Listed]:
    yield from (Listed(path, _sort_of(path)) for path in _named(folder))
    for name, sort in ((HOUSE_TYPES, Sort.HOUSE_TYPE), (OWN_KINDS, Sort.KIND)):
        beside = folder / name
        if beside.is_dir():
            yield from (Listed(path, sort) for path in _named(beside))
    for inside in sorted(folder.iterdir(), key=lambda path: path.name):
        if inside.name in (HOUSE_TYPES, OWN_KINDS, *NOT_FOR_RECORDS) or inside.name[0] in "._":
            continue
        if inside.is_dir() and inside.suffix.lower() not in _NEARLY and any(_named(inside)):
            yield Listed(inside, Sort.FOLDER)


def _named(folder: Path) -> Iterator[Path]:
    for path in sorted(folder.iterdir(), key=lambda path: path.name):
        if path.suffix.lower() in _NEARLY and path.name not in NOT_RECORDS and path.name[0] != ".":
            yield path


def _sort_of(path: Path) -> Sort:
    beside = {HOUSE_TYPES: Sort.HOUSE_TYPE, OWN_KINDS: Sort.KIND}
    return beside.get(path.absolute().parent.name, Sort.RECORD)
