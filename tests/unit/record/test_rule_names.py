"""Every finding that reading can give has its entry among the refusals, and so its page."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

from generator.record.refusals import REFUSALS
from tests.tools.paths import GENERATOR

_SLUG = re.compile(r"[a-z]+(-[a-z0-9]+)*")
_MAKERS = {"unfit", "_refuse", "_finding", "Problem"}


def _names_in(module: Path) -> Iterator[str]:
    """Text given as the rule of a finding: ``rule=`` anywhere, or the first argument of one of the makers."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.Call):
            continue
        arguments = [keyword.value for keyword in node.keywords if keyword.arg == "rule"]
        if isinstance(node.func, ast.Name | ast.Attribute):
            called = node.func.id if isinstance(node.func, ast.Name) else node.func.attr
            arguments += node.args[:1] if called in _MAKERS else []
        for argument in arguments:
            if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                yield argument.value


def test_every_name_has_its_entry() -> None:
    used = {name for module in sorted((GENERATOR / "record").glob("*.py")) for name in _names_in(module)}
    assert len(used) > 25, "the names are no longer found by this test"
    assert {name for name in used if not _SLUG.fullmatch(name)} == set()
    assert used - {refusal.name for refusal in REFUSALS} == set()
