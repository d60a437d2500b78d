"""Writes the fields of pydantic models as a Markdown page, good enough to write a record from.

Must not know any particular model, nor the site the page goes into.
"""

import re
from collections.abc import Sequence

from pydantic import BaseModel

from generator.record.schema import ONE_OF, FieldEntry, Section, sections

_COLUMNS = ("Key", "What it takes", "Needed", "If left out", "Meaning", "Example")
_MOST_PATHS = 6


def field_reference_markdown(*models: type[BaseModel], level: int = 2) -> str:
    """A heading for each model with what it is, where it stands, and a table of its keys.

    Args:
        models: The models to begin with; those in them follow, each once.
        level: Level of the headings.

    Returns:
        Markdown with tables, ending with a line feed. Types that are models are links to their headings.
    """
    all_sections = sections(*models)
    titles = [section.title for section in all_sections]
    return "\n".join(_section(section, titles, level) for section in all_sections)


def _section(section: Section, titles: Sequence[str], level: int) -> str:
    lines = [f"{'#' * level} {section.title}", ""]
    if section.about:
        lines += [section.about.replace("``", "`"), ""]
    lines += [_where(section.paths), ""]
    if section.entries:
        lines += [_row(_COLUMNS), _row(["---"] * len(_COLUMNS))]
        lines += [_row(_cells(entry, titles)) for entry in section.entries]
        lines.append("")
    return "\n".join(lines)


def _where(paths: Sequence[str]) -> str:
    places = ["the top of the file" if not path else f"`{path}`" for path in paths]
    more = f" and {len(places) - _MOST_PATHS} more places" if len(places) > _MOST_PATHS else ""
    return f"Stands at {', '.join(places[:_MOST_PATHS])}{more}."


def _cells(entry: FieldEntry, titles: Sequence[str]) -> list[str]:
    takes = _linked(entry.type_words, titles)
    if ONE_OF in takes:
        takes = takes.replace(ONE_OF, f"one of {entry.allowed}" if "," in entry.allowed else entry.allowed)
    elif entry.allowed:
        takes = f"{takes} ({entry.allowed})"
    return [
        f"`{entry.key}`",
        takes,
        "yes" if entry.required else "no",
        entry.default or ("" if entry.required else "nothing"),
        entry.meaning,
        f"`{entry.key}: {entry.example}`" if entry.example else "",
    ]


def _linked(type_words: str, titles: Sequence[str]) -> str:
    for title in titles:
        type_words = type_words.replace(f"[{title}]", f"[{title}](#{_anchor(title)})")
    return type_words


def _anchor(title: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", title.lower()).strip("-")


def _row(cells: Sequence[str]) -> str:
    return "| " + " | ".join(cell.replace("\n", " ").replace("|", "\\|") for cell in cells) + " |"
