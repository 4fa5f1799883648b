"""Small faults that a program can have: what each node of its syntax tree can be changed into.

A change makes a mutant. Texts are left alone unless they are keys; so are annotations, docstrings,
decorators, assertions, `__all__`, imports and what only a type checker reads.
"""

from __future__ import annotations

import ast
import hashlib
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

OPERATORS = """\
arithmetic   + and -, * and /, ** and *, // and /, % and * change places; a sign is lost
comparison   the boundary moves (< and <=), or it is turned round (< and >=, == and !=, in, is)
constant     a whole number grows by 1, another by a tenth (one below 1e-6 a thousandfold, 0 to 1),
             True and False change places
key          a text that is looked up or compared gets another letter
logic        and and or change places, a not is lost
condition    that of an if, a while or a filter is negated
returned     a number is off by a tenth, a truth negated, a text or collection empty, else None
argument     one that is named or the last is left out, two neighbours change places
function     min and max, any and all, floor and ceil, sin and cos change places, an abs is lost
statement    a call made for its effect is left out, break and continue change places
"""
ARITHMETIC: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub, ast.Sub: ast.Add, ast.Mult: ast.Div, ast.Div: ast.Mult,
    ast.Pow: ast.Mult, ast.FloorDiv: ast.Div, ast.Mod: ast.Mult,
}  # fmt: skip
BOUNDARY: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt,
}  # fmt: skip
OPPOSITE: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.GtE, ast.LtE: ast.Gt, ast.Gt: ast.LtE, ast.GtE: ast.Lt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.Is: ast.IsNot, ast.IsNot: ast.Is, ast.In: ast.NotIn, ast.NotIn: ast.In,
}  # fmt: skip
TWINS = {"min": "max", "any": "all", "floor": "ceil", "sin": "cos"}
TWINS |= {twin: name for name, twin in TWINS.items()}
KEY = re.compile(r"[a-z_][a-z0-9_.]*")
UNREAD_CALLS = {"cast", "TypeVar", "NewType"}  # only a type checker reads their first arguments
UNREAD_KEYWORDS = {"strict"}  # an assertion, as it were: zip(..., strict=True)
TINY = 1e-6  # below it a number is a tolerance, and a tenth of it is nothing


@dataclass(frozen=True)
class Mutant:
    """One change of one node; `node` and `variant` find it again in the file as it is."""

    path: str  # from the root of the project, with /
    line: int
    at: int  # line of the statement it stands in
    kind: str
    was: str
    became: str
    node: int
    variant: int
    place: str  # what keeps its rank in the draw when other parts of the file change

    def __str__(self) -> str:
        return f"{self.path}:{self.line}  {self.kind}: {self.was}  ->  {self.became}"

    @property
    def at_physics(self) -> bool:
        return self.path.startswith("calc/physics/")


@cache
def mutants(path: str, source: str) -> list[list[Mutant]]:
    """All mutants of a file, those of one node together."""
    tree = ast.parse(source)
    parents = _parents(tree)
    left_alone = _left_alone(tree)
    seen: dict[str, int] = {}
    found = []
    for number, node in enumerate(ast.walk(tree)):
        if id(node) in left_alone:
            continue
        made = list(_changes(node, parents))
        if not made:
            continue
        where = _shown(node)
        was = ast.unparse(where)
        place = f"{path} {_scope(node, parents)} {type(node).__name__} {was}"
        seen[place] = seen.get(place, 0) + 1
        lines = _line(where), _statement(node, parents).lineno
        found.append(
            [
                Mutant(path, *lines, kind, *_short(was, ast.unparse(_shown(new))), number, variant,
                       f"{place} {seen[place]} {variant}")
                for variant, (kind, new) in enumerate(made)
            ]
        )  # fmt: skip
    return found


def mutated(source: str, mutant: Mutant) -> ast.Module:
    """The syntax tree of the file with the one change made."""
    tree = ast.parse(source)
    node = next(node for number, node in enumerate(ast.walk(tree)) if number == mutant.node)
    kind, new = list(_changes(node, _parents(tree)))[mutant.variant]
    texts = _short(ast.unparse(_shown(node)), ast.unparse(_shown(new)))
    if (kind, *texts) != (mutant.kind, mutant.was, mutant.became):
        raise ValueError(f"{mutant.path} is not the file that this was taken from: {mutant}")
    _Exchange(node, ast.copy_location(new, node)).visit(tree)
    return ast.fix_missing_locations(tree)


def drawn(root: Path, physics: int, others: int, seed: int, only: str = "calc") -> list[Mutant]:
    """So many mutants of calc/physics and of the rest of `only`, the same for the same seed.

    Each node has a rank of its own, drawn from the seed and its place: a change of the sources
    exchanges the mutants of what was changed, and no others.
    """
    piles: dict[bool, list[tuple[str, list[Mutant]]]] = {True: [], False: []}
    for file in sorted((root / "calc").rglob("*.py")):
        path = file.relative_to(root).as_posix()
        if path.startswith(only):
            for variants in mutants(path, file.read_text(encoding="utf-8")):
                rank = hashlib.sha256(f"{seed} {variants[0].place}".encode()).hexdigest()
                piles[variants[0].at_physics].append((rank, variants))
    return [
        variants[int(rank[-8:], 16) % len(variants)]
        for pile, count in ((piles[True], physics), (piles[False], others))
        for rank, variants in sorted(pile, key=lambda ranked: ranked[0])[:count]
    ]


