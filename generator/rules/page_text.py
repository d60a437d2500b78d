"""A rule's own page, in Markdown, made from the rule.

Knows rules and text only: neither how a site shows the page nor where it stands.
"""

from collections.abc import Iterator
from difflib import SequenceMatcher

from generator.rules.rule import Rule

_AROUND = 1
_LEFT_OUT = "# ..."


def rule_page(rule: Rule) -> str:
    """The page: what it finds, why that matters, what to do, where it comes from, and an example.

    Of the two examples only what differs is shown, with the keys that it stands under.
    """
    return "\n".join(_lines(rule)) + "\n"


def _lines(rule: Rule) -> Iterator[str]:
    yield f"# {rule.summary}"
    yield ""
    yield f"`{rule.name}` · **{rule.severity.value}** · {rule.family.value}"
    for title, text in (
        ("What happens in the house", rule.why),
        ("What to do", rule.fix),
        ("Source", _sentence(rule.source)),
        ("Limits", rule.limits),
    ):
        if text:
            yield from ("", f"## {title}", "", text)
    wrong, right = differing(rule.wrong, rule.right)
    yield from ("", "## An example", "")
    yield "Wrong:"
    yield from _code(wrong)
    if rule.implied:
        others = ", ".join(f"`{name}`" for name in rule.implied)
        yield from ("", f"The same fault is also found by {others}.")
    yield ""
    yield "Right:"
    yield from _code(right)


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}."


def _code(lines: tuple[str, ...]) -> Iterator[str]:
    yield from ("", "```yaml", *lines, "```")


def differing(wrong: str, right: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines in which two records differ, each with its neighbours and the keys that it stands under."""
    a, b = wrong.splitlines(), right.splitlines()
    in_a: set[int] = set()
    in_b: set[int] = set()
    for tag, a1, a2, b1, b2 in SequenceMatcher(a=a, b=b, autojunk=False).get_opcodes():
        if tag != "equal":
            in_a.update(range(a1 - _AROUND, a2 + _AROUND))
            in_b.update(range(b1 - _AROUND, b2 + _AROUND))
    return _excerpt(a, in_a), _excerpt(b, in_b)


def _excerpt(lines: list[str], wanted: set[int]) -> tuple[str, ...]:
    kept = {number for number in wanted if 0 <= number < len(lines) and lines[number].strip()}
    for number in sorted(kept):
        kept |= _above(lines, number)
    shown: list[str] = []
    before = -1
    for number in sorted(kept):
        if number != before + 1 and any(line.strip() for line in lines[before + 1 : number]):
            shown.append(f"{' ' * _indent(lines[number])}{_LEFT_OUT}")
        shown.append(lines[number])
        before = number
    if before < len(lines) - 1:
        shown.append(_LEFT_OUT)
    return tuple(shown)


def _above(lines: list[str], number: int) -> set[int]:
    """The lines of the keys that a line stands under."""
    found: set[int] = set()
    indent = _indent(lines[number])
    for above in range(number - 1, -1, -1):
        if lines[above].strip() and _indent(lines[above]) < indent:
            found.add(above)
            indent = _indent(lines[above])
    return found


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
