"""Reads YAML 1.2 with the place of every key and value, and refuses what does not belong in a record.

Must not know what a record holds. It reads the events of a YAML parser and gives plain scalars their meaning by
itself, since ready-made loaders go by YAML 1.1 (see ``scalars``), keep no places, and let anchors multiply.
"""

from collections.abc import Iterable
from typing import Any

import yaml

from generator.findings.finding import Finding, Severity, Span
from generator.record.places import Document, Mark, Path, Places
from generator.record.scalars import NotANumber, resolve_plain
from generator.record.source_text import HIDDEN, REPLACEMENT, hidden_character_words, read_source
from generator.record.wording import quote, sentence
from generator.record.yaml_problems import syntax_finding

MAX_DEPTH = 32
MAX_NODES = 20_000

_FAST = getattr(yaml, "CBaseLoader", None)
_SLOW = yaml.BaseLoader


def load(source: bytes, file: str, *, pure: bool = False) -> tuple[Document | None, list[Finding]]:
    """Read a YAML file.

    Args:
        source: The whole file.
        file: Its path as it is shown to the user; every span carries it.
        pure: Use the reader written in Python even where the compiled one is built.

    Returns:
        The document, and everything that was refused, in the order of the file. The document is None when its
        layout could not be made out to the end. With findings it may still be there, to find more faults by: a
        refused value is then None and its path is *unread* in its places.
    """
    source_text = read_source(source, file)
    findings = list(source_text.findings)
    document: Document | None = None
    if source_text.text is not None:
        builder = _Builder(file, findings, source_text.replaced)
        loader = _SLOW if pure or _FAST is None else _FAST
        try:
            document = builder.build(yaml.parse(source_text.text, Loader=loader))
        except (yaml.YAMLError, ValueError, OverflowError) as error:
            # The reader in Python lets the last two out for escapes of characters that do not exist.
            findings.append(syntax_finding(error, source_text.text, file))
    findings.sort(key=lambda finding: finding.sort_key)
    return document, findings


class _Collection:
    """A mapping or list being read."""

    __slots__ = ("data", "is_key", "keeps", "key", "path", "seen")

    def __init__(self, data: dict[str, Any] | list[Any], path: Path | None, *, is_key: bool) -> None:
        self.data = data
        self.path = path
        """None when nothing of it is kept: it stands under a repeated key, or is itself a key."""
        self.is_key = is_key
        """It stands where the key of the mapping around it should."""
        self.key: str | None = None
        """The key whose value comes next; None when a key comes next."""
        self.keeps = True
        """Whether the value that comes next is kept; not under a repeated key, for one."""
        self.seen: dict[str, Mark] = {}
        """The keys so far, each where it stands first."""

    def expect_value_of_no_key(self) -> None:
        """After something that cannot be a key: its value is read over."""
        self.key, self.keeps = "", False


class _Stop(Exception):
    """The file is refused from here on; the finding was added."""