class _Exchange(ast.NodeTransformer):
    def __init__(self, old: ast.AST, new: ast.AST) -> None:
        self.old, self.new = old, new

    def visit(self, node: ast.AST) -> ast.AST:
        return self.new if node is self.old else self.generic_visit(node)


def _parents(tree: ast.AST) -> dict[int, ast.AST]:
    return {id(child): node for node in ast.walk(tree) for child in ast.iter_child_nodes(node)}


def _left_alone(tree: ast.Module) -> set[int]:
    alone: list[ast.AST] = []
    values: list[ast.AST] = []  # what is cast stays a value like any other
    for node in ast.walk(tree):
        match node:
            case ast.AnnAssign(annotation=kind) | ast.arg(annotation=kind) if kind is not None:
                alone.append(kind)
            case ast.FunctionDef(returns=kind) | ast.AsyncFunctionDef(returns=kind):
                alone += [*node.decorator_list, *([kind] if kind else [])]
            case ast.ClassDef():
                alone += [*node.decorator_list, *node.bases]
            case ast.Assert() | ast.Import() | ast.ImportFrom():
                alone.append(node)
            case ast.If(test) if re.search(r"TYPE_CHECKING|__name__", ast.unparse(test)):
                alone.append(node)
            case ast.Assign() if _is_for_readers(node):
                alone.append(node)
            case ast.keyword(arg) if arg in UNREAD_KEYWORDS:
                alone.append(node)
            case ast.Call(func) if _name(func) in UNREAD_CALLS:
                alone.append(node)
                values += node.args[1:]
    return _inside(alone) - _inside(values)


def _inside(nodes: list[ast.AST]) -> set[int]:
    return {id(part) for node in nodes for part in ast.walk(node)}


def _is_for_readers(node: ast.Assign) -> bool:
    """`__all__` and names of types: X = float | None, Y = Callable[...]."""
    if any(isinstance(target, ast.Name) and target.id == "__all__" for target in node.targets):
        return True
    value = node.value
    alias = isinstance(value, ast.BinOp) and isinstance(value.op, ast.BitOr)
    name = _name(value.value) if isinstance(value, ast.Subscript) else ""
    return alias or (name[:1].isupper() and not name.isupper())


def _changes(node: ast.AST, parents: dict[int, ast.AST]) -> Iterator[tuple[str, ast.AST]]:
    """Kind and new node of everything that this node can be changed into."""
    match node:
        case ast.BinOp(left, op, right) if type(op) in ARITHMETIC and not _is_text(left, right):
            yield "arithmetic", ast.BinOp(left, ARITHMETIC[type(op)](), right)
        case ast.AugAssign(target, op, value) if type(op) in ARITHMETIC and not _is_text(value):
            yield "arithmetic", ast.AugAssign(target, ARITHMETIC[type(op)](), value)
        case ast.UnaryOp(ast.USub(), operand):
            yield "arithmetic", operand
        case ast.UnaryOp(ast.Not(), operand):
            yield "logic", operand
        case ast.BoolOp(op, values):
            yield "logic", ast.BoolOp(ast.And() if isinstance(op, ast.Or) else ast.Or(), values)
        case ast.Compare():
            yield from _compared(node)
        case ast.Constant():
            yield from _constant(node, parents[id(node)])
        case ast.If(test) | ast.While(test) | ast.IfExp(test) if _is_plain(test):
            fields = {name: getattr(node, name) for name in node._fields}
            yield "condition", type(node)(**{**fields, "test": ast.UnaryOp(ast.Not(), test)})
        case ast.comprehension(target, source, tests, is_async) if any(map(_is_plain, tests)):
            turned = [ast.UnaryOp(ast.Not(), t) if _is_plain(t) else t for t in tests]
            yield "condition", ast.comprehension(target, source, turned, is_async)
        case ast.Return(value) if value is not None and not isinstance(value, ast.Constant):
            yield from _returned(value, node, parents)
        case ast.Call():
            yield from _called(node)
        case ast.Expr(ast.Call()):
            yield "statement", ast.Pass()
        case ast.Break():
            yield "statement", ast.Continue()
        case ast.Continue():
            yield "statement", ast.Break()


def _compared(node: ast.Compare) -> Iterator[tuple[str, ast.AST]]:
    for table in (BOUNDARY, OPPOSITE):
        for place, op in enumerate(node.ops):
            if type(op) in table:
                ops = [*node.ops[:place], table[type(op)](), *node.ops[place + 1 :]]
                yield "comparison", ast.Compare(node.left, ops, node.comparators)


