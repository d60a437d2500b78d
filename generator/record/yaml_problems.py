"""What the YAML reader complains of, in words for the person who wrote the record.

Must not know records. The reader's own wording never leaves this module.
"""

from dataclasses import dataclass

import yaml

from generator.findings.finding import Finding, Severity, Span
from generator.record.wording import sentence


@dataclass(frozen=True, slots=True)
class _Words:
    message: str
    fix: str = ""
    at_start: bool = False
    """Point to where the unfinished thing begins, rather than to where the reader gave up."""
    rule: str = "yaml-syntax"


_QUOTE_IT = "put the text in single quotes if this belongs to it"
_LINE_UP = "line it up with the lines it belongs to"

# Parts of the complaints of the two readers (the fast one, and the one used where that is not built), tried in
# this order against "context / problem".
_BY_COMPLAINT: tuple[tuple[tuple[str, ...], _Words], ...] = (
    (("nesting depth",), _Words("this is nested far too deep", rule="too-deep")),
    (
        ("mapping values are not allowed",),
        _Words(
            "there is a colon where no key can stand",
            "line the key up with its neighbours, or put the text in single quotes if the colon belongs to it",
        ),
    ),
    (
        ("sequence entries are not allowed",),
        _Words("a list cannot begin here", "begin it on a line of its own"),
    ),
    (
        ("mapping keys are not allowed",),
        _Words("a question mark followed by a blank cannot stand here", _QUOTE_IT),
    ),
    (
        ("cannot start any token",),
        _Words("text cannot begin with this character unless it is in quotes", _QUOTE_IT),
    ),
    (
        ("could not find expected ':'",),
        _Words(
            "a key has no colon after it", "write `key: value`, with a blank after the colon", at_start=True
        ),
    ),
    (
        ("quoted scalar", "unexpected end of stream"),
        _Words("the quotes that open here are never closed", "close them", at_start=True),
    ),
    (
        ("quoted scalar", "document separator"),
        _Words("the quotes that open here are never closed", "close them", at_start=True),
    ),
    (
        ("quoted scalar", "document indicator"),
        _Words("the quotes that open here are never closed", "close them", at_start=True),
    ),
    (
        ("double-quoted scalar",),
        _Words(
            "this backslash means nothing in double quotes", "use single quotes, or write two backslashes"
        ),
    ),
    (
        ("parsing a quoted scalar",),
        _Words(
            "this backslash means nothing in double quotes", "use single quotes, or write two backslashes"
        ),
    ),
    (
        ("flow sequence",),
        _Words(
            "the list that opens here is not closed, or lacks a comma", "close it with `]`", at_start=True
        ),
    ),
    (
        ("flow mapping",),
        _Words(
            "the mapping that opens here is not closed, or lacks a comma", "close it with `}`", at_start=True
        ),
    ),
    (("block mapping",), _Words("this line fits in nowhere among the keys above it", _LINE_UP)),
    (("block collection",), _Words("this line does not line up with the list above it", _LINE_UP)),
    (("block sequence",), _Words("this line does not line up with the list above it", _LINE_UP)),
    (
        ("block scalar",),
        _Words(
            "the text block is not set out right",
            "after `|` or `>` end the line, and indent the text with blanks",
        ),
    ),
    (
        ("anchor",),
        _Words("text cannot begin with `&` unless it is in quotes", _QUOTE_IT, rule="yaml-anchor"),
    ),
    (
        ("alias",),
        _Words("text cannot begin with `*` unless it is in quotes", _QUOTE_IT, rule="yaml-alias"),
    ),
    (("tag",), _Words("text cannot begin with `!` unless it is in quotes", _QUOTE_IT, rule="yaml-tag")),
    (
        ("directive",),
        _Words("a line cannot begin with `%`", "take the line out, or put the text in quotes"),
    ),
    (("incompatible",), _Words("the file asks for another version of YAML", "take the line with `%` out")),
    (("plain scalar",), _Words("this text needs quotes", "put it in single quotes")),
    (
        ("document start",),
        _Words("this line fits in nowhere: what stands above it was complete", _LINE_UP),
    ),
    (("node content",), _Words("a value is missing here", "write it, or take the mark before it out")),
    (
        ("node",),
        _Words("there is something here that is no value", _QUOTE_IT),
    ),
)
_AFTER_VALUE = _Words(
    "there is more here after a value that was complete", "put the whole text in single quotes"
)
_OTHERWISE = _Words("the file cannot be read on from here", "look at the lines just above, and at quotes")


def syntax_finding(error: Exception, text: str, file: str) -> Finding:
    """A finding for what stopped the YAML reader.

    Args:
        error: What it raised.
        text: What it read.
        file: The file to name.
    """
    words = _OTHERWISE
    begun: Span | None = None
    stopped: Span | None = None
    if isinstance(error, yaml.MarkedYAMLError):
        words = _words_for(f"{error.context or ''} / {error.problem or ''}")
        begun = _span(error.context_mark, file)
        stopped = _span(error.problem_mark, file)
    if words.fix == _LINE_UP and stopped is not None and not _begins_line(text, stopped):
        words = _AFTER_VALUE
    span = (begun if words.at_start else stopped) or stopped or begun or Span(file, 1, 1)
    related: tuple[tuple[Span, str], ...] = ()
    if words.at_start and stopped is not None and stopped.line > span.line:
        related = ((stopped, "this could not be read as part of it"),)
    elif begun is not None and begun.line < span.line:
        related = ((begun, "what it belongs to begins here"),)
    return Finding(
        rule=words.rule,
        severity=Severity.ERROR,
        message=words.message,
        fix=sentence(words.fix),
        span=span,
        related=related,
    )


def _span(mark: yaml.Mark | None, file: str) -> Span | None:
    return None if mark is None else Span(file, mark.line + 1, mark.column + 1)


def _begins_line(text: str, span: Span) -> bool:
    line = text.split("\n")[span.line - 1 : span.line]
    return not "".join(line)[: span.column - 1].strip()


def _words_for(complaint: str) -> _Words:
    for parts, words in _BY_COMPLAINT:
        if all(part in complaint for part in parts):
            return words
    return _OTHERWISE
