"""The command `explain`: why a rule exists and how to put right what it found; what a kind of device is.

It must not know any particular rule or kind.
"""

import difflib
import sys
from pathlib import Path

import click

from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.command.kind_text import kind_text
from generator.command.options import properties_option
from generator.command.page_text import named, paragraph, table
from generator.command.terminal import width_of
from generator.findings.errors import HearthbookError
from generator.record.own_kinds import kinds_of_own
from generator.record.refusals import REFUSALS, Refusal, refusal_named
from generator.record.wording import closest, quote
from generator.rules.rule import Rule
from generator.rules.rules import ALL, FAMILIES, rule_named

_WIDEST = 100


class NothingToExplain(HearthbookError):
    """A name was given that is neither of a rule nor of a kind."""

    def __init__(self, name: str, close: str) -> None:
        super().__init__(name, close)
        self.name = name
        self.close = close

    @property
    def message(self) -> str:
        hint = (
            f"did you mean {quote(self.close)}?" if self.close else "`hearthbook explain --list` names all."
        )
        return f"there is no rule and no kind of device called {quote(self.name)}; {hint}"


@click.command(
    short_help="Say why a rule exists and how to put right what it found, or what a kind of device is."
)
@click.argument("name", required=False)
@click.option("--list", "all_names", is_flag=True, help="List all rules and kinds of device.")
@properties_option
@click.option(
    "--records", is_flag=True, help="Print both examples of a rule whole, not only where they differ."
)
def explain(name: str | None, all_names: bool, folder: Path, records: bool) -> None:
    """Say why a rule exists and how to put right what it found, or what a kind of device is.

    NAME is that of a rule, as it stands in brackets behind a finding, or that of a kind of device, one of the firm's own
    among them.

    \b
    Examples:
      hearthbook explain class-one-without-earth
      hearthbook explain two-port-valve
      hearthbook explain --list
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    width = min(width_of(sys.stdout), _WIDEST)
    own = kinds_of_own(folder)
    if all_names:
        lines = _list((*KINDS, *own))
    elif name is None:
        raise click.UsageError("Name a rule or a kind of device, or use --list.")
    else:
        lines = explained(name, width, records=records, own=own)
    for line in lines:
        click.echo(line)


def explained(name: str, width: int, *, records: bool = False, own: tuple[Kind, ...] = ()) -> list[str]:
    """What there is to say about a rule or a kind, line by line; ``own`` are the firm's own kinds.

    Raises:
        NothingToExplain: there is neither.
    """
    wanted = name.strip().lower()
    rule, refusal = rule_named(wanted), refusal_named(wanted)
    kind = next((kind for kind in (*KINDS, *own) if kind.name == wanted), None)
    if rule is not None:
        return _rule(rule, width, records=records)
    if refusal is not None:
        return _refusal(refusal, width)
    if kind is not None:
        return kind_text(kind, width)
    names = [each.name for each in ALL] + [each.name for each in REFUSALS]
    names += [kind.name for kind in (*KINDS, *own)]
    raise NothingToExplain(name, closest(wanted, names) or "")


def _rule(rule: Rule, width: int, *, records: bool) -> list[str]:
    lines = [
        f"{rule.name} ({rule.severity}; {rule.family})",
        "",
        *paragraph(f"{rule.summary}.", width),
        "",
        *named("Why", rule.why, width),
        *named("Fix", rule.fix, width),
        *named("Source", rule.source, width),
        *named("Limits", rule.limits, width),
        "",
    ]
    if records:
        return [
            *lines,
            "A record in which it finds nothing:",
            "",
            *rule.right.splitlines(),
            "",
            "The same with the fault:",
            "",
            *rule.wrong.splitlines(),
        ]
    changes = _changes(rule.right, rule.wrong)
    return [*lines, "Example; - is right, + is wrong:", "", *(f"    {line}" for line in changes)]


def _changes(right: str, wrong: str) -> list[str]:
    """What differs between two records, with the lines around it."""
    lines = difflib.unified_diff(right.splitlines(), wrong.splitlines(), n=2, lineterm="")
    return ["  ..." if line.startswith("@@") else line for line in list(lines)[2:]]


def _refusal(refusal: Refusal, width: int) -> list[str]:
    return [
        f"{refusal.name} (error; {refusal.stage})",
        "",
        *paragraph(f"{refusal.summary}.", width),
        "",
        *named("Why", refusal.why, width),
        *named("Fix", "As the finding says: it knows what was written.", width),
    ]


def _list(kinds: tuple[Kind, ...]) -> list[str]:
    lines = []
    for family, rules in FAMILIES:
        lines += [f"Rules on {family}", ""]
        lines += [
            f"  {line}" for line in table((rule.name, str(rule.severity), rule.summary) for rule in rules)
        ]
        lines.append("")
    for stage in dict.fromkeys(each.stage for each in REFUSALS):
        lines += [f"Refused while a record is read: {stage}", ""]
        lines += [
            f"  {line}"
            for line in table((each.name, each.summary) for each in REFUSALS if each.stage is stage)
        ]
        lines.append("")
    lines += ["Kinds of device", ""]
    return [
        *lines,
        *(f"  {line}" for line in table((kind.name, str(kind.duty), kind.about) for kind in kinds)),
    ]