def _constant(node: ast.Constant, parent: ast.AST) -> Iterator[tuple[str, ast.AST]]:
    value = node.value
    if isinstance(value, bool):
        yield "constant", ast.Constant(not value)
    elif isinstance(value, int):
        yield "constant", ast.Constant(value + 1)
    elif isinstance(value, float):
        larger = 1000 * value if abs(value) < TINY else 1.1 * value
        yield "constant", ast.Constant(larger or 1.0)
    elif isinstance(value, str) and KEY.fullmatch(value) and _is_key(node, parent):
        yield "key", ast.Constant(value + "x")


def _is_key(node: ast.Constant, parent: ast.AST) -> bool:
    looked_up = isinstance(parent, ast.Subscript) and parent.slice is node
    named = isinstance(parent, ast.Dict) and node in parent.keys
    return looked_up or named or isinstance(parent, ast.Compare)


def _is_plain(test: ast.expr) -> bool:
    """A test whose negation is no change of its own already."""
    if isinstance(test, ast.UnaryOp) and isinstance(test.op, ast.Not):
        return False
    return not (isinstance(test, ast.Compare) and len(test.ops) == 1)


def _returned(
    value: ast.expr, node: ast.AST, parents: dict[int, ast.AST]
) -> Iterator[tuple[str, ast.AST]]:
    function = parents[id(node)]
    while not isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
        function = parents[id(function)]
    kind = ast.unparse(function.returns) if function.returns else ""
    new: ast.expr = ast.Constant(None)
    if kind == "float":
        new = ast.BinOp(ast.Constant(1.1), ast.Mult(), value)
    elif kind == "int":
        new = ast.BinOp(ast.Constant(1), ast.Add(), value)
    elif kind == "bool":
        new = ast.UnaryOp(ast.Not(), value)
    elif kind == "str":
        new = ast.Constant("")
    elif match := re.match(r"(list|dict|set|tuple)\b(?!.*None)", kind):
        new = ast.Call(ast.Name(match[1], ast.Load()), [], [])
    if ast.unparse(new) != ast.unparse(value):
        yield "returned", ast.Return(new)


def _called(node: ast.Call) -> Iterator[tuple[str, ast.AST]]:
    func, args, named = node.func, node.args, node.keywords
    name = _name(func)
    if name in ("isinstance", "zip", "map"):  # with other arguments that is no call at all
        return
    if name in TWINS:
        twin = TWINS[name]
        is_plain = isinstance(func, ast.Name)
        new: ast.expr = ast.Name(twin, ast.Load()) if is_plain else _attribute(func, twin)
        yield "function", ast.Call(new, args, named)
    if name in ("abs", "fabs") and len(args) == 1:
        yield "function", args[0]
    plain = not any(isinstance(arg, ast.Starred) for arg in args)
    for place in range(len(args) - 1 if plain else 0):
        one, two = args[place : place + 2]
        if ast.unparse(one) != ast.unparse(two) and name not in TWINS:
            swapped = [*args[:place], two, one, *args[place + 2 :]]
            yield "argument", ast.Call(func, swapped, named)
    for place, keyword in enumerate(named):
        if keyword.arg is not None and keyword.arg not in UNREAD_KEYWORDS:
            yield "argument", ast.Call(func, args, [*named[:place], *named[place + 1 :]])
    if plain and len(args) > 1:
        yield "argument", ast.Call(func, args[:-1], named)


def _attribute(func: ast.expr, name: str) -> ast.Attribute:
    if not isinstance(func, ast.Attribute):
        raise TypeError(f"{ast.unparse(func)} is no attribute")
    return ast.Attribute(func.value, name, ast.Load())


def _name(func: ast.expr) -> str:
    if isinstance(func, ast.Attribute):
        return func.attr
    return func.id if isinstance(func, ast.Name) else ""


def _is_text(*nodes: ast.expr) -> bool:
    return any(
        isinstance(node, ast.JoinedStr)
        or (isinstance(node, ast.Constant) and isinstance(node.value, str))
        for node in nodes
    )


def _scope(node: ast.AST, parents: dict[int, ast.AST]) -> str:
    names: list[str] = []
    while id(node) in parents:
        node = parents[id(node)]
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            names.insert(0, node.name)
    return ".".join(names)


def _line(node: ast.AST) -> int:
    here = node.target if isinstance(node, ast.comprehension) else node
    return int(getattr(here, "lineno", 1))


def _statement(node: ast.AST, parents: dict[int, ast.AST]) -> ast.stmt:
    while not isinstance(node, ast.stmt):
        node = parents[id(node)]
    return node


def _shown(node: ast.AST) -> ast.AST:
    """The part of a node that a change of it changes."""
    return node.test if isinstance(node, ast.If | ast.While | ast.IfExp) else node


def _short(was: str, became: str) -> tuple[str, str]:
    """Both in one line, with what they share left out where it is long."""
    one, two = " ".join(was.split()), " ".join(became.split())
    same = 0
    while same < min(len(one), len(two)) and one[same] == two[same]:
        same += 1
    start = max(0, same - 40) if max(len(one), len(two)) > 90 else 0
    return _window(one, start), _window(two, start)


def _window(text: str, start: int) -> str:
    end = start + 90
    return f"{'... ' if start else ''}{text[start:end]}{' ...' if len(text) > end else ''}"
