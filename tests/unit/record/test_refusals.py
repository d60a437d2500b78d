"""Every finding that is given before any rule is held against a record says why, and none is listed that is not given."""

import ast
import re

from generator.record.refusals import REFUSALS, refusal_named
from generator.rules.rules import ALL
from tests.tools.paths import GENERATOR, python_modules

_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_MAKERS = {"Finding", "Identity", "Problem", "_finding", "_refuse", "report", "unfit", "_Words"}
"""What makes a finding of the reader; its rule is the first argument, or named `rule`."""


def _given() -> set[str]:
    found = set()
    folders = ("record", "circuit", "command")
    modules = [module for folder in folders for module in python_modules(GENERATOR / folder)]
    for module in (*modules, GENERATOR / "pipeline.py"):
        if module.name == "refusals.py":
            continue
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            found |= _rules_of(node)
    return found


def _rules_of(node: ast.AST) -> set[str]:
    if isinstance(node, ast.AnnAssign | ast.Assign):
        named = node.target if isinstance(node, ast.AnnAssign) else node.targets[0]
        if isinstance(named, ast.Name) and named.id == "rule" and node.value is not None:
            return _texts(node.value)
    if isinstance(node, ast.Call):
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        if name in _MAKERS:
            first = node.args[:1] if name != "_Words" else []
            return set().union(*map(_texts, [*first, *(k.value for k in node.keywords if k.arg == "rule")]))
    return set()


def _texts(node: ast.expr) -> set[str]:
    """The slugs in an expression, both sides of a choice."""
    if isinstance(node, ast.IfExp):
        return _texts(node.body) | _texts(node.orelse)
    if isinstance(node, ast.Constant) and isinstance(node.value, str) and _SLUG.fullmatch(node.value):
        return {node.value}
    return set()


def test_every_refusal_is_listed_and_given() -> None:
    assert {each.name for each in REFUSALS} == _given()


def test_names_are_unique_and_not_those_of_rules() -> None:
    names = [each.name for each in REFUSALS]
    assert len(names) == len(set(names))
    assert not set(names) & {rule.name for rule in ALL}


def test_each_is_said_in_sentences() -> None:
    for each in REFUSALS:
        assert each.why.endswith(".")
        assert not each.summary.endswith(".")
        assert each.summary[0].isupper()


def test_found_by_name() -> None:
    assert refusal_named("tab") is not None
    assert refusal_named("no-such") is None
