"""Checks data against a pydantic model and tells what is wrong, in our own words and with its place.

Must not know any particular model.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, TypeVar

from pydantic import BaseModel, ValidationError

from generator.findings.finding import Finding, Severity, in_order
from generator.record.error_places import ErrorPlace, ErrorPlaces
from generator.record.places import Path, Places
from generator.record.problem_words import Problem, problem_of
from generator.record.wording import found, listed, path_words, place_words, sentence

M = TypeVar("M", bound=BaseModel)

_KEY_RULES = {"unknown-key", "missing-key"}
_Located = tuple[ErrorPlace, Problem]


def validate(
    model: type[M],
    document_data: Any,
    places: Places,
    *,
    root_path: Path = (),
    inherited: frozenset[str] = frozenset(),
) -> tuple[M | None, list[Finding]]:
    """Check data against a model.

    Args:
        model: A strict model that forbids unknown keys.
        document_data: The data, or the part of a document's data that stands at ``root_path``.
        places: Places of the whole document.
        root_path: Where in the document the data stands.
        inherited: Keys at the top below which nothing is said to be missing, since a part that could not be read
            may give it.

    Returns:
        The model, or None and everything that is wrong, in the order of the file. One fault gives one finding. A
        value that was refused when the file was read gives none.
    """
    try:
        return model.model_validate(document_data), []
    except ValidationError as error:
        details = error.errors(include_url=False)
    error_places = ErrorPlaces(model)
    located: list[_Located] = []
    for detail in details:
        place = error_places.find(detail["loc"], document_data)
        around = _at(document_data, place.path[:-1])
        siblings = around if isinstance(around, dict) else {}
        located.append((place, problem_of(detail, place, siblings)))
    problems = _without_consequences([problem for _, problem in _settle_unions(located, document_data, 0)])
    findings = [
        _finding(problem, places, root_path)
        for problem in problems
        if not places.is_unread((*root_path, *problem.path))
        and not (problem.rule == "missing-key" and inherited.intersection(problem.path[:1]))
    ]
    return None, list(in_order(findings))


def _finding(problem: Problem, places: Places, root_path: Path) -> Finding:
    path = (*root_path, *problem.path)
    if problem.rule == "missing-key":
        span = places.key(path[:-1])
    elif problem.is_key:
        span = places.key(path)
    else:
        span = places.value(path)
    fix, written = problem.fix, places.as_written(path)
    if problem.rule in _KEY_RULES:
        message = f"{problem.message} {place_words(written[:-1])}"
        if problem.meant:
            message, fix = f"{message}; {fix}", f"write `{problem.meant}`"
    elif path:
        message = f"{path_words(written)}: {problem.message}"
    else:
        message = problem.message
    return Finding(rule=problem.rule, severity=Severity.ERROR, message=message, fix=sentence(fix), span=span)


def _without_consequences(problems: Sequence[Problem]) -> list[Problem]:
    """Without the missing keys that a misspelt key stands for."""
    meant = {(*problem.path[:-1], problem.meant) for problem in problems if problem.meant}
    return [problem for problem in problems if not (problem.rule == "missing-key" and problem.path in meant)]


# ---------------------------------------------------------------------- unions


def _settle_unions(located: Iterable[_Located], data: Any, depth: int) -> list[_Located]:
    """Keep, of the errors of every union, those of the member that was most likely meant.

    Args:
        located: Errors with the same choice of members in all unions above ``depth``.
        data: What was validated.
        depth: How many unions on the way are settled.
    """
    settled: list[_Located] = []
    unions: dict[Path, dict[str, list[_Located]]] = {}
    for place, problem in located:
        if len(place.unions) > depth:
            path, label = place.unions[depth]
            unions.setdefault(path, {}).setdefault(label, []).append((place, problem))
        else:
            settled.append((place, problem))
    for path, members in unions.items():
        groups = [_settle_unions(group, data, depth + 1) for group in members.values()]
        settled += _likeliest(path, groups, data)
    return settled


def _likeliest(path: Path, groups: list[list[_Located]], data: Any) -> list[_Located]:
    if len(groups) == 1:
        return groups[0]
    fitting = [group for group in groups if not _is_of_another_sort(path, group)]
    within = [group for group in fitting if any(problem.path != path for _, problem in group)]
    if within:
        return min(within, key=_weight)
    return _in_one([located for group in fitting or groups for located in group], path, data)


def _is_of_another_sort(path: Path, group: list[_Located]) -> bool:
    return any(problem.rule == "wrong-type" and problem.path == path for _, problem in group)


def _weight(group: list[_Located]) -> int:
    """How little the data looks like the member: a word that is not allowed tells most."""
    return sum(5 if problem.rule == "not-allowed-value" else 1 for _, problem in group)


def _in_one(located: list[_Located], path: Path, data: Any) -> list[_Located]:
    """One problem for a single value that is none of several sorts."""
    near = next((each for each in located if each[1].rule == "not-allowed-value" and each[1].fix), None)
    if near is not None:
        return [near]
    place, first = located[0]
    wanted = list(dict.fromkeys(problem.wanted for _, problem in located if problem.wanted))
    if len(wanted) < 2:
        return [(place, first)]
    message = f"wanted {listed(wanted)}, found {found(_at(data, path))}"
    return [(place, Problem(first.rule, message, path, first.fix, listed(wanted)))]


def _at(data: Any, path: Path) -> Any:
    """The value at a path; None where there is none."""
    for step in path:
        is_there = (isinstance(data, Mapping) and step in data) or (
            isinstance(data, list | tuple) and isinstance(step, int) and step < len(data)
        )
        if not is_there:
            return None
        data = data[step]
    return data
