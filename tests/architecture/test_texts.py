"""What may not stand in any of our files: other hosts, trade marks, notes to self, paths of one machine."""

import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from tests.tools.paths import GENERATOR, PROPERTIES, SITE_TEMPLATES, our_texts, relative

_SELF = Path(__file__)

# Names of formats that happen to look like addresses; nothing is fetched from them. Then reserved example names.
_ALLOWED_HOSTS = re.compile(
    r"^(www\.w3\.org|www\.sitemaps\.org|json-schema\.org|localhost|127\.0\.0\.1|([\w-]+\.)*example(\.(com|org|net))?)(:\d+)?$"
)
_ADDRESS = re.compile(r"(?:https?:)?//((?:[\w-]+\.)+[a-z]{2,}|localhost)(?=[/:\s\"'`<>)]|$)", re.IGNORECASE)

_NOTES = re.compile(r"\b(" + "|".join(("TO" + "DO", "FIX" + "ME", "XX" + "X")) + r")\b")
_TRADE_MARKS = re.compile("[\N{REGISTERED SIGN}\N{TRADE MARK SIGN}]|\\((R|TM)\\)")
_MACHINE_PATHS = re.compile(r"(?<![\w.{}*-])/(?:work|root|home|Users)/\w")


def _lines_with(pattern: re.Pattern[str], folders: Iterable[Path] | None = None) -> list[str]:
    """Return `file:line: match` for each match in our texts, this file left out."""
    found = []
    for path, text in our_texts():
        if path == _SELF or (folders is not None and not any(f in path.parents for f in folders)):
            continue
        for number, line in enumerate(text.splitlines(), start=1):
            found += [f"{relative(path)}:{number}: {m[0]}" for m in pattern.finditer(line)]
    return found


def test_no_outside_host_in_what_makes_the_sites() -> None:
    """Nothing that becomes a page names another host; that no page loads from one is tested on the built sites."""
    found = _lines_with(_ADDRESS, (GENERATOR, SITE_TEMPLATES, PROPERTIES))
    assert [hit for hit in found if not _ALLOWED_HOSTS.match(hit.rpartition("//")[2])] == []


@pytest.mark.parametrize(
    ("line", "host"),
    [
        ('<script src="https://cdn.other.net/x.js">', "cdn.other.net"),
        ("url(//fonts.other.com/f)", "fonts.other.com"),
        ("http://www.w3.org/2000/svg", "www.w3.org"),
    ],
)
def test_addresses_are_recognised(line: str, host: str) -> None:
    match = _ADDRESS.search(line)
    assert match is not None
    assert match[1] == host


def test_no_notes_to_self() -> None:
    assert _lines_with(_NOTES) == []


def test_no_stub() -> None:
    assert _lines_with(re.compile(r"\bNotImplementedError\b"), (GENERATOR,)) == []


def test_no_trade_marks_in_what_makes_the_sites() -> None:
    """Parts are named by what they do."""
    assert _lines_with(_TRADE_MARKS, (SITE_TEMPLATES, PROPERTIES)) == []


def test_no_paths_of_one_machine() -> None:
    assert _lines_with(_MACHINE_PATHS) == []
