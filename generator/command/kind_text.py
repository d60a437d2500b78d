"""A kind of device in words: its terminals, contacts, loads, levers, settings, and where its figures come from.

It must not know any particular kind.
"""

from collections.abc import Iterator

from generator.catalogue.condition_words import ConditionWords
from generator.catalogue.kind import Kind
from generator.catalogue.parts import DeviceParts
from generator.command.page_text import named, paragraph, table
from generator.record.schema import ONE_OF, sections, write


def kind_text(kind: Kind, width: int) -> list[str]:
    """A kind of device, line by line."""
    parts = kind.parts(kind.settings.model_validate(dict(kind.example)))
    said = ", ".join(f"{key}: {write(value)}" for key, value in kind.example.items())
    lines = [f"{kind.name}: {kind.words} (kind of device; {kind.duty})", ""]
    lines += [*paragraph(kind.about, width), ""]
    if said:
        lines += [*paragraph(f"Shown here with {said}.", width), ""]
    for title, rows in _parts(parts):
        if rows:
            lines += [title, *(f"  {line}" for line in table(rows)), ""]
    if parts.protection is not None:
        lines += named("Protection", f"class {'I' if parts.protection == 1 else 'II'}", width)
        lines.append("")
    lines += ["Settings", *_settings(kind, width), ""]
    if parts.facts:
        lines.append("Figures and customs, and where they come from")
        lines += [
            f"  {line}" for line in table((fact.words, fact.value, fact.source) for fact in parts.facts)
        ]
        lines.append("")
    return lines[:-1]


def _parts(parts: DeviceParts) -> Iterator[tuple[str, list[tuple[str, ...]]]]:
    words = ConditionWords(parts)
    yield (
        "Terminals",
        [
            (item.name, item.words, str(item.role), item.usual_core, "" if item.needed else "may stay empty")
            for item in parts.terminals
        ],
    )
    yield (
        "Contacts",
        [
            (item.words, f"{item.a} to {item.b}", f"made while {words.of(item.when)}", _ampere(item.rated_a))
            for item in parts.contacts
        ],
    )
    yield (
        "Loads",
        [
            (item.words, f"{item.a} to {item.b}", f"{item.watts:g} W", f"power factor {item.power_factor:g}")
            for item in parts.loads
        ],
    )
    yield (
        "What moves by itself",
        [
            (item.words, f"{item.on_words} while {words.of(item.when)}", _seconds(item.on_s, item.off_s))
            for item in parts.driven
        ],
    )
    yield "What a person can move", [(item.words, item.does) for item in parts.controls]


def _ampere(rated_a: float | None) -> str:
    return f"{rated_a:g} A" if rated_a is not None else "rating not known"


def _seconds(on_s: float, off_s: float) -> str:
    return f"after {on_s:g} s; back after {off_s:g} s" if on_s or off_s else "at once"


def _settings(kind: Kind, width: int) -> list[str]:
    entries = sections(kind.settings)[0].entries
    if not entries:
        return ["  none"]
    lines = []
    for entry in entries:
        takes = entry.type_words.replace(ONE_OF, f"one of {entry.allowed}")
        if entry.allowed and ONE_OF not in entry.type_words:
            takes = f"{takes} ({entry.allowed})"
        left_out = "needed" if entry.required else f"left out: {entry.default or 'nothing'}"
        lines.append(f"  {entry.key}")
        lines += paragraph(
            f"{entry.meaning} {takes[:1].upper()}{takes[1:]}; {left_out}.", width, indent="      "
        )
    return lines