class _Builder:
    """Puts a document together from the events of a parser."""

    def __init__(self, file: str, findings: list[Finding], replaced: bool) -> None:
        self._file = file
        self._findings = findings
        self._replaced = replaced
        self._keys: dict[Path, Mark] = {}
        self._values: dict[Path, Mark] = {}
        self._unread: set[Path] = set()
        self._open: list[_Collection] = []
        self._root: Any = None
        self._nodes = 0

    def build(self, events: Iterable[Any]) -> Document | None:
        """Read all events.

        Returns:
            None when the document is refused as a whole.
        """
        documents = 0
        try:
            for event in events:
                if isinstance(event, yaml.ScalarEvent):
                    self._scalar(event)
                elif isinstance(event, yaml.MappingStartEvent):
                    self._start(event, {})
                elif isinstance(event, yaml.SequenceStartEvent):
                    self._start(event, [])
                elif isinstance(event, yaml.CollectionEndEvent):
                    self._end()
                elif isinstance(event, yaml.AliasEvent):
                    self._alias(event)
                elif isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    self._document(event, documents)
        except _Stop:
            return None
        if () not in self._values:
            self._values[()] = (self._file, 1, 1)
        return Document(self._root, Places(self._keys, self._values, self._unread))

    # ------------------------------------------------------------------ events

    def _document(self, event: Any, number: int) -> None:
        mark = self._mark(event)
        if number > 1:
            self._refuse("several-documents", "a second document begins here", "keep one in a file", mark)
            raise _Stop
        if event.version not in (None, (1, 2)):
            self._refuse(
                "yaml-syntax", "records are read as YAML 1.2 only", "take the line with `%` out", mark
            )
        if event.tags:
            self._refuse("yaml-tag", "tags cannot be used in a record", "take the line with `%` out", mark)

    def _start(self, event: Any, data: dict[str, Any] | list[Any]) -> None:
        mark = self._mark(event)
        self._count(mark)
        if len(self._open) >= MAX_DEPTH:
            message = f"this is nested deeper than {MAX_DEPTH} levels"
            self._refuse("too-deep", message, "", mark)
            raise _Stop
        if self._wants_key():
            message = "a mapping or a list cannot be a key"
            self._refuse("key-not-text", message, "write the key as text", mark)
            self._open.append(_Collection(data, None, is_key=True))
            return
        path = self._place(data, mark)
        self._check_properties(event, path, mark)
        self._open.append(_Collection(data, path, is_key=False))

    def _end(self) -> None:
        closed = self._open.pop()
        if closed.is_key:
            self._open[-1].expect_value_of_no_key()

    def _scalar(self, event: Any) -> None:
        mark = self._mark(event)
        self._count(mark)
        text: str = event.value
        is_plain: bool = event.implicit[0]
        refused = self._replaced and REPLACEMENT in text
        if event.style == '"':
            refused = self._check_escapes(text, mark) or refused
        if self._wants_key():
            self._key(text, event, mark, refused=refused)
            return
        value: Any = text
        if is_plain and not event.style:
            try:
                value = resolve_plain(text)
            except NotANumber as error:
                self._refuse("not-a-number", str(error), "put it in quotes if it is meant as text", mark)
                value, refused = None, True
        path = self._place(value, mark)
        self._check_properties(event, path, mark)
        if refused and path is not None:
            self._unread.add(path)

    def _alias(self, event: Any) -> None:
        mark = self._mark(event)
        self._count(mark)
        self._refuse(
            "yaml-alias", f"`*{event.anchor}` repeats a value from elsewhere in the file", _WRITE_OUT, mark
        )
        if self._wants_key():
            self._open[-1].expect_value_of_no_key()
            return
        path = self._place(None, mark)
        if path is not None:
            self._unread.add(path)

    # ------------------------------------------------------------------ parts

    def _key(self, text: str, event: Any, mark: Mark, *, refused: bool) -> None:
        mapping = self._open[-1]
        first = mapping.seen.setdefault(text, mark)
        mapping.key = text
        mapping.keeps = bool(text) and first is mark
        path: Path | None = None
        if not text:
            self._refuse("key-not-text", "a key is empty", "write the key before the colon", mark)
        elif first is not mark:
            self._repeated(text, first, mark)
        elif mapping.path is not None:
            path = (*mapping.path, text)
            self._keys[path] = mark
        self._check_properties(event, path, mark)
        if refused and path is not None:
            self._unread.add(path)

    def _repeated(self, key: str, first: Mark, mark: Mark) -> None:
        self._findings.append(
            Finding(
                rule="duplicate-key",
                severity=Severity.ERROR,
                message=f"the key {quote(key)} is given twice; the second one is not read",
                fix="Keep one of them.",
                span=Span(*mark),
                related=((Span(*first), "given first here"),),
            )
        )

    def _place(self, value: Any, mark: Mark) -> Path | None:
        """Put a value where it belongs.

        Returns:
            Its path; None when it is not kept.
        """
        path: Path | None = ()
        if not self._open:
            self._root = value
        else:
            parent = self._open[-1]
            if isinstance(parent.data, list):
                path = None if parent.path is None else (*parent.path, len(parent.data))
                parent.data.append(value)
            else:
                key, parent.key = parent.key or "", None
                path = None if parent.path is None or not parent.keeps else (*parent.path, key)
                if parent.keeps:
                    parent.data[key] = value
        if path is not None:
            self._values[path] = mark
        return path

    def _wants_key(self) -> bool:
        return bool(self._open) and self._open[-1].key is None and isinstance(self._open[-1].data, dict)

    def _check_properties(self, event: Any, path: Path | None, mark: Mark) -> None:
        if event.anchor is not None:
            self._refuse(
                "yaml-anchor", f"anchors such as `&{event.anchor}` are not used here", _WRITE_OUT, mark
            )
        if event.tag is not None:
            self._refuse("yaml-tag", "tags (words that begin with `!`) are not used here", _TAKE_OUT, mark)
            if path is not None:
                self._unread.add(path)

    def _check_escapes(self, text: str, mark: Mark) -> bool:
        """Refuse characters that double quotes can bring in by an escape."""
        for character in text:
            if character != REPLACEMENT and (character in "\t\r" or HIDDEN.match(character)):
                message, fix = hidden_character_words(character)
                self._refuse("hidden-character", message, fix, mark)
                return True
        return False

    def _count(self, mark: Mark) -> None:
        self._nodes += 1
        if self._nodes > MAX_NODES:
            message = f"the file has more than {MAX_NODES} keys and values"
            self._refuse("file-too-long", message, "", mark)
            raise _Stop

    def _mark(self, event: Any) -> Mark:
        start = event.start_mark
        return (self._file, start.line + 1, start.column + 1)

    def _refuse(self, rule: str, message: str, fix: str, mark: Mark) -> None:
        self._findings.append(
            Finding(rule=rule, severity=Severity.ERROR, message=message, fix=sentence(fix), span=Span(*mark))
        )


_WRITE_OUT = "write the value out where it is needed"
_TAKE_OUT = "take it out, or put the text in quotes"
