"""The sentences of tenants' pages and labels, by language: one file each, checked against the English one.

Knows no property. A file of another language is dropped into a folder and nothing else changes; what it leaves out is
said in English, and told as a finding.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from string import Formatter
from typing import Any

from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.record.file_names import shown_path
from generator.record.places import Document
from generator.record.wording import closest, found, quote
from generator.record.yaml12 import load
from generator.templates import templates_dir

ENGLISH = "en"
WORDING = "wording"
"""Folder of the firm's own sentences, beside the records."""
DIRECTION = "direction"
_TAG = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{1,8})*")


class Own(str):
    """A name or place from the record, put into a sentence as it was written there."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of a sentence. ``own`` is True for what was taken from the record: it is in no language of ours."""

    text: str
    own: bool = False


Phrase = tuple[Run, ...]
"""One or more whole sentences, or a heading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wording:
    """All sentences of one language.

    ``language`` is its tag (BCP 47), ``direction`` is ``ltr`` or ``rtl``. ``sentences`` is complete: what the file lacks stands in English.
    ``borrowed`` names the sentences that do.
    """

    language: str
    direction: str
    sentences: Mapping[str, str]
    borrowed: frozenset[str] = frozenset()

    def say(self, key: str, /, **given: str) -> Phrase:
        """A sentence with what stands in braces filled in; `Own` values are marked as such.

        Raises:
            KeyError: there is no such sentence, or it needs something that was not given.
        """
        runs = []
        for text, name, _, _ in Formatter().parse(self.sentences[key]):
            if text:
                runs.append(Run(text))
            if name is not None:
                value = given[name]
                runs.append(Run(str(value), own=isinstance(value, Own)))
        return tuple(runs)

    def text(self, key: str, /, **given: str) -> str:
        """The same as plain text."""
        return "".join(run.text for run in self.say(key, **given))


class WordingBroken(HearthbookError):
    """The English file that comes with the program cannot be used."""

    def __init__(self, faults: tuple[str, ...]) -> None:
        super().__init__(faults)
        self.faults = faults

    @property
    def message(self) -> str:
        return "the sentences that come with the program are broken: " + "; ".join(self.faults)


def english_file() -> Path:
    """The file with all sentences in English, from which every other language is checked."""
    return templates_dir() / "tenant" / "words" / f"{ENGLISH}.yaml"


def load_wordings(records: Path | None = None) -> tuple[dict[str, Wording], tuple[Finding, ...]]:
    """Every language there is: those that come with the program, and those in the folder `wording` beside the records.

    A file beside the records in a language that comes with the program replaces single sentences of it.

    Args:
        records: The folder of records.

    Returns:
        The wordings by language tag, and everything that is wrong or missing in them, in the order of the files.

    Raises:
        WordingBroken: the English file is not whole.
        OSError: a file cannot be read.
    """
    ours = {file.stem: file for file in sorted(english_file().parent.glob("*.yaml"))}
    english, findings = _read(ours.pop(ENGLISH), None)
    if findings:
        raise WordingBroken(tuple(f"{each.span}: {each.message}" for each in findings))
    files = [*ours.values()]
    if records is not None:
        files += [file for file in sorted((records / WORDING).glob("*.yaml")) if file.is_file()]
    read: dict[str, dict[str, str]] = {ENGLISH: dict(english)}
    spans: dict[str, Span] = {}
    for file in files:
        if not _TAG.fullmatch(file.stem):
            findings.append(_bad_name(file))
            continue
        sentences, faults = _read(file, english)
        findings += faults
        read.setdefault(file.stem, {}).update(sentences)
        spans[file.stem] = Span(shown_path(file), 1, 1)
    wordings = {tag: _wording(tag, sentences, english) for tag, sentences in read.items()}
    for tag, wording in wordings.items():
        if wording.borrowed:
            findings.append(_missing(spans[tag], wording.borrowed, english))
    return wordings, in_order(findings)


def _wording(tag: str, sentences: Mapping[str, str], english: Mapping[str, str]) -> Wording:
    return Wording(
        language=tag,
        direction=sentences.get(DIRECTION, "ltr"),
        sentences={**english, **sentences},
        borrowed=frozenset(english) - frozenset(sentences) - {DIRECTION},
    )


def _read(file: Path, english: Mapping[str, str] | None) -> tuple[dict[str, str], list[Finding]]:
    """The sentences of one file by `group.key`; only those that can be used."""
    document, findings = load(file.read_bytes(), shown_path(file))
    if document is None:
        return {}, findings
    sentences: dict[str, str] = {}
    for key, value, path in _leaves(document.data):
        span = document.places.value(path)
        if not isinstance(value, str) or not value.strip():
            findings.append(_fault(span, f"{quote(key)} has to be a sentence, and is {found(value)}"))
        elif key == DIRECTION and value not in ("ltr", "rtl"):
            findings.append(_fault(span, "`direction` has to be `ltr` or `rtl`"))
        elif english is not None and key not in english:
            findings.append(_unknown(document, path, key, english))
        elif (words := _braces(value, english[key] if english is not None else value)) is not None:
            findings.append(_fault(span, f"{quote(key)} {words}"))
        else:
            sentences[key] = value
    return sentences, findings


def _leaves(data: Any) -> Iterator[tuple[str, Any, tuple[str, ...]]]:
    if not isinstance(data, dict):
        yield "the file", data, ()
        return
    for group, inner in data.items():
        if isinstance(inner, dict):
            for key, value in inner.items():
                yield f"{group}.{key}", value, (group, key)
        else:
            yield group, inner, (group,)


def _braces(sentence: str, english: str) -> str | None:
    """What is wrong with what stands in braces; None where nothing is."""
    try:
        wanted, names = placeholders(english), placeholders(sentence)
    except ValueError:
        return "has a brace without its other half"
    if names == wanted:
        return None
    said = " and ".join(f"{{{name}}}" for name in sorted(wanted)) or "nothing"
    return f"has to have {said} in braces"


def placeholders(sentence: str) -> frozenset[str]:
    """The names that stand in braces.

    Raises:
        ValueError: a brace has no other half, or something else than a name stands in it.
    """
    names = set()
    for _, name, form, conversion in Formatter().parse(sentence):
        if name is None:
            continue
        if form or conversion or not name.isidentifier():
            raise ValueError(sentence)
        names.add(name)
    return frozenset(names)


def _fault(span: Span, message: str) -> Finding:
    return Finding(rule="wording-shape", severity=Severity.WARNING, message=message, span=span)


def _unknown(document: Document, path: tuple[str, ...], key: str, english: Mapping[str, str]) -> Finding:
    close = closest(key, english)
    return Finding(
        rule="wording-unknown",
        severity=Severity.WARNING,
        message=f"there is no sentence {quote(key)}",
        fix=f"Did you mean {quote(close)}?" if close else "",
        span=document.places.key(path),
    )


def _bad_name(file: Path) -> Finding:
    return Finding(
        rule="wording-shape",
        severity=Severity.WARNING,
        message=f"{quote(file.name)} is not named by a language tag, so it is not read",
        fix="Name it like `cy.yaml` or `pt-BR.yaml`.",
        span=Span(shown_path(file), 1, 1),
    )


def _missing(span: Span, borrowed: frozenset[str], english: Mapping[str, str]) -> Finding:
    keys = [key for key in english if key in borrowed]
    shown = ", ".join(quote(key) for key in keys[:5])
    more = f" and {len(keys) - 5} more" if len(keys) > 5 else ""
    return Finding(
        rule="wording-missing",
        severity=Severity.WARNING,
        message=f"{len(keys)} sentences are missing and are said in English: {shown}{more}",
        fix="Write them with the same keys as in the English file, which `hearthbook wording` prints.",
        span=span,
    )
