"""Does a wrong number fail a test? A random sample of small changes in generator/fettlebook/tables/, and how many the tests notice.

    make mutants                                                   ten changes a module, in some tens of minutes
    python benchmarks/mutants.py [--each N] [--seed N] [--jobs N] [--only MODULE ...] [--again FILE]

Same seed, same sample: places first, then one change a place. Changes are those of cosmic-ray that stay of a kind (+ for -, < for
<=, and for or, True for False, a condition turned round, a loop left out), and for a number its last written digit by one, which is
harder to notice than the whole unit that cosmic-ray takes. Left alone is what works out no figure: type annotations, decorators,
whether zip looks for a mistake of the program (strict), how near a wrong name must be for a guess, and how many letters of a wrong
text a message quotes.
Each change is tried with the tests of tables/ and data/ (mutant_runs.py). A run that takes ten times as long as it should
counts as noticed. equivalent_mutants.yml lists changes that no test can notice, each with the reason.
"""

from __future__ import annotations

import argparse
import ast
import json
import random
import re
import sys
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import yaml

ROOT = Path(__file__).parent.parent
TABLES = ROOT / "generator" / "fettlebook" / "tables"
sys.path.append(str(ROOT / "build" / "mutants"))  # cosmic-ray is put there by `make mutants`; it is no part of .venv

from mutant_runs import tried  # noqa: E402

LEAST_KILLED = 0.9
LIKE = [
    {"Add", "Sub", "Mul", "Div", "FloorDiv", "Mod", "Pow"},
    {"Eq", "NotEq", "Lt", "LtE", "Gt", "GtE"},
    {"Is", "IsNot"},
]
ALSO = {"AddNot", "ReplaceTrueWithFalse", "ReplaceFalseWithTrue", "ReplaceAndWithOr", "ReplaceOrWithAnd", "ReplaceBreakWithContinue",
        "ReplaceContinueWithBreak", "ZeroIterationForLoop", "ReplaceUnaryOperator_Delete_Not", "ReplaceUnaryOperator_Delete_USub"}  # fmt: skip


@dataclass(frozen=True)
class Mutant:
    """One change: the line before and after it, and the whole changed text of the module."""

    module: str
    line: int
    before: str
    after: str
    text: str


def operators() -> dict[str, object]:
    """The changes of cosmic-ray that stay of a kind, and our own for numbers, by name."""
    import parso
    from cosmic_ray.operators.number_replacer import NumberReplacer
    from cosmic_ray.operators.provider import OperatorProvider

    class LastDigit(NumberReplacer):
        """A number changed by one in its last written digit."""

        def mutate(self, node, index):
            return parso.python.tree.Number(last_digit_changed(node.value, (1, -1)[index]), node.start_pos, node.prefix)

    def of_a_kind(name: str) -> bool:
        words = name.split("_")[1:]
        return name in ALSO or len(words) == 2 and any(set(words) <= kind for kind in LIKE)

    provider = OperatorProvider()
    return {"LastDigit": LastDigit()} | {name: provider[name]() for name in provider if of_a_kind(name)}


def last_digit_changed(written: str, by: int) -> str:
    """WRITTEN with its last digit moved BY one.

    >>> last_digit_changed("0.25", 1), last_digit_changed("1e-9", -1), last_digit_changed("10_000", 1), last_digit_changed("0", -1)
    ('0.26', '0.9e-9', '10001', '-1')
    """
    mantissa, e, exponent = re.fullmatch(r"([^eE]+)([eE]?)(.*)", written.replace("_", "")).groups()  # type: ignore[union-attr]
    _, point, decimals = mantissa.partition(".")
    if e and mantissa == "1" and by < 0:
        return f"0.9{e}{exponent}"
    changed = int(mantissa.replace(".", "")) + by
    return (f"{changed / 10 ** len(decimals):.{len(decimals)}f}" if point else str(changed)) + e + exponent


def left_alone(tree: ast.AST) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """From where to where nothing is changed, since it works out no figure."""
    nodes: list[ast.AST | None] = []
    for node in ast.walk(tree):
        nodes += [getattr(node, "annotation", None), getattr(node, "returns", None)]
        nodes += getattr(node, "decorator_list", [])
        if isinstance(node, ast.keyword) and node.arg == "strict":
            nodes.append(node.value)
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "get_close_matches":
            nodes += node.args
        if isinstance(node, ast.FormattedValue):
            nodes += [
                part.slice
                for part in ast.walk(node)
                if isinstance(part, ast.Subscript) and isinstance(part.slice, ast.Slice)
            ]
    return [((n.lineno, n.col_offset), (n.end_lineno, n.end_col_offset)) for n in nodes if n is not None]  # type: ignore[attr-defined]


