"""Findings for people: each on a line that programs can read too, then the line of the record it is about.

It must not know how findings are made.
"""

import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import click
from rich.cells import cell_len

from generator.command.terminal import harmless
from generator.findings.finding import Finding, Severity, Span
from generator.record.source_text import MAX_BYTES

_COLOURS = {
    Severity.DANGER: "bright_red",
    Severity.ERROR: "red",
    Severity.WARNING: "yellow",
    Severity.NOTE: "cyan",
}
_MARGIN = 6
"""Columns of the line number."""
_BEFORE = 20
"""Columns that stay in sight before the marked one when a line is too long."""
_CUT = "…"


def gnu_line(finding: Finding, *, colour: bool = False) -> str:
    """``file:line:column: severity: message (rule-name)``, as the GNU coding standards have it.

    Args:
        finding: The finding.
        colour: Whether to colour the severity.
    """
    severity = str(finding.severity)
    if colour:
        severity = click.style(severity, fg=_COLOURS[finding.severity], bold=True)
    return f"{harmless(str(finding.span))}: {severity}: {harmless(finding.message)} ({finding.rule})"


class Sources:
    """The lines of files, read when they are first asked for."""

    def __init__(self) -> None:
        self._lines: dict[str, list[str]] = {}

    def line(self, file: str, number: int) -> str | None:
        """One line (counted from 1) without its end; None where there is no such line any more."""
        if file not in self._lines:
            self._lines[file] = _read(Path(file))
        lines = self._lines[file]
        return lines[number - 1] if 1 <= number <= len(lines) else None


def _read(file: Path) -> list[str]:
    """A file's lines, counted as the reader of records counts them; none where it cannot be read."""
    try:
        if not file.is_file():
            return []
        with file.open("rb") as source:
            data = source.read(MAX_BYTES)
    except OSError:
        return []
    text = data.decode("utf-8", errors="replace").removeprefix("\ufeff")
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def finding_text(
    finding: Finding, sources: Sources, *, width: int, colour: bool, cured_with: Span | None = None
) -> Iterator[str]:
    """The lines that show one finding.

    Args:
        finding: The finding.
        sources: Where the lines of records come from.
        width: How many columns the line of the record may take.
        colour: Whether to use colour.
        cured_with: Where an earlier finding is that the same change would put right; None where it is the first.
    """
    yield gnu_line(finding, colour=colour)
    written = sources.line(finding.span.file, finding.span.line)
    # what a record gives away is not copied into logs
    if written is not None and written.strip() and finding.rule != "secret-in-record":
        shown, column = _window(harmless(written), finding.span.column - 1, width - _MARGIN - 3)
        mark = " " * column + "^"
        if colour:
            mark = click.style(mark, fg=_COLOURS[finding.severity], bold=True)
        yield f"{finding.span.line:>{_MARGIN}} | {shown}"
        yield f"{'':>{_MARGIN}} | {mark}"
    if finding.properties:
        yield f"{'':>{_MARGIN}}   in: {harmless(', '.join(finding.properties))}"
    if finding.holds:
        yield f"{'':>{_MARGIN}}   when: {harmless(finding.holds)}"
    if finding.example:
        yield f"{'':>{_MARGIN}}   example: {harmless(finding.example)}"
    if finding.cure and cured_with is not None:
        yield f"{'':>{_MARGIN}}   cure: the change told at {harmless(str(cured_with))} puts this right too"
    elif finding.cure:
        yield f"{'':>{_MARGIN}}   cure: {harmless(finding.cure)}"
    if finding.fix:
        yield f"{'':>{_MARGIN}}   fix: {harmless(finding.fix)}"
    for span, words in finding.related:
        yield f"{'':>{_MARGIN}}   see {harmless(str(span))}: {harmless(words)}"


def _window(line: str, place: int, width: int) -> tuple[str, int]:
    """The part of a line to show, and how many columns of it stand before the marked place."""
    place = min(place, len(line))
    if cell_len(line) <= width:
        return line, cell_len(line[:place])
    start = max(0, place - _BEFORE)
    opening = _CUT if start else ""
    shown = line[start:]
    while cell_len(opening + shown) > width - 1:
        shown = shown[: min(len(shown) - 1, width)]
    closing = _CUT if start + len(shown) < len(line) else ""
    return opening + shown + closing, cell_len(opening + line[start:place])


def print_findings(findings: Iterable[Finding], *, width: int, colour: bool) -> None:
    """Print findings to stdout, a blank line between two; a change that puts several right is told with the first."""
    sources = Sources()
    told: dict[tuple[str, str], Finding] = {}
    for finding in findings:
        first = told.setdefault((finding.span.file, finding.cure), finding)
        cured_with = None if first is finding else first.span
        for line in finding_text(finding, sources, width=width, colour=colour, cured_with=cured_with):
            click.echo(line, file=sys.stdout, color=colour)
        click.echo()
