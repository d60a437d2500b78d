"""The pages that explain: one a rule, the kinds of device, and every field of a record; made from the code itself.

Knows Markdown and where a reader looks things up; not where a site puts the pages.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial

from markupsafe import escape

from generator.catalogue.condition_words import ConditionWords
from generator.catalogue.kind import Kind
from generator.catalogue.kinds import KINDS
from generator.pages.environment import environment
from generator.pages.late_page import LatePage
from generator.pages.stock_pages import find
from generator.record.field_pages import field_reference_markdown
from generator.record.kind_model import KindFile
from generator.record.model import HouseType, Record
from generator.rules.page_text import rule_page
from generator.rules.rule import Rule
from generator.rules.rules import FAMILIES

_NAMED = 20
"""How many properties a page of a rule or a kind names."""
_FIELDS_INTRODUCTION = """# Field reference

Every key of a record and of a house type. *Writing a record* has a whole example and explains how the parts fit together.
Settings of devices are on the page of their kinds.

"""


def _page(url: str, title: str, description: str, make: Callable[[], str], made_from: str = "") -> LatePage:
    """A page; one that is made from nothing but the program is always the same."""
    return LatePage(
        url=url,
        kind="reference",
        title=title,
        description=description,
        make=make,
        made_from=made_from,
        search=True,
    )


def reference_pages(
    found_in: dict[str, list[str]],
    own_kinds: tuple[Kind, ...] = (),
    used_in: Mapping[str, list[str]] | None = None,
    *,
    own_files: str = "",
) -> Iterator[LatePage]:
    """Every reference page.

    Args:
        found_in: by rule, the references of the properties in which it is found.
        own_kinds: the firm's own kinds of device.
        used_in: by kind, the references of the properties that have a device of it.
        own_files: a digest of the files that the own kinds are from.
    """
    yield _rules_index()
    for _, rules in FAMILIES:
        for rule in rules:
            yield _rule(rule, found_in.get(rule.name, []))
    yield _page(
        url="fields/",
        title="Field reference",
        description="Every key of a record and of a house type, with what may be written there.",
        make=lambda: _html(_FIELDS_INTRODUCTION + field_reference_markdown(Record, HouseType, KindFile)),
    )
    yield _page(
        url="kinds/",
        title="Kinds of device",
        description="Every kind of device: its terminals, settings, contacts, and where its figures come from.",
        made_from=own_files,
        make=lambda: _html(kinds_markdown(KINDS) + _own_kinds_list(own_kinds)),
    )
    for kind in own_kinds:
        yield _own_kind(kind, (used_in or {}).get(kind.name, []), own_files)


def _own_kinds_list(kinds: tuple[Kind, ...]) -> str:
    if not kinds:
        return ""
    lines = ["", "## Kinds of your own", "", "From the folder `kinds` beside the records.", ""]
    lines += [f"- [`{kind.name}`]({kind.name}/): {_literal(kind.words)}" for kind in kinds]
    return "\n".join(lines) + "\n"


def _own_kind(kind: Kind, references: list[str], own_files: str) -> LatePage:
    return _page(
        url=f"kinds/{kind.name}/",
        title=f"{kind.name}: {kind.words}",
        description=f"A kind of device of the firm's own: {kind.words}.",
        made_from=f"{own_files} {_named(references)}",
        make=partial(_own_kind_page, kind, references),
    )


def _named(references: list[str]) -> str:
    """All that `_where` goes by, as text."""
    return repr((references[:_NAMED], len(references)))


def _own_kind_page(kind: Kind, references: list[str]) -> str:
    text = "\n".join(
        [
            f"# {_literal(kind.words[:1].upper() + kind.words[1:])}",
            "",
            *_kind_lines(kind, said=_literal),
            *_moving_lines(kind),
        ]
    )
    return _html(text) + _where(references, kind=kind.name)


def _where(references: list[str], **facet: str) -> str:
    """Where something is found: the first properties by name, and a link to the finder for all of them."""
    return (
        environment()
        .get_template("pages/found_in.html.j2")
        .render(references=references[:_NAMED], count=len(references), all_of_them=find("../../", **facet))
    )


def _moving_lines(kind: Kind) -> Iterator[str]:
    """The contacts of a kind and what moves by itself, in words."""
    parts = kind.parts(kind.settings.model_validate(dict(kind.example)))
    words = ConditionWords(parts)
    said = [
        f"- {_literal(item.words)}, `{item.a}` to `{item.b}`: made while {_literal(words.of(item.when))}"
        for item in parts.contacts
    ]
    said += [
        f"- {_literal(f'{item.words}: {item.on_words} while {words.of(item.when)}')}" for item in parts.driven
    ]
    if said:
        yield "What moves:"
        yield ""
        yield from said
        yield ""


def _html(text: str) -> str:
    # Few builds make any of these pages again.
    import markdown

    return markdown.markdown(text, extensions=["tables", "fenced_code", "toc", "sane_lists"])


def _rules_index() -> LatePage:
    return _page(
        url="rules/",
        title="Rules",
        description="What every record is held against, by family.",
        make=lambda: environment().get_template("pages/rules.html.j2").render(families=FAMILIES),
    )


def _rule(rule: Rule, references: list[str]) -> LatePage:
    return _page(
        url=f"rules/{rule.name}/",
        title=f"{rule.name}: {rule.summary}",
        description=rule.summary,
        made_from=_named(references),
        make=lambda: _html(rule_page(rule)) + _where(references, rule=rule.name),
    )


def kinds_markdown(kinds: Iterable[Kind]) -> str:
    """The page of all kinds of device."""
    lines = [
        "# Kinds of device",
        "",
        "What `kind` may be, and for each kind its settings, its terminals and where its figures come from.",
        "A terminal is written `device.terminal`, such as `hall-valve.motor`.",
        "",
    ]
    listed = tuple(kinds)
    for duty in dict.fromkeys(kind.duty for kind in listed):
        named = ", ".join(f"[`{kind.name}`](#{kind.name})" for kind in listed if kind.duty is duty)
        lines.append(f"- {duty}: {named}")
    lines.append("")
    for kind in listed:
        lines += _kind_lines(kind)
    return "\n".join(lines)


def _literal(text: str) -> str:
    """Text of a firm's own as Markdown that shows just that text, on one line: nothing in it can act."""
    line = " ".join(text.split())
    return str(escape(re.sub(r"([\\`*_{}\[\]()#+\-.!])", r"\\\1", line))).replace("|", "&#124;")


