"""Small changes to a module, one at a time, that a test should notice: an operator turned, a condition reversed, a number one off.

Makes them from the syntax tree. Texts are left alone, and so are annotations, decorators and the examples of rules:
what those say is held by other tests. So is what cannot change any result: assertions, and how much a cache keeps.
Runs nothing.
"""

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from tests.tools.paths import relative

_COMPARE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
_BINARY: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
    ast.BitXor: ast.BitAnd,
    ast.LShift: ast.RShift,
    ast.RShift: ast.LShift,
    ast.Pow: ast.Mult,
}
_LEFT_ALONE = {
    "annotation",
    "returns",
    "decorator_list",
    "right",
    "wrong",
    "name",
    "source",
    "strict",
    "type_params",
}
"""Fields and arguments of a call below which nothing is changed; operands are told from arguments by their parent.

``strict`` of a `zip` is an assertion: like those it changes nothing while the program is right.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mutant:
    """One change: where, what in words, the function around it (empty at the top of the module), and the tree with it.

    ``statement`` is the line of the statement around it, 0 where that is in no function and so runs at import.
    """

    module: Path
    line: int
    change: str
    function: str
    statement: int
    tree: Callable[[], ast.Module]

    @property
    def words(self) -> str:
        """``generator/states/water.py:12 in _flows: & becomes |``."""
        return f"{relative(self.module)}:{self.line} in {self.function or 'the module'}: {self.change}"


@dataclass(frozen=True, slots=True)
class _Place:
    """A node by its way from the root, so that it is found again in a copy of the tree."""

    way: tuple[tuple[str, int | None], ...]
    function: str
    statement: int


def mutants_of(module: Path) -> tuple[Mutant, ...]:
    """Every one of a module, in the order of its text."""
    tree = ast.parse(module.read_text(encoding="utf-8"))
    found = []
    for node, place in _nodes(tree, _Place((), "", 0)):
        for change, apply in _changes(node):
            found.append(
                Mutant(
                    module=module,
                    line=getattr(node, "lineno", 0),
                    change=change,
                    function=place.function,
                    statement=place.statement,
                    tree=_applied(tree, place.way, apply),
                )
            )
    return tuple(sorted(found, key=lambda each: each.line))


def _applied(
    tree: ast.Module, way: tuple[tuple[str, int | None], ...], apply: Callable[[ast.AST], ast.AST]
) -> Callable[[], ast.Module]:
    def changed() -> ast.Module:
        whole = copy.deepcopy(tree)
        parent: ast.AST = whole
        for step in way[:-1]:
            parent = _child(parent, step)
        name, index = way[-1]
        new = apply(_child(parent, way[-1]))
        if index is None:
            setattr(parent, name, new)
        else:
            getattr(parent, name)[index] = new
        return ast.fix_missing_locations(whole)

    return changed


def _child(node: ast.AST, step: tuple[str, int | None]) -> ast.AST:
    value = getattr(node, step[0])
    found = value if step[1] is None else value[step[1]]
    if not isinstance(found, ast.AST):
        raise TypeError(step)
    return found


def statements(node: ast.AST, *, inside: bool = False) -> Iterator[tuple[list[ast.stmt], int]]:
    """Every statement inside a function, docstrings left out: the list that it is in, and its place there."""
    for _, value in ast.iter_fields(node):
        for index, child in enumerate(value if isinstance(value, list) else [value]):
            if inside and isinstance(child, ast.stmt) and not _is_docstring(child):
                yield value, index
            if isinstance(child, ast.AST):
                yield from statements(child, inside=inside or isinstance(child, ast.FunctionDef))


def _is_docstring(node: ast.AST) -> bool:
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)


def _nodes(node: ast.AST, place: _Place) -> Iterator[tuple[ast.AST, _Place]]:
    for name, value in ast.iter_fields(node):
        if name in _LEFT_ALONE and not isinstance(node, ast.BinOp):
            continue
        for index, child in enumerate(value if isinstance(value, list) else [value]):
            if not isinstance(child, ast.AST) or isinstance(child, ast.Assert | ast.Import | ast.ImportFrom):
                continue
            if isinstance(child, ast.keyword) and child.arg in _LEFT_ALONE:
                continue
            if _bounds_what_is_kept(child):
                continue
            way = (*place.way, (name, index if isinstance(value, list) else None))
            statement = place.statement
            if isinstance(child, ast.stmt) and _runs_when_called(node, place):
                statement = child.lineno
            yield child, _Place(way, place.function, statement)
            function = place.function
            if isinstance(child, ast.FunctionDef | ast.ClassDef):
                function = f"{function}.{child.name}" if function else child.name
            yield from _nodes(child, _Place(way, function, statement))


def _runs_when_called(node: ast.AST, place: _Place) -> bool:
    """Whether the statements right below a node, which is at a place, are inside a function."""
    return bool(place.statement) or isinstance(node, ast.FunctionDef)


def _bounds_what_is_kept(node: ast.AST) -> bool:
    """Whether it only says how many answers are kept, which changes how often one is worked out and never what it is.

    A constant called ``..._KEPT``, what is done where a count has come to one, and the size of an `lru_cache`.
    """
    match node:
        case (
            ast.Assign(targets=[ast.Name(id=name)])
            | ast.If(test=ast.Compare(comparators=[ast.Name(id=name)]))
        ):
            return name.endswith("_KEPT")
        case ast.Call(func=ast.Name(id=name)):
            return name == "lru_cache"
        case _:
            return False


def _changes(node: ast.AST) -> Iterator[tuple[str, Callable[[ast.AST], ast.AST]]]:
    """What can be done to one node, in words, and how."""
    yield from _changed_operators(node)
    match node:
        case ast.Constant(value=bool(value)):
            yield f"{value} becomes {not value}", _with(value=not value)
        case ast.Constant(value=int() | float() as number):
            yield f"{number} becomes {number + 1}", _with(value=number + 1)
        case ast.If(test=test) | ast.IfExp(test=test) if not isinstance(test, ast.Compare | ast.UnaryOp):
            yield "the condition is reversed", _with(test=ast.UnaryOp(op=ast.Not(), operand=test))
        case ast.Expr(value=ast.Call()):
            yield f"{ast.unparse(node)[:50]} is left out", lambda _: ast.Pass()
        case ast.Expr(value=ast.Yield() | ast.YieldFrom()) if not _yields_nothing(node.value):
            yield "the yield is left out", lambda _: _never_yields()
        case ast.Continue():
            yield "continue becomes break", lambda _: ast.Break()
        case ast.Break():
            yield "break becomes continue", lambda _: ast.Continue()
        case _:
            pass


def _changed_operators(node: ast.AST) -> Iterator[tuple[str, Callable[[ast.AST], ast.AST]]]:
    match node:
        case ast.Compare(ops=[operator]):
            other = _COMPARE[type(operator)]
            yield f"{_sign(operator)} becomes {_sign(other())}", _with(ops=[other()])
        case ast.BoolOp(op=operator):
            turned = ast.Or() if isinstance(operator, ast.And) else ast.And()
            yield f"{_sign(operator)} becomes {_sign(turned)}", _with(op=turned)
        case ast.UnaryOp(op=ast.Not() | ast.Invert() | ast.USub(), operand=operand):
            yield f"{_sign(node.op)} is left out", lambda _: copy.deepcopy(operand)
        case ast.BinOp(op=operator, left=left, right=right) if not _is_text(left) and not _is_text(right):
            binary = _BINARY[type(operator)]()
            yield f"{_sign(operator)} becomes {_sign(binary)}", _with(op=binary)
        case ast.AugAssign(op=operator, value=value) if not _is_text(value):
            binary = _BINARY[type(operator)]()
            yield f"{_sign(operator)}= becomes {_sign(binary)}=", _with(op=binary)
        case _:
            pass


def _with(**fields: object) -> Callable[[ast.AST], ast.AST]:
    def changed(node: ast.AST) -> ast.AST:
        for name, value in fields.items():
            setattr(node, name, copy.deepcopy(value))
        return node

    return changed


def _yields_nothing(node: ast.expr) -> bool:
    """Whether it is there only to make its function a generator, so that nothing is lost without it."""
    return isinstance(node, ast.YieldFrom) and isinstance(node.value, ast.Tuple) and not node.value.elts


def _never_yields() -> ast.stmt:
    """A statement that yields nothing, and keeps its function a generator."""
    return ast.parse("yield from ()").body[0]


def _is_text(node: ast.AST) -> bool:
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


_SIGNS = {
    "Eq": "==",
    "NotEq": "!=",
    "Lt": "<",
    "LtE": "<=",
    "Gt": ">",
    "GtE": ">=",
    "In": "in",
    "NotIn": "not in",
    "Is": "is",
    "IsNot": "is not",
    "And": "and",
    "Or": "or",
    "Not": "not",
    "Invert": "~",
    "USub": "-",
    "Add": "+",
    "Sub": "-",
    "Mult": "*",
    "Div": "/",
    "FloorDiv": "//",
    "Mod": "%",
    "BitAnd": "&",
    "BitOr": "|",
    "BitXor": "^",
    "LShift": "<<",
    "RShift": ">>",
    "Pow": "**",
}


def _sign(operator: ast.AST) -> str:
    return _SIGNS[type(operator).__name__]
