"""Seeds every single-conductor mistake into a sound house and holds what the rules say against the oracle.

`python -m tests.rules.seeded REFERENCE [EVERY [anywhere]]` prints the figures of one house, what was missed, and
what does not matter with the proof.
"""

import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from itertools import islice
from pathlib import Path

from generator.catalogue.kind import Duty
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Judged:
    """One mistake, and what came of it.

    Attributes:
        words: what was done.
        verdict: where the oracle sorted it.
        proof: of one that does not matter.
        rules: what was found anew, worst first; of one that matters.
        silent: whether it matters and raises nothing, or a note where more than readings differs.
        named_by_line: whether the first finding in the order of lines names the core.
        named: whether the worst does.
    """

    words: str
    verdict: Verdict
    proof: str = ""
    rules: tuple[str, ...] = ()
    silent: bool = False
    named_by_line: bool = False
    named: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of the mistakes in one house."""

    judged: tuple[Judged, ...]

    @property
    def verdicts(self) -> Counter[Verdict]:
        """How many the oracle sorted where."""
        return Counter(each.verdict for each in self.judged)

    @property
    def mattering(self) -> tuple[Judged, ...]:
        """Those that matter."""
        return tuple(each for each in self.judged if each.verdict in MATTERING)

    @property
    def harmless(self) -> tuple[Judged, ...]:
        """Those that do not, each with its proof."""
        return tuple(each for each in self.judged if each.verdict not in MATTERING)

    @property
    def silent(self) -> list[str]:
        """Those that matter and are not found."""
        return [f"{each.words} ({each.verdict})" for each in self.mattering if each.silent]

    @property
    def unnamed(self) -> list[str]:
        """Those that are found without the core being named in the worst finding, with its rule."""
        return [
            f"{each.words}: {each.rules[0]}" for each in self.mattering if not each.silent and not each.named
        ]

    @property
    def named(self) -> int:
        """How many name the moved core in the first finding, worst first."""
        return sum(each.named for each in self.mattering)

    @property
    def named_by_line(self) -> int:
        """The same with findings in the order of their lines."""
        return sum(each.named_by_line for each in self.mattering)

    @property
    def findings(self) -> float:
        """How many findings a mistake that matters raises, on average."""
        return sum(len(each.rules) for each in self.mattering) / max(1, len(self.mattering))


def seeded(reference: str, *, every: int = 1, first: int = 0, anywhere: bool = False) -> Outcome:
    """Make the mistakes in a house of the demo stock, one at a time.

    Args:
        reference: of the property.
        every: 1 for every mistake, 5 for each fifth.
        first: where to begin.
        anywhere: whether cores are moved to, and exchanged with those at, terminals of other devices too.
    """
    return Outcome(judged=tuple(judged(reference, every=every, first=first, anywhere=anywhere)))


def judged(reference: str, *, every: int = 1, first: int = 0, anywhere: bool = False) -> Iterator[Judged]:
    """The same, one after another."""
    sound = sound_house(reference)
    known = tuple(finding for rule in ALL for finding in rule.check(sound))
    oracle = oracle_for(sound.circuit)
    for mistake in islice(mistakes(sound.circuit, anywhere=anywhere), first, None, every):
        solution = solve(mistake.circuit)
        verdict = oracle.verdict(mistake.circuit, solution)
        if verdict in MATTERING:
            changed = replace(sound, circuit=mistake.circuit, solution=solution)
            yield _found(changed, known, mistake, verdict)
        else:
            yield Judged(words=mistake.words, verdict=verdict, proof=oracle.proof(mistake.circuit, verdict))


def sound_house(reference: str) -> Subject:
    """A house of the demo stock as it is; what its record says of the cores that cables have is left out."""
    examination = examine(PROPERTIES / f"{reference}.yaml", today=TODAY)
    if examination.record is None or examination.circuit is None or examination.solution is None:
        raise AssertionError(reference)
    plain = examination.circuit
    return Subject(
        record=examination.record,
        circuit=replace(plain, cables=tuple(replace(cable, cores=None) for cable in plain.cables)),
        places=examination.loaded.places,
        solution=examination.solution,
        today=TODAY,
        folder=PROPERTIES,
        telling=False,
    )


def _found(subject: Subject, known: tuple[Finding, ...], mistake: Mistake, verdict: Verdict) -> Judged:
    found = in_order(finding for rule in ALL for finding in rule.check(subject))
    keys = {_key(finding) for finding in known}
    new = [finding for finding in found if _key(finding) not in keys]
    least = Severity.NOTE if verdict is Verdict.READINGS_ONLY else Severity.WARNING
    rules = tuple(finding.rule for finding in worst_first(new))
    if not any(finding.severity >= least for finding in new):
        return Judged(words=mistake.words, verdict=verdict, rules=rules, silent=True)
    by_line, worst = named_first(subject, found, known, mistake)
    return Judged(words=mistake.words, verdict=verdict, rules=rules, named_by_line=by_line, named=worst)


def named_first(
    subject: Subject, found: tuple[Finding, ...], known: tuple[Finding, ...], mistake: Mistake
) -> tuple[bool, bool]:
    """Whether the first finding names the core: in the order of lines, and worst first."""
    new = raised(found, known)
    places = {subject.places.value(item.path) for item in mistake.conductors}
    both = [names(order[0], mistake, places) for order in (new, worst_first(new))]
    if not all(both):
        # What explains findings by one conductor takes longer, and only adds to them.
        new = raised(explained(subject, found, ALL), known)
        both = [names(order[0], mistake, places) for order in (new, worst_first(new))]
    return both[0], both[1]


def raised(found: tuple[Finding, ...], known: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What a mistake raises: not what the sound house is told already of the same thing, be it in other words now."""
    keys = {_key(finding) for finding in known}
    told = {(finding.rule, finding.subject, finding.severity) for finding in known}
    new = tuple(finding for finding in found if _key(finding) not in keys)
    return tuple(each for each in new if (each.rule, each.subject, each.severity) not in told) or new


