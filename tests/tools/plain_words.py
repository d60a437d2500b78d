"""How hard a tenant's page is to read, measured by a library that knows nothing of us."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

import textstat

MOST_WORDS = 15
HARDEST_GRADE = 5.0

_BLOCKS = {"p", "li", "h1", "h2", "h3", "dt", "dd", "title", "label"}
_PASSED_OVER = {"style", "script"}
_STAND_IN = "here"
"""Stands for a name out of the record: one plain word, since nobody chose it for this page."""
_END = re.compile(r"[.!?:]$")


@dataclass
class Prose(HTMLParser):
    """Our own sentences on a page. Left out: the firm's name, and the lines that tell where a part is in the record's words.

    What pictures say to those who cannot see them counts too.
    """

    sentences: list[str] = field(default_factory=list)
    own: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self._text = ""
        self._skip = 0
        self._in_own = False
        self._tags: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if given.get("role") == "img":
            self._flush()
            self._text = given.get("aria-label") or ""
            self._flush()
        if tag in ("meta", "input", "path", "use", "rect", "circle", "br"):
            return
        skipped = tag in _PASSED_OVER or given.get("class") in ("at", "firm", "home", "n")
        self._skip += skipped
        self._tags.append((tag, skipped))
        if tag in _BLOCKS:
            self._flush()
        if tag == "bdi":
            self._in_own = True
            self._text += f" {_STAND_IN} "
            self.own.append("")

    def handle_endtag(self, tag: str) -> None:
        while self._tags:
            name, skipped = self._tags.pop()
            self._skip -= skipped
            if name == tag:
                break
        if tag == "bdi":
            self._in_own = False
        if tag in _BLOCKS:
            self._flush()

    def handle_data(self, data: str) -> None:
        if self._in_own:
            self.own[-1] += data
        elif not self._skip:
            self._text += data

    def _flush(self) -> None:
        text = " ".join(self._text.split())
        self._text = ""
        if re.search(r"[a-z]", text):
            self.sentences += re.split(r"(?<=[.!?]) ", text if _END.search(text) else f"{text}.")


def prose(html: str) -> Prose:
    read = Prose()
    read.feed(html)
    read.close()
    return read


def grade(sentences: list[str]) -> float:
    """The Flesch-Kincaid grade of all of them together."""
    textstat.set_lang("en")
    return float(textstat.flesch_kincaid_grade(" ".join(sentences)))


def long_sentences(sentences: list[str]) -> list[str]:
    return [each for each in sentences if textstat.lexicon_count(each) > MOST_WORDS]
