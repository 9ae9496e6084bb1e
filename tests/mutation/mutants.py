"""The mutants of a file: every place where one small wrong change can be made, and the changed syntax tree.

What is changed: comparisons (boundary and negation), ``and``/``or``, ``not``, conditions, arithmetic, numbers, flags,
severities, strings that are keys or are compared, ``min``/``max``, ``any``/``all``, what is returned, ``break`` and
``continue``, and statements that do something are left out. What is not: docstrings, annotations, the wording of
messages and of sources, ``__repr__``, the assembling of texts, and tolerances against rounding.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

COMPARE: dict[type, tuple[type, ...]] = {
    ast.Lt: (ast.LtE, ast.GtE),
    ast.LtE: (ast.Lt, ast.Gt),
    ast.Gt: (ast.GtE, ast.LtE),
    ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
}
BOUNDARY = {ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt}
ARITHMETIC: dict[type, type] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Mod: ast.Mult,
    ast.Pow: ast.Mult,
    ast.BitOr: ast.BitAnd,
    ast.BitAnd: ast.BitOr,
    ast.LShift: ast.RShift,
    ast.RShift: ast.LShift,
}
NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
SEVERITIES = {"STOP": "CAUTION", "CAUTION": "NOTE", "NOTE": "CAUTION"}
WORDING = {"Source", "compile"}
"""Calls whose arguments are wording (a citation) or a pattern, not logic."""
SKIPPED = {"__repr__", "__str__"}


@dataclass(frozen=True)
class Mutant:
    """One change. ``node`` and ``variant`` find it again in a fresh tree of the same text."""

    file: str
    node: int
    variant: int
    within: str
    """Qualified name of the outermost function or class body it stands in; empty for the module."""
    warm: bool
    """True when it stands in the body of a function, so that exchanging its code object is enough."""
    anew: bool
    """True when it stands in the body of a class: the program has to be imported anew with it."""
    line: int
    last: int
    text: str
    """The source of its line, without blanks around."""
    change: str
    """``< becomes <=``."""
    nth: int = 0
    """Of those with the same change on the same text in the same function, the how-manieth."""

    @property
    def key(self) -> tuple[str, str, str, str, int]:
        """What names it independently of line numbers."""
        return self.file, self.within, self.text, self.change, self.nth

    def __str__(self) -> str:
        """For example ``harnesscheck/finding.py:91 settled: is becomes is not``."""
        return f"{self.file}:{self.line} {self.within}: {self.change} | {self.text}"


Change = tuple[str, Callable[[Any], Any]]
"""What it says, and what makes the new node of a copy of the old one; None leaves the statement out."""


def _binary(node: ast.BinOp | ast.AugAssign, inside: bool) -> Iterator[Change]:
    texts = (node.value,) if isinstance(node, ast.AugAssign) else (node.left, node.right)
    words = (ast.JoinedStr, ast.List, ast.ListComp, ast.Tuple)
    if any(isinstance(t, words) or (isinstance(t, ast.Constant) and isinstance(t.value, str)) for t in texts):
        return
    if _rounding(node) or any(_rounding(t) and _is_one(t) for t in texts):
        return
    new = ARITHMETIC.get(type(node.op))
    if new is not None and (inside or not isinstance(node.op, ast.BitOr)):  # outside functions: a union of types

        def change(old: Any) -> Any:
            old.op = new()
            return old

        yield f"{_sign(node.op)} becomes {_sign(new())}", change


def _tiny(node: ast.AST) -> bool:
    """A tolerance against rounding, which is no limit."""
    return isinstance(node, ast.Constant) and isinstance(node.value, float) and 0 < node.value <= 1e-6


def _rounding(node: ast.AST) -> bool:
    """``limit + 1e-9`` or ``1 - 1e-9``."""
    return isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add | ast.Sub) and _tiny(node.right)


def _is_one(node: Any) -> bool:
    """``1 + 1e-9``, a factor that is there for rounding only."""
    return isinstance(node.left, ast.Constant) and node.left.value == 1


def _sign(op: ast.AST) -> str:
    return type(op).__name__


def _compare(node: ast.Compare) -> Iterator[Change]:
    for number, op in enumerate(node.ops):
        operands = (node.comparators[number - 1] if number else node.left, node.comparators[number])
        # Beside a tolerance the boundary itself is a billionth away from the limit: nothing stands there.
        loose = any(_tiny(one) or any(map(_rounding, ast.walk(one))) for one in operands)
        for new in COMPARE[type(op)]:
            if loose and new is BOUNDARY.get(type(op)):
                continue

            def change(old: Any, number: int = number, new: type = new) -> Any:
                old.ops[number] = new()
                return old

            yield f"{_sign(op)} becomes {new.__name__}", change


def _constant(node: ast.Constant, key: bool) -> Iterator[Change]:
    value = node.value
    if isinstance(value, bool):
        yield f"{value} becomes {not value}", lambda old: ast.Constant(not value)
    elif isinstance(value, int):
        yield f"{value} becomes {value + 1}", lambda old: ast.Constant(value + 1)
    elif isinstance(value, float) and not _tiny(node):
        new = value * 1.1 if value else 1.0
        yield f"{value} becomes {new}", lambda old: ast.Constant(new)
    elif isinstance(value, str) and key:
        yield f"{value!r} becomes another text", lambda old: ast.Constant(f"~{value}")


def _negated(node: ast.expr) -> Iterator[Change]:
    """Conditions that are no comparison and no ``not``: those have mutants of their own."""
    if not isinstance(node, ast.Compare | ast.BoolOp | ast.UnaryOp | ast.Constant):
        yield "condition negated", lambda old: ast.UnaryOp(ast.Not(), old)


def _statement(node: ast.stmt) -> Iterator[Change]:
    if isinstance(node, ast.Return) and node.value is not None:
        if not (isinstance(node.value, ast.Constant) and isinstance(node.value.value, bool | None)):
            yield "returns None", lambda old: ast.Return(ast.Constant(None))
    elif isinstance(node, ast.Break):
        yield "break becomes continue", lambda old: ast.Continue()
    elif isinstance(node, ast.Continue):
        yield "continue becomes break", lambda old: ast.Break()
    elif (
        isinstance(node, ast.Raise | ast.AugAssign)
        or (isinstance(node, ast.Expr) and not isinstance(node.value, ast.Constant))
        or (isinstance(node, ast.Assign) and not isinstance(node.targets[0], ast.Name | ast.Tuple))
    ):
        yield "left out", lambda old: ast.Pass()


def _changes(node: ast.AST, field: str, parent: ast.AST, key: bool, inside: bool) -> Iterator[Change]:
    if isinstance(node, ast.stmt):
        yield from _statement(node)
    if isinstance(node, ast.BinOp | ast.AugAssign):
        yield from _binary(node, inside)
    elif isinstance(node, ast.Compare):
        yield from _compare(node)
    elif isinstance(node, ast.BoolOp):
        new: ast.boolop = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        yield f"{_sign(node.op)} becomes {_sign(new)}", lambda old: ast.BoolOp(new, old.values)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not | ast.USub):
        yield f"{_sign(node.op)} dropped", lambda old: old.operand
    elif isinstance(node, ast.Constant):
        yield from _constant(node, key)
    elif isinstance(node, ast.Name) and node.id in NAMES and isinstance(parent, ast.Call) and field == "func":
        yield f"{node.id} becomes {NAMES[node.id]}", lambda old: ast.Name(NAMES[old.id], ast.Load())
    elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "Severity":
        name = SEVERITIES.get(node.attr)
        if name:
            yield f"{node.attr} becomes {name}", lambda old: ast.Attribute(old.value, name, ast.Load())
    conditional = isinstance(parent, ast.If | ast.IfExp | ast.While) and field == "test"
    filtering = isinstance(parent, ast.comprehension) and field == "ifs"
    if (conditional or filtering or isinstance(parent, ast.BoolOp)) and isinstance(node, ast.expr):
        yield from _negated(node)


@dataclass
class _Spot:
    node: ast.AST
    parent: ast.AST
    field: str
    index: int | None
    stmt: ast.stmt
    within: tuple[str, ...]
    warm: bool
    key: bool
    anew: bool


def _spots(tree: ast.Module) -> list[_Spot]:
    """Every node that may be changed, in the one order in which they are numbered."""
    found: list[_Spot] = []

    def visit(
        node: ast.AST, stmt: ast.stmt, within: tuple[str, ...], warm: bool, key: bool, klass: bool = False
    ) -> None:
        for field, value in ast.iter_fields(node):
            if field in (
                "annotation",
                "returns",
                "decorator_list",
                "type_params",
                "bases",
                "format_spec",
                "conversion",
            ):
                continue
            function = isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
            for index, child in enumerate(value) if isinstance(value, list) else ((None, value),):
                if not isinstance(child, ast.AST) or _left_alone(child, node, field):
                    continue
                hot = warm or (function and field == "body")
                new, here = within, key
                if isinstance(child, ast.FunctionDef | ast.ClassDef | ast.AsyncFunctionDef) and not hot:
                    new = (*within, child.name)
                if isinstance(child, ast.Compare | ast.Subscript | ast.Dict) or _asks(child):
                    here = True
                elif isinstance(child, ast.JoinedStr | ast.Call | ast.IfExp | ast.Return | ast.stmt):
                    here = False
                inner = child if isinstance(child, ast.stmt) else stmt
                body = klass or (isinstance(node, ast.ClassDef) and field == "body")
                asked = here and _is_key(node, field)
                found.append(_Spot(child, node, field, index, inner, new, hot, asked, body and not hot))
                visit(child, inner, new, hot, here, body)

    visit(tree, ast.Pass(), (), False, False)
    return found


def _asks(node: ast.AST) -> bool:
    """``settings.get("key")`` and its like."""
    words = ("get", "pop", "setdefault", "startswith", "endswith", "partition", "split")
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr in words


def _is_key(node: ast.AST, field: str) -> bool:
    """True where a text decides something: as a key, as an operand of a comparison, or in the set that is asked."""
    if isinstance(node, ast.Dict):
        return field == "keys"
    return isinstance(node, ast.Compare | ast.Subscript | ast.Tuple | ast.Set | ast.List) or (
        isinstance(node, ast.Call) and field == "args" and _asks(node)
    )


def _left_alone(child: ast.AST, node: ast.AST, field: str) -> bool:
    if isinstance(child, ast.FunctionDef) and child.name in SKIPPED:
        return True
    if isinstance(child, ast.Call) and isinstance(child.func, ast.Name) and child.func.id in WORDING:
        return True
    if isinstance(child, ast.If) and isinstance(child.test, ast.Name) and child.test.id == "TYPE_CHECKING":
        return True
    if isinstance(child, ast.Assert) or (isinstance(child, ast.keyword) and child.arg == "strict"):
        return True  # it states what the code above has made true; so does ``zip(..., strict=True)``
    names = child.targets if isinstance(child, ast.Assign) else ()
    return any(isinstance(n, ast.Name) and n.id in ("EXAMPLES", "__all__") for n in names)


def _span(spot: _Spot) -> tuple[int, int]:
    """Lines in which a test must have been for the change to be seen."""
    node, stmt = spot.node, spot.stmt
    first = getattr(node, "lineno", getattr(stmt, "lineno", 1))
    if isinstance(node, ast.stmt):
        return first, getattr(node, "end_lineno", first)
    return first, getattr(node, "end_lineno", first) or first


def mutants(root: Path, file: str) -> list[Mutant]:
    """All mutants of a file, in order of their places."""
    text = (root / file).read_text(encoding="utf-8")
    lines = text.splitlines()
    found: list[Mutant] = []
    seen: dict[tuple[str, ...], int] = {}
    for number, spot in enumerate(_spots(ast.parse(text))):
        for variant, (change, _) in enumerate(_changes(spot.node, spot.field, spot.parent, spot.key, spot.warm)):
            first, last = _span(spot)
            within, line = ".".join(spot.within), lines[first - 1].strip()
            nth = seen.setdefault((within, line, change), 0)
            seen[within, line, change] = nth + 1
            found.append(Mutant(file, number, variant, within, spot.warm, spot.anew, first, last, line, change, nth))
    return sorted(found, key=lambda m: (m.line, m.node, m.variant))


def changed(root: Path, mutant: Mutant) -> ast.Module:
    """The syntax tree of the file with the change made."""
    tree = ast.parse((root / mutant.file).read_text(encoding="utf-8"))
    spot = _spots(tree)[mutant.node]
    old = spot.node
    _, make = list(_changes(old, spot.field, spot.parent, spot.key, spot.warm))[mutant.variant]
    new = make(copy.copy(old) if not isinstance(old, ast.Compare) else copy.deepcopy(old))
    ast.copy_location(new, old)
    if spot.index is None:
        setattr(spot.parent, spot.field, new)
    else:
        getattr(spot.parent, spot.field)[spot.index] = new
    return ast.fix_missing_locations(tree)