def worst_first(findings: Iterable[Finding]) -> list[Finding]:
    """Findings as the first page of a property lists them."""
    return sorted(findings, key=lambda finding: -finding.severity.rank)


def names(finding: Finding, mistake: Mistake, places: set[Span]) -> bool:
    """Whether a finding stands at the line of the core, or says which it is.

    Of a cut core, which is in no terminal any more, whether it says from which terminal it is missing: that of a device,
    or that of a wiring centre where both its ends were in such.
    """
    if finding.span in places:
        return True
    text = f"{finding.message} {finding.fix} {finding.cure}"
    centres = {device.name for device in mistake.circuit.with_duty(Duty.CENTRE)}
    for item in mistake.conductors:
        riser = {item.a.split(".", 1)[0], item.b.split(".", 1)[0]} <= centres
        if f"({item.core}) of cable `{item.cable}`" in text or finding.subject == f"{item.cable} {item.core}":
            return True
        for ref in (item.a, item.b):
            device, terminal = ref.split(".", 1)
            words = mistake.circuit.device(device).words.lower()
            at = (f"terminal `{terminal}` of the {words}", f"nothing lands in `{terminal}` of the {words}")
            if (
                mistake.sort == "cut"
                and (riser or device not in centres)
                and any(each.lower() in text.lower() for each in at)
            ):
                return True
    return False


def _key(finding: Finding) -> tuple[str, str, str]:
    return finding.rule, finding.subject, finding.message


def main(reference: str, every: str = "1", where: str = "") -> None:
    """Print the figures of one house."""
    outcome = seeded(reference, every=int(every), anywhere=where == "anywhere")
    matter, found = len(outcome.mattering), len(outcome.mattering) - len(outcome.silent)
    print(reference, {str(verdict): count for verdict, count in outcome.verdicts.items()})
    print(f"matter {matter}, silent {len(outcome.silent)}, named {outcome.named} of {found}, ", end="")
    print(f"in the order of lines {outcome.named_by_line}; {outcome.findings:.1f} findings a mistake")
    for title, lines in (
        ("matters and is not found", outcome.silent),
        ("found, the core not named first", outcome.unnamed),
        ("does not matter", [f"{each.words}: {each.proof}" for each in outcome.harmless]),
    ):
        print(f"{title}:", *(lines or ("none",)), sep="\n   ")


if __name__ == "__main__":
    main(*sys.argv[1:])
