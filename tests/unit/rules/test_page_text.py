"""Of two examples a rule's page shows what differs, with its neighbours and the keys above it: worked out by hand."""

from generator.findings.finding import Severity
from generator.rules.page_text import differing, rule_page
from generator.rules.rule import COMMON_PRACTICE, Family, Rule

RECORD = """\
devices:
  spur: one
  pump: two

wiring:
  A:
    - first
    - second
    - third
    - fourth
    - fifth
  B:
    - sixth

zones:
  hall: seven
"""
DOTS = "# ..."


def changed(*changes: tuple[str, str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    text = RECORD
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return differing(text, RECORD)


def test_a_line_inside() -> None:
    """Lines of its own level further up are left out; the keys that it stands under are not."""
    wrong, right = changed(("- fourth", "- other"))
    assert wrong == (
        DOTS,
        "wiring:",
        "  A:",
        f"    {DOTS}",
        "    - third",
        "    - other",
        "    - fifth",
        DOTS,
    )
    assert right == (
        DOTS,
        "wiring:",
        "  A:",
        f"    {DOTS}",
        "    - third",
        "    - fourth",
        "    - fifth",
        DOTS,
    )


def test_a_line_beside_another_key() -> None:
    """A neighbour further out is shown as well, and needs no keys of the line beside it."""
    wrong, _ = changed(("- fifth", "- other"))
    assert wrong == (DOTS, "wiring:", "  A:", f"    {DOTS}", "    - fourth", "    - other", "  B:", DOTS)


def test_the_first_line() -> None:
    wrong, _ = changed(("devices:", "things:"))
    assert wrong == ("things:", "  spur: one", DOTS)


def test_the_last_line() -> None:
    """Nothing is left out behind it."""
    wrong, _ = changed(("hall: seven", "hall: eight"))
    assert wrong == (DOTS, "zones:", "  hall: eight")


def test_only_empty_lines_between_are_not_told() -> None:
    """Between the pump and the wiring there is nothing but an empty line."""
    wrong, _ = changed(("pump: two", "pump: nine"), ("  A:", "  AA:"))
    assert wrong == ("devices:", "  spur: one", "  pump: nine", "wiring:", "  AA:", "    - first", DOTS)


def test_what_stands_in_one_only() -> None:
    """The place where a line is missing is shown by the lines round it."""
    wrong, right = changed(("    - second\n", ""))
    assert wrong == (DOTS, "wiring:", "  A:", "    - first", "    - third", DOTS)
    assert right == (DOTS, "wiring:", "  A:", "    - first", "    - second", "    - third", DOTS)


def test_nothing_where_they_are_alike() -> None:
    assert differing(RECORD, RECORD) == ((DOTS,), (DOTS,))


def test_the_whole_page() -> None:
    rule = Rule(
        name="pump-of-nine",
        family=Family.LOADS,
        severity=Severity.WARNING,
        summary="The pump is nine",
        why="It is one too many.",
        fix="Make it two.",
        source=COMMON_PRACTICE,
        right=RECORD,
        wrong=RECORD.replace("pump: two", "pump: nine"),
        implied=("one-rule", "other-rule"),
        look=lambda _: iter(()),
    )
    assert rule_page(rule) == (
        "# The pump is nine\n\n`pump-of-nine` · **warning** · loads\n\n"
        "## What happens in the house\n\nIt is one too many.\n\n"
        "## What to do\n\nMake it two.\n\n"
        "## Source\n\nCommon practice, no source.\n\n"
        "## An example\n\nWrong:\n\n"
        "```yaml\ndevices:\n  spur: one\n  pump: nine\n# ...\n```\n\n"
        "The same fault is also found by `one-rule`, `other-rule`.\n\n"
        "Right:\n\n```yaml\ndevices:\n  spur: one\n  pump: two\n# ...\n```\n"
    )
