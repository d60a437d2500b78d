"""From the bytes of a file to text that a YAML reader may see: encoding, size, tabs, hidden characters.

Must not know YAML beyond the fact that tabs and control characters do not belong in it. Every character that is
refused is replaced by one other character, so that lines and columns stay those of the file.
"""

import re
import unicodedata
from dataclasses import dataclass

from generator.findings.finding import Finding, Severity, Span
from generator.record.wording import sentence

MAX_BYTES = 512 * 1024
MAX_FINDINGS_OF_A_RULE = 20
"""A file that is wrong throughout gets this many findings of one rule, not thousands."""

REPLACEMENT = "\ufffd"

_CONTROL = "\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f"
_BREAKS = "\u2028\u2029"
_DIRECTION = "\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069"
_NOTHING_TO_SEE = "\xad\u034f\u115f\u1160\u17b4\u17b5\u180e\u200b\u2060-\u2064\u206a-\u206f\u3164\ufeff\uffa0"
_TAGS = "\ufff9-\ufffb\U000e0000-\U000e007f"
_ODD_BLANKS = "\xa0\u1680\u2000-\u200a\u202f\u205f\u3000"
_NO_CHARACTERS = "\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"

HIDDEN = re.compile(f"[{_CONTROL}{_BREAKS}{_DIRECTION}{_NOTHING_TO_SEE}{_TAGS}{_ODD_BLANKS}{_NO_CHARACTERS}]")
"""A character that cannot be seen, or that makes text read otherwise than it is stored."""

_ODD_BLANK = re.compile(f"[{_ODD_BLANKS}{_BREAKS}\x85]")
_ILL_BEGUN = {
    b"\xff\xfe": "UTF-16 or UTF-32",
    b"\xfe\xff": "UTF-16",
    b"\x00\x00\xfe\xff": "UTF-32",
}


@dataclass(frozen=True, slots=True)
class SourceText:
    """A file's text made safe to read.

    Attributes:
        text: With line ends as line feeds; None when it is no use to read on.
        replaced: Whether a refused character was replaced by U+FFFD somewhere.
        findings: What was refused.
    """

    text: str | None
    replaced: bool
    findings: tuple[Finding, ...]


def read_source(source: bytes, file: str) -> SourceText:
    """Decode a file and refuse what may not stand in it.

    Args:
        source: The whole file.
        file: Its path as it is shown to the user.
    """
    if len(source) > MAX_BYTES:
        message = f"the file has {len(source) // 1024} KiB; a record may have {MAX_BYTES // 1024} KiB"
        return SourceText(None, False, (_finding("file-too-long", message, "", Span(file, 1, 1)),))
    for begin, encoding in _ILL_BEGUN.items():
        if source.startswith(begin):
            message = f"the file is written in {encoding}"
            return SourceText(None, False, (_finding("not-utf8", message, _SAVE_AS_UTF8, Span(file, 1, 1)),))
    if _is_no_text(source):
        message = "this file is no text: most of it is bytes that no text has"
        return SourceText(None, False, (_finding("not-utf8", message, _IS_NO_RECORD, Span(file, 1, 1)),))
    text, findings = _decode(source, file)
    replaced = bool(findings)
    text = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")

    hidden = _hidden_characters(text, file)
    if hidden:
        findings += hidden
        replaced = True
        text = HIDDEN.sub(REPLACEMENT, _ODD_BLANK.sub(" ", text))

    if "\t" in text:
        tabs, leading = _tabs(text, file)
        findings += tabs
        if leading:
            return SourceText(None, replaced, tuple(findings))
        text = text.replace("\t", " ")
    return SourceText(text, replaced, tuple(findings))


_SAVE_AS_UTF8 = "save the file as UTF-8"
_IS_NO_RECORD = "put the record here, or take the file out of the folder"
_LOOKED_AT = 8192
"""Bytes at the beginning of a file by which it is told whether it is text."""


def _is_no_text(source: bytes) -> bool:
    """Whether a file is a picture, a program or the like: bytes of nothing, and many that no text has."""
    begin = source[:_LOOKED_AT]
    odd = sum(byte < 32 and byte not in b"\t\n\r" for byte in begin)
    return b"\0" in begin and odd * 20 > len(begin)


def _finding(rule: str, message: str, fix: str, span: Span) -> Finding:
    return Finding(rule=rule, severity=Severity.ERROR, message=message, fix=sentence(fix), span=span)


def _decode(source: bytes, file: str) -> tuple[str, list[Finding]]:
    try:
        return source.decode("utf-8"), []
    except UnicodeDecodeError:
        pass
    findings: list[Finding] = []
    for number, line in enumerate(re.split(rb"\r\n|\r|\n", source), start=1):
        try:
            line.decode("utf-8")
        except UnicodeDecodeError as error:
            before = line[: error.start].decode("utf-8").removeprefix("\ufeff" if number == 1 else "")
            message = f"the byte {line[error.start]:02X} (hexadecimal) is not UTF-8 text"
            findings.append(_finding("not-utf8", message, _SAVE_AS_UTF8, Span(file, number, len(before) + 1)))
            if len(findings) == MAX_FINDINGS_OF_A_RULE:
                break
    return source.decode("utf-8", errors="replace"), findings


def _hidden_characters(text: str, file: str) -> list[Finding]:
    findings: list[Finding] = []
    for match in HIDDEN.finditer(text):
        message, fix = hidden_character_words(match.group())
        findings.append(_finding("hidden-character", message, fix, span_at(text, match.start(), file)))
        if len(findings) == MAX_FINDINGS_OF_A_RULE:
            break
    return findings


def _tabs(text: str, file: str) -> tuple[list[Finding], bool]:
    """One finding a line that has a tab, and whether any of them stands in an indentation."""
    findings: list[Finding] = []
    leading = False
    for number, line in enumerate(text.split("\n"), start=1):
        column = line.find("\t")
        if column < 0:
            continue
        leading = leading or not line[:column].strip(" ")
        if len(findings) < MAX_FINDINGS_OF_A_RULE:
            findings.append(
                _finding("tab", "there is a tab in this line", "use blanks", Span(file, number, column + 1))
            )
    return findings, leading


def hidden_character_words(character: str) -> tuple[str, str]:
    """Message and fix for a character that may not stand in a record.

    Args:
        character: One that ``HIDDEN`` matches, or a tab or carriage return written as an escape.
    """
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "control character").lower()
    if _ODD_BLANK.match(character):
        return f"there is a blank of an unusual sort here ({code}, {name})", "use an ordinary blank"
    return f"there is a character here that cannot be seen ({code}, {name})", "take it out"


def span_at(text: str, offset: int, file: str) -> Span:
    """The span of a character.

    Args:
        text: With line ends as line feeds.
        offset: 0-based place in the text, in code points.
        file: The file to name.
    """
    line = text.count("\n", 0, offset) + 1
    return Span(file, line, offset - text.rfind("\n", 0, offset))
