"""Findings for programs: as JSON, and as annotations of a build server.

The JSON is described by `findings.schema.json` beside this module; keys are added, never changed or taken away
without a new `format`. It must not know how findings are made.
"""

import json
from collections.abc import Iterable
from importlib.resources import files
from typing import Any

from generator import __version__
from generator.command.files import Sort
from generator.command.stock import StockCheck
from generator.command.summary import counts, exit_code
from generator.findings.finding import Finding, Severity, Span

FORMAT = 1
_ANNOTATIONS = {
    Severity.DANGER: "error",
    Severity.ERROR: "error",
    Severity.WARNING: "warning",
    Severity.NOTE: "notice",
}


def findings_schema() -> dict[str, Any]:
    """JSON Schema of what `hearthbook check --format json` prints."""
    text = files("generator.command").joinpath("findings.schema.json").read_text(encoding="utf-8")
    schema: dict[str, Any] = json.loads(text)
    return schema


def as_json(check: StockCheck, *, least: Severity, strict: bool) -> str:
    """The whole check as one JSON document.

    Args:
        check: What was found.
        least: Findings below it are left out of the list, but not out of the numbers.
        strict: Whether warnings fail the check.
    """
    document = {
        "format": FORMAT,
        "program": "hearthbook",
        "version": __version__,
        "today": check.today.isoformat(),
        "exit_code": exit_code(check, strict=strict),
        "files": [_file(each.file, each) for each in check.checked],
        "findings": [_finding(finding) for finding in check.findings if finding.severity >= least],
        "summary": {
            "properties": sum(1 for each in check.checked if each.sort is Sort.RECORD),
            "house_types": sum(1 for each in check.checked if each.sort is Sort.HOUSE_TYPE),
            "kinds": sum(1 for each in check.checked if each.sort is Sort.KIND),
            "with_findings": sum(1 for each in check.checked if each.findings),
            "not_checked": len(check.not_checked),
            **{str(severity): number for severity, number in counts(check).items()},
        },
    }
    # Plain ASCII: it reads back the same whatever the encoding of the terminal or the pipe.
    return json.dumps(document, indent=2)


def _file(file: str, each: Any) -> dict[str, Any]:
    return {
        "file": file,
        "sort": str(each.sort),
        "reference": each.reference.written if each.reference is not None else None,
        "findings": len(each.findings),
        "worst": str(max(finding.severity for finding in each.findings)) if each.findings else None,
        "not_checked": each.cannot or (each.crash.error if each.crash is not None else None),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        **_span(finding.span),
        "severity": str(finding.severity),
        "rule": finding.rule,
        "message": finding.message,
        "fix": finding.fix,
        "holds": finding.holds,
        "subject": finding.subject,
        "cure": finding.cure,
        "example": finding.example,
        "properties": list(finding.properties),
        "related": [{**_span(span), "words": words} for span, words in finding.related],
    }


def _span(span: Span) -> dict[str, Any]:
    return {"file": span.file, "line": span.line, "column": span.column}


def annotations(findings: Iterable[Finding]) -> Iterable[str]:
    """Each finding as a line that a build server shows beside the line of the file.

    ``::error file=F,line=L,col=C,title=T::message``, with the characters that mean something in it escaped.
    """
    for finding in findings:
        span = finding.span
        places = f"file={_value(span.file)},line={span.line},col={span.column}"
        title = _value(f"{finding.severity}: {finding.rule}")
        text = _text(_sentences(finding))
        yield f"::{_ANNOTATIONS[finding.severity]} {places},title={title}::{text}"


def _sentences(finding: Finding) -> str:
    when = f" (when: {finding.holds})" if finding.holds else ""
    fix = f"\n{finding.fix}" if finding.fix else ""
    cure = f"\n{finding.cure}" if finding.cure else ""
    where = f" (in {', '.join(finding.properties)})" if finding.properties else ""
    return f"{finding.message}{where}{when}{cure}{fix}"


def _text(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _value(text: str) -> str:
    return _text(text).replace(":", "%3A").replace(",", "%2C")
