"""Seeds every single-conductor mistake into a sound house and holds what the rules say against the oracle.

`python -m tests.rules.seeded REFERENCE [EVERY [anywhere]]` prints the figures of one house, and what was missed.
"""

import sys
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit
from generator.findings.finding import Finding, Severity, Span, in_order
from generator.pipeline import examine
from generator.rules.one_conductor import explained
from generator.rules.rule import Subject
from generator.rules.rules import ALL
from generator.states.solve import solve
from tests.rules.mistakes import Mistake, mistakes
from tests.rules.oracle import MATTERING, Verdict, oracle_for

PROPERTIES = Path(__file__).parents[2] / "properties"
TODAY = date(2026, 11, 25)


@dataclass(slots=True, kw_only=True)
class Outcome:
    """What came of the mistakes in one house.

    Attributes:
        verdicts: how many the oracle sorted where.
        silent: mistakes that matter and raise nothing, or a note where more than readings differs.
        named: of those that are found, how many name the moved core in the first finding, worst first.
        named_by_line: the same with findings in the order of their lines.
        unnamed: the others, with the first finding.
        proofs: a mistake of each sort that does not matter, with the proof.
    """

    verdicts: Counter[Verdict] = field(default_factory=Counter)
    silent: list[str] = field(default_factory=list)
    named: int = 0
    named_by_line: int = 0
    unnamed: list[str] = field(default_factory=list)
    proofs: dict[Verdict, str] = field(default_factory=dict)

    @property
    def matter(self) -> int:
        """How many mistakes matter."""
        return sum(self.verdicts[verdict] for verdict in MATTERING)


def seeded(reference: str, *, every: int = 1, first: int = 0, anywhere: bool = False) -> Outcome:
    """Make the mistakes in a house of the demo stock, one at a time.

    Args:
        reference: of the property.
        every: 1 for every mistake, 5 for each fifth.
        first: where to begin.
        anywhere: whether cores are moved to terminals of other devices too.
    """
    examination = examine(PROPERTIES / f"{reference}.yaml", today=TODAY)
    if examination.record is None or examination.circuit is None or examination.solution is None:
        raise AssertionError(reference)
    plain = examination.circuit
    plain = replace(plain, cables=tuple(replace(cable, cores=None) for cable in plain.cables))
    sound = Subject(
        record=examination.record,
        circuit=plain,
        places=examination.loaded.places,
        solution=examination.solution,
        today=TODAY,
        folder=PROPERTIES,
        telling=False,
    )
    known = {_key(finding) for rule in ALL for finding in rule.check(sound)}
    oracle = oracle_for(plain)
    outcome = Outcome()
    for number, mistake in enumerate(mistakes(plain, anywhere=anywhere)):
        if number % every != first:
            continue
        solution = solve(mistake.circuit)
        verdict = oracle.verdict(mistake.circuit, solution)
        outcome.verdicts[verdict] += 1
        if verdict not in MATTERING:
            outcome.proofs.setdefault(verdict, mistake.words)
            continue
        subject = replace(sound, circuit=mistake.circuit, solution=solution)
        found = [finding for rule in ALL for finding in rule.check(subject)]
        new = in_order(finding for finding in found if _key(finding) not in known)
        least = Severity.NOTE if verdict is Verdict.READINGS_ONLY else Severity.WARNING
        if not any(finding.severity >= least for finding in new):
            outcome.silent.append(f"{mistake.words} ({verdict})")
            continue
        by_line, worst = named_first(subject, in_order(found), known, mistake)
        outcome.named_by_line += by_line
        outcome.named += worst
        if not worst:
            outcome.unnamed.append(f"{mistake.words}: {worst_first(new)[0].rule}")
    return outcome


def named_first(
    subject: Subject, found: tuple[Finding, ...], known: set[tuple[str, str, str]], mistake: Mistake
) -> tuple[bool, bool]:
    """Whether the first finding names the core: in the order of lines, and worst first."""
    new = tuple(finding for finding in found if _key(finding) not in known)
    places = {subject.places.value(item.path) for item in mistake.conductors}
    both = [names(order[0], mistake, places) for order in (new, worst_first(new))]
    if not all(both):
        # What explains findings by one conductor takes longer, and only adds to them.
        new = tuple(each for each in explained(subject, found, ALL) if _key(each) not in known)
        both = [names(order[0], mistake, places) for order in (new, worst_first(new))]
    return both[0], both[1]


def worst_first(findings: tuple[Finding, ...]) -> list[Finding]:
    """Findings as the first page of a property lists them."""
    return sorted(findings, key=lambda finding: -finding.severity.rank)


def names(finding: Finding, mistake: Mistake, places: set[Span]) -> bool:
    """Whether a finding stands at the line of the core, or says which it is.

    Of a cut core, which is in no terminal any more, whether it says from which terminal it is missing.
    """
    if finding.span in places:
        return True
    text = f"{finding.message} {finding.fix} {finding.cure}"
    for item in mistake.conductors:
        if f"({item.core}) of cable `{item.cable}`" in text or finding.subject == f"{item.cable} {item.core}":
            return True
        for ref in (item.a, item.b):
            device, terminal = ref.split(".", 1)
            centre = device in _centres(mistake.circuit)
            words = mistake.circuit.device(device).words.lower()
            at = (f"terminal `{terminal}` of the {words}", f"nothing lands in `{terminal}` of the {words}")
            if mistake.sort == "cut" and not centre and any(each.lower() in text.lower() for each in at):
                return True
    return False


def _centres(circuit: Circuit) -> set[str]:
    return {device.name for device in circuit.with_duty(Duty.CENTRE)}


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.rule, finding.subject, finding.message


def main(reference: str, every: str = "1", where: str = "") -> None:
    """Print the figures of one house."""
    outcome = seeded(reference, every=int(every), anywhere=where == "anywhere")
    matter, found = outcome.matter, outcome.matter - len(outcome.silent)
    print(reference, {str(verdict): count for verdict, count in outcome.verdicts.items()})
    print(f"matter {matter}, silent {len(outcome.silent)}, named {outcome.named} of {found}, ", end="")
    print(f"in the order of lines {outcome.named_by_line}")
    for words in (*outcome.silent, "--", *outcome.unnamed):
        print("  ", words)


if __name__ == "__main__":
    main(*sys.argv[1:])
