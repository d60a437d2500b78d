"""What the firm has accepted: findings that become notes, and acceptances that are themselves wrong.

Knows findings and acceptances only: not which rules there are, nor how any works.
"""

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import replace

from generator.findings.finding import Finding, Severity, in_order
from generator.record.model import Accepted
from generator.record.places import Path, Places
from generator.record.wording import closest, quote
from generator.rules.example_house import HOUSE, without
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.words import and_so_on


def apply_accepted(
    findings: Sequence[Finding], accepted: Sequence[Accepted], places: Places, names: Collection[str]
) -> tuple[Finding, ...]:
    """Turn accepted findings into notes.

    An acceptance matches the findings of its rule, at what it names or anywhere; a device stands for its terminals too.
    Danger is never accepted: the finding stands and the acceptance is an error. One that matches nothing
    is reported, so that it cannot hide a later fault.

    Args:
        findings: of the rules.
        accepted: the record's section, in its order; the first that matches a finding gives the reason.
        places: of the record.
        names: of all rules.
    """
    used: set[int] = set()
    dangers: dict[int, Finding] = {}
    result: list[Finding] = []
    for finding in findings:
        matching = [index for index, each in enumerate(accepted) if _matches(each, finding)]
        used.update(matching)
        if finding.severity is Severity.DANGER:
            for index in matching:
                dangers.setdefault(index, finding)
        if finding.severity is Severity.DANGER or not matching:
            result.append(finding)
            continue
        reason = accepted[matching[0]].reason.rstrip(".")
        result.append(
            replace(finding, severity=Severity.NOTE, message=f"{finding.message} (accepted: {reason})")
        )
    for index, each in enumerate(accepted):
        path: Path = ("accepted", index)
        where = f" at `{each.at}`" if each.at else ""
        if index in dangers:
            message = f"`{each.rule}`{where} is accepted, but it is a danger: {dangers[index].message}"
            result.append(_finding(DANGER_ACCEPTED, places, path, message, each.at or ""))
        elif index not in used:
            message = _nothing_there(each, findings, names)
            result.append(_finding(ACCEPTANCE_MATCHES_NOTHING, places, path, message, each.at or ""))
    return in_order(result)


def _nothing_there(each: Accepted, findings: Iterable[Finding], names: Collection[str]) -> str:
    """Why an acceptance matches nothing, and what was perhaps meant."""
    if each.rule not in names:
        near = closest(each.rule, names)
        return f"there is no rule {quote(each.rule)}" + (f"; did you mean {quote(near)}?" if near else "")
    where = f" at {quote(each.at)}" if each.at else ""
    elsewhere = dict.fromkeys(
        quote(finding.subject) for finding in findings if finding.rule == each.rule and finding.subject
    )
    told = f"; it finds something at {and_so_on(elsewhere)}" if elsewhere else ""
    return f"nothing found by {quote(each.rule)}{where} is there to accept{told}"


def _matches(accepted: Accepted, finding: Finding) -> bool:
    device, dot, _ = finding.subject.partition(".")
    places = {None, finding.subject, *([device] if dot and " " not in device else [])}
    return accepted.rule == finding.rule and accepted.at in places


def _finding(rule: Rule, places: Places, path: Path, message: str, subject: str) -> Finding:
    return Finding(
        rule=rule.name,
        severity=rule.severity,
        message=message,
        fix=rule.fix,
        span=places.value(path),
        subject=subject,
    )


def _nothing(subject: Subject) -> Iterator[Seen]:
    """These two are found by `apply_accepted`, once all other findings are known."""
    del subject
    yield from ()


_ACCEPTED = """
accepted:
  - rule: {rule}
    reason: Looked at on site, no harm in it here
    on: 2026-03-14
    by: heating engineer
"""

DANGER_ACCEPTED = Rule(
    name="danger-accepted",
    family=Family.RECORD,
    severity=Severity.ERROR,
    summary="A danger is accepted",
    why="Somebody can be hurt. A written reason does not change that, and the record would look as if it did.",
    fix="Put the danger right, or isolate it and say so; take the acceptance out of the record.",
    source=COMMON_PRACTICE,
    limits="By the name of the rule and the place that the acceptance names.",
    right=HOUSE,
    wrong=without(HOUSE, "- { to: pump.E, core: GNYE }") + _ACCEPTED.format(rule="class-one-without-earth"),
    implied=("class-one-without-earth",),
    look=_nothing,
)

ACCEPTANCE_MATCHES_NOTHING = Rule(
    name="acceptance-matches-nothing",
    family=Family.RECORD,
    severity=Severity.WARNING,
    summary="An accepted finding is no longer there",
    why="An acceptance that stays after its fault was cured hides the same fault when it comes back.",
    fix="Take the acceptance out of the record, or correct the rule or the place that it names.",
    source=COMMON_PRACTICE,
    limits="By the name of the rule and the place that the acceptance names.",
    right=HOUSE,
    wrong=HOUSE + _ACCEPTED.format(rule="fuse-not-3-amp"),
    look=_nothing,
)

ACCEPTANCES: tuple[Rule, ...] = (DANGER_ACCEPTED, ACCEPTANCE_MATCHES_NOTHING)
