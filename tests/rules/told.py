"""What the rules tell of their own examples and of the case files, word for word, as stored and as it is now.

`python -m tests.rules.told --write` stores it anew; read what has changed before it is committed.
"""

import sys
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from generator.findings.finding import Finding
from generator.pipeline import examine
from generator.rules.example_house import TODAY
from generator.rules.rules import ALL
from tests.rules.examples import examined

HERE = Path(__file__).parent
STORED = HERE / "told.txt"
CASES = sorted((HERE / "cases").glob("*.yaml"))
_HEAD = "## "


def told() -> Iterator[tuple[str, str]]:
    """The name of each example and case, with what is told of it."""
    with TemporaryDirectory() as folder:
        for rule in ALL:
            yield rule.name, text_of(examined(rule.wrong, Path(folder)).findings)
    for case in CASES:
        yield case.name, text_of(examine(case, today=TODAY).findings)


def text_of(findings: tuple[Finding, ...]) -> str:
    """All that is told, one line after another."""
    return "".join(f"{line}\n" for finding in findings for line in _lines(finding))


def _lines(finding: Finding) -> Iterator[str]:
    span = finding.span
    yield f"{span.line}:{span.column} {finding.severity} {finding.rule} [{finding.subject}] {finding.message}"
    for title, text in (
        ("when", finding.holds),
        ("example", finding.example),
        ("cure", finding.cure),
        ("fix", finding.fix),
    ):
        if text:
            yield f"    {title}: {text}"
    for place, words in finding.related:
        yield f"    see {place.line}:{place.column} {words}"


def stored() -> dict[str, str]:
    """What was stored, by the name of the example or case."""
    parts = STORED.read_text(encoding="utf-8").split(f"\n{_HEAD}")
    return {part.split("\n", 1)[0]: part.split("\n", 1)[1].strip("\n") + "\n" for part in parts[1:]}


def main() -> None:
    """Store it."""
    text = "What the rules tell of their examples and of the case files. Made by `python -m tests.rules.told --write`.\n"
    for name, each in told():
        text += f"\n{_HEAD}{name}\n{each}"
    if sys.argv[1:] == ["--write"]:
        STORED.write_text(text, encoding="utf-8")
    else:
        sys.stdout.write(text)


if __name__ == "__main__":
    main()