def mutants(path: Path, most: int, seed: int) -> Iterator[Mutant]:
    """At most MOST changes of the module at PATH, at places drawn by SEED."""
    from cosmic_ray.ast import ast_nodes, get_ast
    from cosmic_ray.mutating import mutate_code

    text = path.read_text(encoding="utf-8")
    unchanged = ast.parse(text)
    alone, chance = left_alone(unchanged), random.Random(f"{seed} {path.stem}")
    nodes = list(ast_nodes(get_ast(text)))
    places: dict[tuple[int, int], list[tuple[object, int]]] = {}
    for operator in operators().values():
        found = [start for node in nodes for start, _ in operator.mutation_positions(node)]  # type: ignore[attr-defined]
        for occurrence, start in enumerate(found):
            if not any(first <= start < last for first, last in alone):
                places.setdefault(start, []).append((operator, occurrence))
    taken = 0
    for place in chance.sample(sorted(places), len(places)):
        changed = mutate_code(text, *chance.choice(places[place]))
        try:
            same = ast.dump(ast.parse(changed)) == ast.dump(unchanged)
        except SyntaxError:
            continue
        if same:
            continue
        rows = zip(text.split("\n"), changed.split("\n"), strict=True)
        line, (before, after) = next((n, pair) for n, pair in enumerate(rows, 1) if pair[0] != pair[1])
        yield Mutant(path.stem, line, before.strip(), after.strip(), changed)
        if (taken := taken + 1) == most:
            return


def equivalent() -> dict[tuple[str, str, str], str]:
    """Why no test can notice a change, by module, line before and line after."""
    listed = yaml.safe_load((Path(__file__).parent / "equivalent_mutants.yml").read_text(encoding="utf-8")) or []
    return {(one["module"], one["before"], one["after"]): one["why"] for one in listed}


def main() -> int:
    """Print each change that was let through and the share that was noticed; 1 when it is too small."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--each", type=int, default=10)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--jobs", type=int, default=2)
    asked.add_argument("--only", nargs="*", default=[])
    asked.add_argument("--again", type=Path, help="only what an earlier run let through, from the file it wrote")
    asked.add_argument("--into", type=Path, default=ROOT / "build" / "mutants.json")
    given = asked.parse_args()
    modules = [path for path in sorted(TABLES.glob("*.py")) if not given.only or path.stem in given.only]
    sample = [one for path in modules for one in mutants(path, given.each, given.seed)]
    if given.again:
        open_still = [
            one for one in json.loads(given.again.read_text(encoding="utf-8")) if one["outcome"] == "let through"
        ]
        wanted = {(one["module"], one["line"], one["after"]) for one in open_still}
        sample = [one for one in sample if (one.module, one.line, one.after) in wanted]
    reasons, outcomes = equivalent(), []
    print(f"{len(sample)} changes in {len(modules)} modules, seed {given.seed}", flush=True)
    for one, outcome in tried(ROOT, sample, given.jobs):
        if outcome == "let through" and (one.module, one.before, one.after) in reasons:
            outcome = "equivalent"
        outcomes.append({**asdict(one), "outcome": outcome, "text": None})
        if outcome != "killed":
            print(f"{outcome}: {one.module}.py:{one.line}\n  - {one.before}\n  + {one.after}", flush=True)
        given.into.write_text(json.dumps(outcomes, indent=1), encoding="utf-8")
    number = {kind: sum(one["outcome"] == kind for one in outcomes) for kind in ("killed", "slow", "equivalent")}
    killed = number["killed"] + number["slow"]
    share = killed / max(1, len(outcomes) - number["equivalent"])
    print(f"noticed {killed} of {len(outcomes)} changes ({number['slow']} by taking too long), {number['equivalent']} more can't be noticed: "
          f"{share:.1%}, at least {LEAST_KILLED:.0%}")  # fmt: skip
    return int(share < LEAST_KILLED)


if __name__ == "__main__":
    raise SystemExit(main())
