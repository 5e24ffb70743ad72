"""A formula written once: shown as plain text and as MathML, with symbols or with the numbers put in, and evaluated to prove it.

A formula is an equation in Python's own notation, `V = pi/4 * n * mean(B**2) * S / 1000`, in the units its recipe names.
Angles are the exception: they are evaluated in radians, and `deg` is the sign °, so that `180*deg` reads 180°.
"""

from __future__ import annotations

import ast
import html
import math
from collections.abc import Mapping, Sequence
from functools import cache

from dossier.model.symbols import symbol_mathml as symbol_mathml
from dossier.model.symbols import symbol_text as symbol_text

_RANK = {ast.Add: 1, ast.Sub: 1, ast.Mult: 2, ast.Div: 2, ast.Pow: 4}
_FUNCTIONS = ("sin", "cos", "tan", "asin", "acos", "atan")
_SPELT = {"asin": "arcsin", "acos": "arccos", "atan": "arctan", "Phi": "Φ", "integral": "∫"}

Numbers = Mapping[str, Sequence[str]]
"""For each symbol, the numbers put in for it, as printed, angles with their sign (27.2°); several where they are gathered over cylinders."""


@cache
def _parsed(formula: str) -> tuple[str, ast.expr]:
    left, _, right = formula.partition("=")
    return left.strip(), ast.parse(right.strip(), mode="eval").body


