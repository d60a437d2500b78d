"""Every rule, every refusal and every kind can be explained; nothing else can."""

import pytest

from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.command.explain import explained
from generator.record.refusals import REFUSALS, Refusal
from generator.rules.rule import Rule
from generator.rules.rules import ALL
from tests.unit.command.conftest import Run

_NAMES = [*(each.name for each in ALL), *(each.name for each in REFUSALS), *(kind.name for kind in KINDS)]


def test_no_name_means_two_things() -> None:
    assert len(_NAMES) == len(set(_NAMES))


@pytest.mark.parametrize("rule", ALL, ids=lambda rule: rule.name)
def test_every_rule_is_explained(rule: Rule) -> None:
    text = " ".join(" ".join(explained(rule.name, 100)).split())
    for part in (rule.name, str(rule.severity), rule.summary, rule.why, rule.fix, rule.source, rule.limits):
        assert " ".join(part.split()) in text
    lines = explained(rule.name, 100)
    example = lines[lines.index("Example; - is right, + is wrong:") :]
    assert any(line.startswith("    +") for line in example) or any(
        line.startswith("    -") for line in example
    )


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_kind_is_explained(kind: Kind) -> None:
    text = "\n".join(explained(kind.name, 100))
    parts = kind.parts(kind.settings.model_validate(dict(kind.example)))
    for word in (
        *(terminal.name for terminal in parts.terminals),
        *(load.words for load in parts.loads),
        *(fact.source for fact in parts.facts),
        *kind.settings.model_fields,
    ):
        assert word in text
    assert "Is(" not in text


@pytest.mark.parametrize("refusal", REFUSALS, ids=lambda refusal: refusal.name)
def test_every_refusal_is_explained(refusal: Refusal) -> None:
    assert refusal.summary in "\n".join(explained(refusal.name, 100))


def test_list_names_everything(run: Run) -> None:
    words = set(run("explain", "--list").stdout.split())
    assert set(_NAMES) <= words


def test_both_records_of_a_rule(run: Run) -> None:
    done = run("explain", ALL[0].name, "--records")
    assert ALL[0].right in done.stdout
    assert ALL[0].wrong.rstrip() in done.stdout


@pytest.mark.parametrize(
    ("given", "said"),
    [("two-port-vlave", "did you mean `two-port-valve`?"), ("qqqq", "--list"), ("", "there is no rule")],
)
def test_other_names(given: str, said: str, run: Run) -> None:
    done = run("explain", given)
    assert done.exit_code == 2
    assert said in done.stderr


def test_no_name(run: Run) -> None:
    assert run("explain").exit_code == 2