def _kind_lines(kind: Kind, *, said: Callable[[str], str] = str) -> Iterator[str]:
    """The page of one kind; ``said`` makes its words safe where they are not our own."""
    parts = kind.parts(kind.settings.model_validate(dict(kind.example)))
    yield f"## `{kind.name}`"
    yield ""
    yield said(kind.about)
    yield ""
    if parts.terminals:
        shown = ", ".join(f"`{key}: {_plain(value)}`" for key, value in kind.example.items())
        yield f"Terminals{f' (with {shown})' if shown else ''}:"
        yield ""
        yield "| Terminal | What it is | Usual core | Must be wired |"
        yield "| --- | --- | --- | --- |"
        for terminal in parts.terminals:
            core = f"`{terminal.usual_core}`" if terminal.usual_core else ""
            yield f"| `{terminal.name}` | {said(terminal.words)} | {core} | {'yes' if terminal.needed else ''} |"
        yield ""
    if kind.settings.model_fields:
        settings = field_reference_markdown(kind.settings)
        yield from (line for line in settings.splitlines() if not line.startswith(("#", "Stands at")))
        yield ""
    if parts.facts:
        yield "| Fact | Value | Source |"
        yield "| --- | --- | --- |"
        for fact in parts.facts:
            yield f"| {said(fact.words)} | {said(fact.value)} | {said(fact.source)} |"
        yield ""


def _plain(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f"[{', '.join(map(str, value))}]" if isinstance(value, list) else str(value)
