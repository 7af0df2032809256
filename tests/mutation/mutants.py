"""The mutants of a file: cosmic-ray's, but for those that change no rule.

Left out by where they stand (`_spared`): annotations, types and what is only for a type checker,
decorators (what sort of value a class is, or that a result is kept), the bare star of a signature,
`__all__`, and what guards against our own mistakes (assert, assert_never, strict=
of zip). Left out by what they do: swaps of `==` and `is` of the same sense, and what no interpreter
takes.
"""

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random
from typing import Any

from tests.house.tree import source_of

_NAME_OF_A_TYPE = re.compile(r"_?[A-Z]\w*[a-z]\w*")
_SAME_SENSE = ("_Eq_Is", "_Is_Eq", "_NotEq_IsNot", "_IsNot_NotEq")
_LEAVES = {"number", "keyword"}
_OPERATORS = {"+", "-", "*", "/", "//", "%", "**", ">>", "<<", "|", "&", "^"}
_NODES = {"comparison", "factor", "not_test", "test", "except_clause"} | {
    *("if_stmt", "while_stmt", "for_stmt", "assert_stmt", "decorator")
}
_Place = tuple[int, int]


@dataclass(frozen=True, order=True)
class Mutant:
    """path: relative to the checkout; occurrence: of what the operator finds in the file.

    line: from 1; column: in characters, from 0.
    """

    path: Path
    line: int
    column: int
    operator: str
    occurrence: int

    @property
    def name(self) -> str:
        return f"{self.path}:{self.line}:{self.column} {self.operator}"


def mutants_of(path: Path) -> Iterator[Mutant]:
    """All of a file, in the order of the operators."""
    from cosmic_ray.ast import ast_nodes, get_ast
    from cosmic_ray.plugins import get_operator, operator_names

    source = source_of(path)
    spared = _spared(source)
    nodes = [node for node in ast_nodes(get_ast(source)) if _may_mutate(node)]
    for name in operator_names():
        kind = get_operator(name)
        if kind.arguments() or name.endswith(_SAME_SENSE):
            continue
        operator = kind()
        places = ((node, place) for node in nodes for place, _ in operator.mutation_positions(node))
        for occurrence, (node, (line, column)) in enumerate(places):
            spare = any(first <= (line, column) < last for first, last in spared)
            if not spare and not _is_bare_star(node):
                yield Mutant(path, line, column, name.partition("/")[2], occurrence)


def mutated(mutant: Mutant) -> str | None:
    """The file with the mutant in it; None if no interpreter takes it."""
    from cosmic_ray.mutating import mutate_code
    from cosmic_ray.plugins import get_operator

    operator = get_operator(f"core/{mutant.operator}")()
    source: str = mutate_code(source_of(mutant.path), operator, mutant.occurrence)
    try:
        compile(source, str(mutant.path), "exec", dont_inherit=True)
    except (SyntaxError, ValueError):
        return None
    return source


def drawn(paths: tuple[Path, ...], count: int, seed: int) -> tuple[int, list[tuple[Mutant, str]]]:
    """How many there are, and so many of them, each as likely, with the file that each makes."""
    everything = sorted(mutant for path in paths for mutant in mutants_of(path))
    found: list[tuple[Mutant, str]] = []
    for mutant in Random(seed).sample(everything, len(everything)):
        if len(found) == count:
            break
        source = mutated(mutant)
        if source is not None:
            found.append((mutant, source))
    return len(everything), found


def _may_mutate(node: Any) -> bool:
    if node.type == "operator":
        return node.value in _OPERATORS
    return node.type in _LEAVES or node.type in _NODES


def _is_bare_star(node: Any) -> bool:
    """Whether it is a bare star: which arguments go by name is no rule."""
    return node.parent is not None and node.parent.type == "parameters"


def _spared(source: str) -> list[tuple[_Place, _Place]]:
    lines = source.splitlines()

    def place(line: int, offset: int) -> _Place:
        return line, len(lines[line - 1].encode()[:offset].decode())

    tree = ast.parse(source)
    nodes = [node for found in ast.walk(tree) for node in _without_rule(found)]
    nodes += [node for node in tree.body if _is_name_of_type(node)]
    return [
        (
            # The sign before a decorator is no part of it.
            place(node.lineno, max(node.col_offset - 1, 0)),
            place(node.end_lineno or node.lineno, node.end_col_offset or 0),
        )
        for node in nodes
    ]


def _without_rule(node: ast.AST) -> Iterator[ast.expr | ast.stmt]:
    """Parts of a node that hold no rule."""
    match node:
        case ast.AnnAssign(annotation=annotation) | ast.arg(annotation=ast.expr() as annotation):
            yield annotation
        case ast.FunctionDef(returns=returns, decorator_list=decorators):
            yield from decorators if returns is None else (*decorators, returns)
        case ast.ClassDef(decorator_list=decorators):
            yield from decorators
        case ast.Assert():
            yield node
        case ast.If(test=ast.Name("TYPE_CHECKING"), body=body):
            yield node.test
            yield from body
        case ast.Assign(targets=[ast.Name("__all__")]):
            yield node
        case ast.Call(func=ast.Name("assert_never" | "cast")):
            yield node
        case ast.Call(func=ast.Name("zip"), keywords=keywords):
            yield from (word.value for word in keywords)


def _is_name_of_type(node: ast.stmt) -> bool:
    match node:
        case ast.Assign(targets=[ast.Name(name)]):
            return _NAME_OF_A_TYPE.fullmatch(name) is not None
    return False
