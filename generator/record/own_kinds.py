"""Kinds of device of the firm's own: files in the folder `kinds` beside the records, checked and made into kinds.

A broken file gives findings at its lines and no kind. Knows no particular kind.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path as FilePath

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.kinds import KINDS
from generator.catalogue.logic import All, Any, Back, Expr, Fed, Is, Joined, Live, Not, atoms
from generator.catalogue.parts import (
    Contact,
    Control,
    DeviceParts,
    Driven,
    Fact,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Sense,
    Terminal,
)
from generator.findings.finding import Finding, Severity, in_order
from generator.record.file_names import shown_path
from generator.record.kind_model import Condition, KindFile
from generator.record.kind_names import name_problems
from generator.record.problems import validate
from generator.record.yaml12 import load

OWN_KINDS = "kinds"
"""Folder of the firm's own kinds, beside the records."""


class NoSettings(Settings):
    """A kind of the firm's own has no settings: devices that differ are of different kinds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnKind:
    """What came of one file: the kind, None where it is broken, and what is wrong."""

    name: str
    kind: Kind | None
    findings: tuple[Finding, ...]


def own_kinds(folder: FilePath | None) -> tuple[OwnKind, ...]:
    """The firm's own kinds in the folder `kinds` of a folder of records, by name; none without a folder.

    Raises:
        OSError: a file cannot be read.
    """
    files = sorted((folder / OWN_KINDS).glob("*.yaml")) if folder is not None else []
    return tuple(load_own_kind(file) for file in files if file.is_file())


def digests_of_own(folder: FilePath | None) -> tuple[tuple[str, str], ...]:
    """The name and a digest of each file of the firm's own kinds.

    Raises:
        OSError: a file cannot be read.
    """
    files = sorted((folder / OWN_KINDS).glob("*.yaml")) if folder is not None else []
    return tuple((file.stem, _digest(file)) for file in files if file.is_file())


def _digest(file: FilePath) -> str:
    stat = file.stat()
    return _digest_of(str(file), stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=256)
def _digest_of(file: str, mtime_ns: int, size: int) -> str:  # noqa: ARG001  # they tell a changed file
    return sha256(FilePath(file).read_bytes()).hexdigest()


def kinds_of_own(folder: FilePath | None) -> tuple[Kind, ...]:
    """The firm's own kinds that can be used; those whose files are wrong are left out."""
    return tuple(each.kind for each in own_kinds(folder) if each.kind is not None)


def load_own_kind(file: FilePath) -> OwnKind:
    """Read one file. The same file unchanged is read once.

    Raises:
        OSError: the file cannot be read.
    """
    stat = file.stat()
    return _read(str(file), shown_path(file), stat.st_mtime_ns, stat.st_size)


@lru_cache(maxsize=256)
def _read(file: str, shown: str, mtime_ns: int, size: int) -> OwnKind:  # noqa: ARG001  # they tell a changed file
    path = FilePath(file)
    return read_own_kind(path.read_bytes(), shown, path.stem)


def read_own_kind(source: bytes, shown: str, stem: str) -> OwnKind:
    """Read a kind from memory.

    Args:
        source: the file's bytes.
        shown: its path as messages show it.
        stem: the file's name without its ending, which the kind must be called.
    """
    document, findings = load(source, shown)
    if document is None:
        return OwnKind(name=stem, kind=None, findings=in_order(findings))
    places = document.places
    model, problems = validate(KindFile, document.data, places)
    findings += problems
    if model is None:
        return OwnKind(name=stem, kind=None, findings=in_order(findings))
    findings += name_problems(model, places)
    if model.kind != stem:
        findings.append(
            Finding(
                rule="not-the-file-name",
                severity=Severity.ERROR,
                message=f"the kind is called `{model.kind}` but its file `{stem}.yaml`",
                fix="Name both alike.",
                span=places.value(("kind",)),
            )
        )
    if any(kind.name == model.kind for kind in KINDS):
        findings.append(
            Finding(
                rule="kind-name-taken",
                severity=Severity.ERROR,
                message=f"there is a kind `{model.kind}` in the catalogue already",
                fix="Give yours another name.",
                span=places.value(("kind",)),
            )
        )
    if findings:
        return OwnKind(name=stem, kind=None, findings=in_order(findings))
    return OwnKind(name=stem, kind=_kind(model), findings=())


