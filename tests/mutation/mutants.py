"""Small faults put into a module's source, one at a time: the faults a tired programmer makes.

A mutant changes one comparison, one ``and``/``or``, one sum, one number, truth value, condition, returned value or
statement. Words are left alone: what is said to people is judged by people.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from dataclasses import dataclass

COMPARISONS = {
    ast.Lt: (ast.LtE, ast.GtE), ast.LtE: (ast.Lt, ast.Gt), ast.Gt: (ast.GtE, ast.LtE), ast.GtE: (ast.Gt, ast.Lt),
    ast.Eq: (ast.NotEq,), ast.NotEq: (ast.Eq,), ast.Is: (ast.IsNot,), ast.IsNot: (ast.Is,), ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
}
SUMS = {ast.Add: (ast.Sub,), ast.Sub: (ast.Add,), ast.Mult: (ast.Div,), ast.Div: (ast.Mult,), ast.FloorDiv: (ast.Mult,),
        ast.Mod: (ast.Mult,)}


@dataclass(frozen=True)
class Mutant:
    """One fault: the module's name and source, the way to the place in its tree, what stood there, what stands there
    now.

    ``lines`` are those of the statement it is in (of a compound statement its head): a run that reaches none of them
    cannot tell the fault. None where it acts on import.
    """

    module: str
    source: str
    path: tuple
    was: ast.AST
    now: ast.AST
    lines: range | None

    def tree(self) -> ast.Module:
        """The whole module with the fault in it."""
        tree = ast.parse(self.source)
        _put(tree, self.path, self.now)
        return ast.fix_missing_locations(tree)

    def __str__(self) -> str:
        return f"{self.module}:{self.was.lineno}: {_short(self.was)}  ->  {_short(self.now)}"


def mutants_of(module: str, source: str) -> Iterator[Mutant]:
    """Every mutant of a module's *source*, in the order of its lines."""
    tree = ast.parse(source)
    for path, node in _places(tree):
        lines = _lines(tree, path)
        for changed in _changes(node):
            yield Mutant(module, source, path, node, changed, lines)


def _short(node: ast.AST) -> str:
    text = " ".join(ast.unparse(node).split())
    return text if len(text) <= 150 else text[:147] + "..."


def _places(node: ast.AST, path: tuple = ()) -> Iterator[tuple[tuple, ast.AST]]:
    """Every node that may be changed, with the way to it; not type hints, imports or docstrings."""
    for field, value in ast.iter_fields(node):
        if field in ("annotation", "returns", "decorator_list", "type_params"):
            continue
        children = enumerate(value) if isinstance(value, list) else [(None, value)]
        for index, child in children:
            if not isinstance(child, ast.AST) or isinstance(child, (ast.Import, ast.ImportFrom)):
                continue
            way = (*path, (field, index))
            if hasattr(child, "lineno"):
                yield way, child
            yield from _places(child, way)


def _lines(tree: ast.AST, path: tuple) -> range | None:
    """The lines of the innermost statement on *path*; None outside functions."""
    statement, within = tree, False
    for field, index in path:
        tree = getattr(tree, field) if index is None else getattr(tree, field)[index]
        if isinstance(tree, ast.stmt):
            within = within or isinstance(statement, ast.FunctionDef)
            statement = tree
    if not within:
        return None
    body = getattr(statement, "body", None)
    end = body[0].lineno if body else statement.end_lineno + 1
    return range(statement.lineno, max(end, statement.lineno + 1))


def _put(tree: ast.AST, path: tuple, node: ast.AST) -> None:
    for field, index in path[:-1]:
        tree = getattr(tree, field) if index is None else getattr(tree, field)[index]
    field, index = path[-1]
    if index is None:
        setattr(tree, field, node)
    else:
        getattr(tree, field)[index] = node


def _with(node: ast.AST, **fields) -> ast.AST:
    changed = copy.copy(node)
    for name, value in fields.items():
        setattr(changed, name, value)
    return changed


def _changes(node: ast.AST) -> Iterator[ast.AST]:
    """The faults that one node may have."""
    match node:
        case ast.Compare():
            for index, operator in enumerate(node.ops):
                for other in COMPARISONS[type(operator)]:
                    yield _with(node, ops=[*node.ops[:index], other(), *node.ops[index + 1:]])
        case ast.BoolOp():
            yield _with(node, op=ast.And() if isinstance(node.op, ast.Or) else ast.Or())
        case ast.UnaryOp(op=ast.Not()):
            yield node.operand
        case ast.UnaryOp(op=ast.USub()):
            yield node.operand
        case ast.BinOp() if type(node.op) in SUMS:
            for other in SUMS[type(node.op)]:
                yield _with(node, op=other())
        case ast.AugAssign() if type(node.op) in SUMS:
            yield _with(node, op=SUMS[type(node.op)][0]())
        case ast.Constant(value=bool()):
            yield _with(node, value=not node.value)
        case ast.Constant(value=int() | float()):
            yield _with(node, value=node.value + 1)
            yield _with(node, value=node.value - 1)
        case ast.If() | ast.IfExp():
            for truth in (True, False):
                yield _with(node, test=ast.Constant(truth))
        case ast.Return(value=ast.AST() as value) if not (isinstance(value, ast.Constant) and value.value is None):
            yield _with(node, value=ast.Constant(None))
        case ast.Assign() | ast.Expr(value=ast.Call()):
            yield ast.copy_location(ast.Pass(), node)
        case ast.Continue():
            yield ast.copy_location(ast.Break(), node)
        case ast.Break():
            yield ast.copy_location(ast.Continue(), node)
