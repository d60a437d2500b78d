"""Whether one conductor explains what the rules found: the circuit is solved again with it put right, and held against them.

Knows rules as values, not which there are. What it says is worked out from the record, and is told as that.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import chain

from generator.findings.errors import HearthbookError
from generator.findings.finding import Finding, Severity
from generator.rules.edits import Edit, edits, every_edit
from generator.rules.rule import Family, Rule, Subject
from generator.rules.words import device_name
from generator.states.answer import Solution
from generator.states.solve import solve

_FAMILIES = (Family.SUPPLY, Family.NEUTRAL_AND_EARTH, Family.TERMINALS, Family.CALLS, Family.HOT_WATER)
"""What wiring can be the cause of."""
_MOST_TRIED = 250
_MOST_TRIED_WITH_MEMORY = 80
"""Where what came before matters, each solution takes some twenty times as long."""
_MOST_ROUNDS = 2
_MOST_ALTERNATIVES = 2
Key = tuple[str, str, str, str]
"""A finding by its rule, subject, message and states: one that is still there, but otherwise, counts as new."""


def explained(subject: Subject, findings: Sequence[Finding], rules: Sequence[Rule]) -> tuple[Finding, ...]:
    """The findings, with the one conductor named that would put them right wherever there is one.

    Args:
        subject: the property.
        findings: of the rules.
        rules: all of them.

    Complexity: at most 500 solutions of the circuit, and none where nothing is wrong.
    """
    by_name = {rule.name: rule for rule in rules}
    left = list(findings)
    for _ in range(_MOST_ROUNDS):
        lead = _lead(left, by_name)
        if lead is None:
            break
        cures = list(_cures(subject, findings, lead, rules, by_name))
        if not cures:
            left = [finding for finding in left if finding is not lead]
            continue
        most = max(len(gone) for _, gone in cures)
        by_words = {edit.words: (edit, gone) for edit, gone in reversed(cures) if len(gone) == most}
        best = [by_words[words] for words in reversed(by_words)]
        # Where cores left the way of their cables, no other change is likelier than their return.
        best = [each for each in best if each[0].returns] or best
        best = best[: _MOST_ALTERNATIVES + 1]
        gone = best[0][1]
        sentence = _sentence([edit for edit, _ in best])
        related = tuple(
            (subject.places.value(item.path), "the conductor that would put it right")
            for item in best[0][0].conductors
        )
        changed = {
            id(finding): replace(finding, cure=sentence, related=(*finding.related, *related))
            for finding in findings
            if _key(finding) in gone and not finding.cure
        }
        findings = [changed.get(id(finding), finding) for finding in findings]
        left = [finding for finding in findings if not finding.cure]
    return tuple(findings)


def _key(finding: Finding) -> Key:
    return finding.rule, finding.subject, finding.message, finding.holds


def _lead(findings: Iterable[Finding], by_name: dict[str, Rule]) -> Finding | None:
    """The worst finding that wiring can be the cause of."""
    of_wiring = [
        finding
        for finding in findings
        if finding.severity > Severity.NOTE and by_name[finding.rule].family in _FAMILIES
    ]
    return max(of_wiring, key=lambda finding: finding.severity.rank, default=None)


def _cures(
    subject: Subject,
    findings: Sequence[Finding],
    lead: Finding,
    rules: Sequence[Rule],
    by_name: dict[str, Rule],
) -> Iterator[tuple[Edit, frozenset[Key]]]:
    """Changes after which the lead is gone and nothing new is found, with what is gone."""
    # Moving a conductor changes nothing that is found in the record itself or in the dwelling.
    judged = [rule for rule in rules if rule.family not in (Family.RECORD, Family.DWELLINGS) and not rule.own]
    judged_names = {rule.name for rule in judged}
    before = Counter(_key(finding) for finding in findings if finding.rule in judged_names)
    of_wiring = Counter(_key(finding) for finding in findings if by_name[finding.rule].family in _FAMILIES)
    devices = frozenset(
        device_name(finding.subject.partition(" ")[0]) for finding in findings if finding.subject
    )
    most = _MOST_TRIED_WITH_MEMORY if subject.solution.memories else _MOST_TRIED
    found = whole = 0
    tried = 0
    for edit in chain(edits(subject.circuit), (None,), every_edit(subject.circuit, _near(subject, devices))):
        if edit is None:
            if found:
                return
            continue
        tried += 1
        if tried > most or whole > _MOST_ALTERNATIVES:
            return
        after = _after(subject, edit, lead, judged, before)
        if after is None or not _better(before, after):
            continue
        found += 1
        whole += not after & of_wiring
        left = {(rule, about) for rule, about, *_ in after}
        yield edit, frozenset(key for key in before - after if key[:2] not in left)


def _near(subject: Subject, devices: frozenset[str]) -> frozenset[str]:
    """The devices named, and those that serve the zones named."""
    near = set(devices)
    for zone in subject.circuit.zones:
        parts = {zone.name, zone.thermostat, zone.valve, zone.pump, device_name(zone.channel)} - {""}
        if devices & parts:
            near |= parts
    return frozenset(near)


def _after(
    subject: Subject, edit: Edit, lead: Finding, rules: Sequence[Rule], before: Counter[Key]
) -> Counter[Key] | None:
    """What is found after a change; None where the lead still is, anything new, or any error that wiring can cause."""
    try:
        solution = solve(edit.circuit)
        if _loses(subject.solution, solution):
            return None
        changed = Subject(
            record=subject.record,
            circuit=edit.circuit,
            places=subject.places,
            solution=solution,
            today=subject.today,
            folder=subject.folder,
            telling=False,
        )
        # What a danger or a dead house hid may come to light once it is gone, where that is no fault of its own. A note
        # may always: of a neutral that is looped on, say.
        hid = lead.severity is Severity.DANGER or edit.returns or _lifeless(subject.solution)
        known = {key[:2]: key for key in before}
        after: Counter[Key] = Counter()
        for rule in sorted(rules, key=lambda rule: rule.name != lead.rule):
            for finding in rule.check(changed):
                if rule.name == lead.rule and finding.subject == lead.subject:
                    return None
                key = _key(finding)
                stands = key[:2] in known
                if (
                    rule.family in _FAMILIES
                    and finding.severity >= Severity.ERROR
                    and not (stands and edit.returns)
                ):
                    return None  # whoever made the change would take the house for sound
                if stands:
                    # What is less bad than the lead, or has another cause, may well read otherwise now.
                    other = edit.returns or finding.severity < lead.severity
                    after[known[key[:2]] if key not in before and other else key] += 1
                elif finding.severity > (Severity.WARNING if hid else Severity.NOTE):
                    return None
    except HearthbookError:  # too much to solve: no cure, then
        return None
    return after


def _loses(before: Solution, after: Solution) -> bool:
    """Whether a valve, a pump or a boiler that something sets going before a change is never set going after it.

    Of a part that only ever moved without coming to rest nothing is known before, so it must be set going after.
    """
    return any(
        (before.hunting or any(answer.on[name] for answer in before.answers))
        and not any(answer.on[name] for answer in after.answers)
        for name in before.settled.on
    )


def _lifeless(solution: Solution) -> bool:
    """Whether nothing in the house is ever fed."""
    return not any(vector & answer.at for answer in solution.answers for vector in answer.fed.values())


def _better(before: Counter[Key], after: Counter[Key]) -> bool:
    """Whether a change only takes away; or takes away two faults and more, though others then hold in other states."""
    if not after - before:
        return True
    faults, left = ({(rule, about) for rule, about, *_ in keys} for keys in (before, after))
    return len(faults - left) > 1


def _sentence(alternatives: Sequence[Edit]) -> str:
    """What to do. Where one core could go to many terminals alike, only from where, and to which device."""
    first, *others = alternatives[:_MOST_ALTERNATIVES]
    more = len(alternatives) > _MOST_ALTERNATIVES
    words = first.words
    if more and first.elsewhere and {edit.elsewhere for edit in alternatives} == {first.elsewhere}:
        words = f"{first.elsewhere}; which, the record does not show"
    else:
        words += "".join(f"; or {other.words}" for other in others)
        words += "; or another like it" if more else ""
    return f"One change puts it right, worked out from the record: {words}. Look first whether the house or the record is wrong."