def symbols(formula: str) -> list[str]:
    """The symbols on the right-hand side, sorted; constants and functions left out."""
    _, tree = _parsed(formula)
    called = {node.func.id for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)}
    names = {node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
    return sorted(names - called - {"pi", "deg"})


def plain(formula: str, numbers: Numbers | None = None) -> str:
    """The formula as plain text; with `numbers` given, only the right-hand side with the numbers put in."""
    left, tree = _parsed(formula)
    right = _Plain(numbers).show(tree)
    return right if numbers is not None else f"{symbol_text(left)} = {right}"


def mathml(formula: str, numbers: Numbers | None = None) -> str:
    """The formula as one MathML element; with `numbers` given, the same with the numbers put in."""
    left, tree = _parsed(formula)
    body = f"{symbol_mathml(left)}<mo>=</mo>{_MathML(numbers).show(tree)}"
    return f'<math displaystyle="true"><mrow>{body}</mrow></math>'


def evaluate(formula: str, given: Mapping[str, float | Sequence[float]]) -> float:
    """The right-hand side worked out on floats, for checking a recipe's function against the formula printed for it."""
    _, tree = _parsed(formula)
    scope: dict[str, object] = {
        **{name: getattr(math, name) for name in (*_FUNCTIONS, "sqrt", "floor", "ceil", "pi")},
        "deg": math.pi / 180, "abs": abs, "max": max, "min": min, **given,
    }  # fmt: skip
    expression = ast.Expression(_Spread(given).visit(ast.parse(ast.unparse(tree), mode="eval").body))
    ast.fix_missing_locations(expression)
    return float(eval(compile(expression, "<formula>", "eval"), {"__builtins__": {}}, scope))  # our own recipes only


class _Spread(ast.NodeTransformer):
    """Replace sum(…) and mean(…) by the sum over gathered inputs."""

    def __init__(self, given: Mapping[str, float | Sequence[float]]) -> None:
        self.given = given

    def visit_Call(self, node: ast.Call) -> ast.expr:
        self.generic_visit(node)
        if not isinstance(node.func, ast.Name) or node.func.id not in ("sum", "mean", "largest", "smallest"):
            return node
        names = {n.id for n in ast.walk(node) if isinstance(n, ast.Name)}
        many = {name: value for name in names if isinstance(value := self.given.get(name), Sequence)}
        count = max((len(value) for value in many.values()), default=1)
        parts = [_Indexed(many, i).visit(ast.parse(ast.unparse(node.args[0]), mode="eval").body) for i in range(count)]
        if node.func.id in ("largest", "smallest"):
            return ast.Call(ast.Name("max" if node.func.id == "largest" else "min", ast.Load()), [ast.List(parts, ast.Load())], [])
        total = parts[0]
        for part in parts[1:]:
            total = ast.BinOp(total, ast.Add(), part)
        return total if node.func.id == "sum" else ast.BinOp(total, ast.Div(), ast.Constant(count))


class _Indexed(ast.NodeTransformer):
    """Replace each gathered symbol by its i-th number."""

    def __init__(self, many: Mapping[str, Sequence[float]], i: int) -> None:
        self.many, self.i = many, i

    def visit_Name(self, node: ast.Name) -> ast.expr:
        return ast.Constant(self.many[node.id][self.i]) if node.id in self.many else node


class _Shown:
    """Walks a formula and joins what its subclass makes of each part."""

    def __init__(self, numbers: Numbers | None) -> None:
        self.numbers = numbers
        self.at: int | None = None

    def show(self, node: ast.expr) -> str:
        match node:
            case ast.Constant(value=value):
                return self.number(f"{value:,}" if isinstance(value, int) and value >= 10_000 else str(value))
            case ast.Name(id=name):
                return self.name(name)
            case ast.UnaryOp(operand=operand):
                return self.operator("−") + self.inside(operand, 3)
            case ast.BinOp(left=left, op=ast.Mult(), right=ast.Name(id="deg")):
                return self.degrees(self.show(left))
            case ast.BinOp(left=left, op=op, right=right):
                return self.binary(left, op, right)
            case ast.Call(func=ast.Name(id=name), args=args):
                return self.call(name, args)
        raise TypeError(f"a formula cannot hold {ast.dump(node)}")

    def inside(self, node: ast.expr, rank: int) -> str:
        """Shown in brackets where its operator binds less than `rank`."""
        low = isinstance(node, ast.BinOp) and _RANK[type(node.op)] < rank
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "sum" and self.numbers is None:
            low = rank > 1
        if isinstance(node, ast.Name) and rank > 1:  # a minus or a sign of degrees cannot stand bare beside an operator
            low = self.is_negative(node) or (rank > _RANK[ast.Pow] and (self.put_in(node.id) or "").endswith("°"))
        return self.bracket(self.show(node)) if low or (isinstance(node, ast.UnaryOp) and rank > 1) else self.show(node)

    def over_all(self, argument: ast.expr) -> list[str]:
        """The argument of a sum once for each number put in."""
        names = [n.id for n in ast.walk(argument) if isinstance(n, ast.Name)]
        count = max((len((self.numbers or {}).get(name, ())) for name in names), default=1)
        shown = []
        for self.at in range(count):
            shown.append(self.inside(argument, 2))
        self.at = None
        return shown

    def put_in(self, name: str) -> str | None:
        """The number put in for a symbol, or None when symbols are shown."""
        if self.numbers is None or name not in self.numbers:
            return None
        values = self.numbers[name]
        return values[min(self.at or 0, len(values) - 1)] if self.at is not None or len(values) == 1 else ", ".join(values)

    def is_negative(self, node: ast.expr) -> bool:
        """Whether a negative number is put in here."""
        return isinstance(node, ast.Name) and (self.put_in(node.id) or "").startswith(("-", "−"))

    def number(self, text: str) -> str:
        raise NotImplementedError

    def name(self, name: str) -> str:
        raise NotImplementedError

    def operator(self, sign: str) -> str:
        raise NotImplementedError

    def bracket(self, inner: str) -> str:
        raise NotImplementedError

    def degrees(self, inner: str) -> str:
        raise NotImplementedError

    def binary(self, left: ast.expr, op: ast.operator, right: ast.expr) -> str:
        raise NotImplementedError

    def call(self, name: str, args: list[ast.expr]) -> str:
        raise NotImplementedError


class _Plain(_Shown):
    def number(self, text: str) -> str:
        return text

    def name(self, name: str) -> str:
        return self.put_in(name) or symbol_text(name)

    def operator(self, sign: str) -> str:
        return sign

    def bracket(self, inner: str) -> str:
        return f"({inner})"

    def degrees(self, inner: str) -> str:
        return f"{inner}°"

    def binary(self, left: ast.expr, op: ast.operator, right: ast.expr) -> str:
        rank = _RANK[type(op)]
        if isinstance(op, ast.Pow):
            foot = self.inside(right, 5)
            raised = {"2": "²", "3": "³"}.get(foot, f"^{foot}")
            base = self.inside(left, 5)
            return f"({base}){raised}" if base.startswith(("-", "−")) else f"{base}{raised}"
        sign = {ast.Add: " + ", ast.Sub: " − ", ast.Mult: "·", ast.Div: "/"}[type(op)]
        after = rank + (1 if isinstance(op, (ast.Sub, ast.Div)) or self.is_negative(right) else 0)
        return f"{self.inside(left, rank)}{sign}{self.inside(right, after)}"

    def call(self, name: str, args: list[ast.expr]) -> str:
        if name in ("sum", "mean") and self.numbers is not None:
            parts = self.over_all(args[0]) or [self.number("0")]
            joined = " + ".join(parts) if len(parts) > 1 else parts[0]
            joined = f"({joined})" if len(parts) > 1 else joined
            return f"{joined}/{len(parts)}" if name == "mean" and len(parts) > 1 else joined
        shown = ", ".join(self.over_all(args[0]) if name in ("largest", "smallest") and self.numbers is not None else map(self.show, args))
        match name:
            case "sqrt":
                return f"√({shown})"
            case "floor":
                return f"⌊{shown}⌋"
            case "abs":
                return f"|{shown}|"
            case "sum":
                return f"Σ {shown}"
            case _:
                return f"{_SPELT.get(name, name)}({shown})"


class _MathML(_Shown):
    def number(self, text: str) -> str:
        return f"<mn>{html.escape(text)}</mn>"

    def name(self, name: str) -> str:
        shown = self.put_in(name)
        if shown is None:
            return symbol_mathml(name)
        return self.degrees(self.number(shown[:-1])) if shown.endswith("°") and "," not in shown else self.number(shown)

    def operator(self, sign: str) -> str:
        return f"<mo>{sign}</mo>"

    def bracket(self, inner: str) -> str:
        return f"<mrow><mo>(</mo>{inner}<mo>)</mo></mrow>"

    def degrees(self, inner: str) -> str:
        return f"<mrow>{inner}<mo>°</mo></mrow>"

    def binary(self, left: ast.expr, op: ast.operator, right: ast.expr) -> str:
        if isinstance(op, (ast.Mult, ast.Div)):
            above, below = _factors(ast.BinOp(left, op, right))
            return f"<mfrac><mrow>{self.product(above)}</mrow><mrow>{self.product(below)}</mrow></mfrac>" if below else self.product(above)
        if isinstance(op, ast.Pow):
            return f"<msup><mrow>{self.inside(left, 5)}</mrow><mrow>{self.show(right)}</mrow></msup>"
        sign = self.operator("+" if isinstance(op, ast.Add) else "−")
        return f"{self.inside(left, 1)}{sign}{self.inside(right, 2 if isinstance(op, ast.Sub) or self.is_negative(right) else 1)}"

    def product(self, factors: list[ast.expr]) -> str:
        """Factors side by side: a thin space between symbols, a dot where numbers stand next to one another."""
        alone = len(factors) == 1
        shown = [self.show(one) if alone else self.inside(one, 2) for one in factors]
        digits = self.numbers is not None or sum(isinstance(one, ast.Constant) for one in factors) > 1
        return (self.operator("·") if digits else '<mspace width="0.16em"/>').join(shown)

    def call(self, name: str, args: list[ast.expr]) -> str:
        if name in ("sum", "mean") and self.numbers is not None:
            parts = self.over_all(args[0]) or [self.number("0")]
            joined = "<mo>+</mo>".join(parts)
            if len(parts) == 1:
                return joined
            return f"<mfrac><mrow>{joined}</mrow><mn>{len(parts)}</mn></mfrac>" if name == "mean" else self.bracket(joined)
        many = name in ("largest", "smallest") and self.numbers is not None
        shown = "<mo>,</mo>".join(self.over_all(args[0]) if many else map(self.show, args))
        match name:
            case "sqrt":
                return f"<msqrt>{shown}</msqrt>"
            case "floor":
                return f"<mrow><mo>⌊</mo>{shown}<mo>⌋</mo></mrow>"
            case "abs":
                return f"<mrow><mo>|</mo>{shown}<mo>|</mo></mrow>"
            case "sum":
                return f"<mrow><mo>Σ</mo>{self.inside(args[0], 2)}</mrow>"
            case "mean":
                return f"<mover><mrow>{shown}</mrow><mo>¯</mo></mover>"
            case _ if name in _FUNCTIONS and isinstance(args[0], ast.Name):
                return f'<mrow><mi>{_SPELT.get(name, name)}</mi><mspace width="0.16em"/>{shown}</mrow>'
            case _:
                return f"<mrow><mi>{_SPELT.get(name, name)}</mi>{self.bracket(shown)}</mrow>"


def _factors(node: ast.expr) -> tuple[list[ast.expr], list[ast.expr]]:
    """The factors of a product above and below the line, so that a chain of divisions becomes one fraction."""
    if isinstance(node, ast.BinOp) and isinstance(node.op, (ast.Mult, ast.Div)) and not _is_degrees(node):
        above, below = _factors(node.left)
        more, less = _factors(node.right) if not isinstance(node.op, ast.Div) else _factors(node.right)[::-1]
        return above + more, below + less
    return [node], []


def _is_degrees(node: ast.BinOp) -> bool:
    return isinstance(node.right, ast.Name) and node.right.id == "deg"
