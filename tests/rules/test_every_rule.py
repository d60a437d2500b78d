"""Each rule finds its fault in its wrong example, that and what it implies, and nothing is found in the right one."""

import importlib
import pkgutil
import re
from collections import Counter
from pathlib import Path

import pytest

import generator.rules
from generator.rules.page_text import differing, rule_page
from generator.rules.rule import COMMON_PRACTICE, FROM_MEMORY, Family, Rule
from generator.rules.rules import ALL, FAMILIES, rule_named
from tests.rules.examples import examined, rules_of

each_rule = pytest.mark.parametrize("rule", ALL, ids=lambda rule: rule.name)


@each_rule
def test_wrong_example(rule: Rule, tmp_path: Path) -> None:
    assert rules_of(rule.wrong, tmp_path) == {rule.name, *rule.implied}


@each_rule
def test_right_example(rule: Rule, tmp_path: Path) -> None:
    assert examined(rule.right, tmp_path).findings == ()


@each_rule
def test_finding_can_be_read(rule: Rule, tmp_path: Path) -> None:
    for finding in examined(rule.wrong, tmp_path).findings:
        if finding.rule == rule.name:
            assert finding.severity is rule.severity
            assert finding.message[0].islower() or finding.message[0] in "`0123456789"
            assert not finding.message.endswith(".")
            assert finding.fix.endswith(".")
            assert finding.span.file == "example.yaml"


@each_rule
def test_finding_stands_where_it_is_stated(rule: Rule, tmp_path: Path) -> None:
    """Nothing points at the top of the file, where a place was not found."""
    spans = [f.span for f in examined(rule.wrong, tmp_path).findings if f.rule == rule.name]
    assert spans
    assert all(span.line > 1 for span in spans)


@each_rule
def test_rule_is_well_said(rule: Rule) -> None:
    assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)+|hunting", rule.name)
    for text in (rule.why, rule.fix, rule.limits):
        assert text.endswith(".")
    assert rule.summary
    assert not rule.summary.endswith(".")
    assert rule.source in (COMMON_PRACTICE, FROM_MEMORY) or re.search(r"\d", rule.source)
    assert all(rule_named(name) for name in rule.implied)
    assert rule.name not in rule.implied


@each_rule
def test_page(rule: Rule) -> None:
    page = rule_page(rule)
    assert page.startswith(f"# {rule.summary}\n")
    assert f"**{rule.severity}**" in page
    assert rule.why in page
    assert rule.fix in page
    wrong, right = differing(rule.wrong, rule.right)
    assert wrong != right


def test_none_is_forgotten() -> None:
    found = [
        value
        for module in pkgutil.iter_modules(generator.rules.__path__)
        for value in vars(importlib.import_module(f"generator.rules.{module.name}")).values()
        if isinstance(value, Rule)
    ]
    assert {rule.name for rule in found} == {rule.name for rule in ALL}


def test_names_are_different() -> None:
    assert [name for name, count in Counter(rule.name for rule in ALL).items() if count > 1] == []


def test_families() -> None:
    assert [family for family, _ in FAMILIES] == list(Family)
    for family, rules in FAMILIES:
        assert len(rules) >= 2
        assert {rule.family for rule in rules} == {family}


def test_unknown_name() -> None:
    assert rule_named("no-such-rule") is None