def _movers(model: KindFile) -> dict[str, Driven]:
    """By contact, the part that moves it where its condition asks more than what is on.

    A contact is moved by inputs and parts; whether a load is fed, or a point live, moves a part first.
    """
    movers = {}
    for name, item in model.contacts.items():
        when = expression(item.made)
        if any(not isinstance(leaf, Is) for leaf in atoms(when)):
            own = f"{name}-mover"
            while own in model.inputs or own in model.driven:
                own += "-2"
            movers[name] = Driven(name=own, words=item.words, on_words="made", off_words="broken", when=when)
    return movers


def _kind(model: KindFile) -> Kind:
    hidden = _movers(model)
    parts = DeviceParts(
        terminals=tuple(
            Terminal(
                name=name,
                words=item.words,
                role=Role(item.role),
                usual_core=item.usual_core or "",
                needed=item.needed,
            )
            for name, item in model.terminals.items()
        ),
        inner=tuple(model.inner),
        inputs=tuple(
            Input(
                name=name,
                words=item.words,
                on_words=item.on,
                off_words=item.off,
                kind=InputKind(item.kind),
                normal=item.normal,
                calls=item.calls,
            )
            for name, item in model.inputs.items()
        ),
        contacts=tuple(
            Contact(
                name=name,
                words=item.words,
                a=item.between[0],
                b=item.between[1],
                when=Is(hidden[name].name) if name in hidden else expression(item.made),
                rated_a=item.rated_a,
            )
            for name, item in model.contacts.items()
        ),
        loads=tuple(
            Load(
                name=name,
                words=item.words,
                a=item.between[0],
                b=item.between[1],
                watts=item.watts,
                power_factor=item.power_factor,
                kind=LoadKind(item.kind),
            )
            for name, item in model.loads.items()
        ),
        driven=tuple(
            Driven(
                name=name,
                words=item.words,
                on_words=item.on,
                off_words=item.off,
                when=expression(item.moves),
                on_s=item.on_s,
                off_s=item.off_s,
            )
            for name, item in model.driven.items()
        )
        + tuple(hidden.values()),
        senses=tuple(
            Sense(name=name, a=item.between[0], b=item.between[1], volts=item.volts, ohm=item.ohm)
            for name, item in model.senses.items()
        ),
        controls=tuple(
            Control(name=name, words=item.words, does=item.does, input=item.moves)
            for name, item in model.controls.items()
        ),
        facts=tuple(Fact(words=item.words, value=item.value, source=item.source) for item in model.facts),
        protection=model.protection,
    )
    return Kind(
        name=model.kind,
        words=model.words,
        duty=Duty(model.duty),
        about=model.about,
        settings=NoSettings,
        parts=lambda _: parts,
    )


def expression(written: str | Condition) -> Expr:
    """A condition as it is written, as the solver reads it."""
    if isinstance(written, str):
        return Is(written)
    return next(_expressions(written))


def _expressions(written: Condition) -> Iterator[Expr]:
    if written.is_ is not None:
        yield Is(written.is_)
    if written.not_ is not None:
        yield Not(expression(written.not_))
    if written.all_ is not None:
        yield All(tuple(expression(each) for each in written.all_))
    if written.any_ is not None:
        yield Any(tuple(expression(each) for each in written.any_))
    if written.fed is not None:
        yield Fed(written.fed)
    if written.live is not None:
        yield Live(written.live)
    if written.back is not None:
        yield Back(written.back)
    if written.joined is not None:
        yield Joined(written.joined[0], written.joined[1])
