"""What it costs to compile and check worksheets, against Python's own parse of the same formulas.

    python benchmarks/worksheets.py [WORKSHEETS]

Compiling is reading the formulas and writing the page's script, MathML, Typst's text and the line; checking is measuring their units,
holding plain numbers against them, and working the example. YAML is read before and not timed. The shortest of a few runs counts.
"""

from __future__ import annotations

import ast
import sys
import time
from collections.abc import Callable, Mapping
from pathlib import Path

from fettlebook.book.computed import Shop
from fettlebook.book.formula_writing import javascript, line, mathml, sign_of, typst
from fettlebook.book.formulas import formula
from fettlebook.book.strict_yaml import Map, read_file
from fettlebook.book.worksheet_assembly import worksheet

MOST_OVER_AST = 60
"""Times the bare parse that compiling and checking may take; about 30 are measured, on a busy machine more."""


def shortest_s(work: Callable[[], object], times: int = 3) -> float:
    """The shortest of several runs [s]."""
    runs = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        runs.append(time.perf_counter() - start)
    return min(runs)


def trees(count: int) -> list[Map]:
    """The demo's worksheets, over and over, COUNT of them; those that choose from a table take short lists instead.

    A table's rows are the table's cost and not the worksheet's.
    """
    folder = Path(__file__).parent.parent / "procedures" / "shop" / "worksheets"
    found = []
    for path in sorted(folder.glob("*.yml")):
        tree, _ = read_file(path, path.name)
        if not any(isinstance(one.get("choose"), Mapping) for one in tree["inputs"]):
            found.append(tree)
    return [found[n % len(found)] for n in range(count)]


def compiled(sources: list[str]) -> None:
    """Every formula read and written in every way."""
    for source in sources:
        node = formula(source)
        javascript(node), mathml(node, {}), typst(node, {}), line(node, lambda name: sign_of(name, {}))


def checked(sheets: list[Map], shop: Shop) -> None:
    """Every worksheet assembled and checked, without a fault."""
    for tree in sheets:
        _, findings = worksheet(tree, "one", "one.yml", shop)
        assert not findings, findings


def main() -> int:
    """Print times and ratios; 1 when compiling and checking takes too many times the bare parse."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    sheets, shop = trees(count), Shop({}, {})
    sources = [str(result["formula"]) for tree in sheets for result in tree["results"]]
    bare = shortest_s(lambda: [ast.parse(source, mode="eval") for source in sources])
    compiling = shortest_s(lambda: compiled(sources))
    checking = shortest_s(lambda: checked(sheets, shop))
    ratio = (compiling + checking) / bare
    print(f"{count} worksheets, {len(sources)} formulas; ast.parse alone {bare * 1000:.0f} ms")
    print(
        f"compiling {compiling * 1000:.0f} ms, {compiling / bare:.1f} times; checking {checking * 1000:.0f} ms, {checking / bare:.1f} times"
    )
    print(
        f"both {ratio:.1f} times ast.parse, at most {MOST_OVER_AST}; {(compiling + checking) / count * 1000:.2f} ms a worksheet"
    )
    return int(ratio > MOST_OVER_AST)


if __name__ == "__main__":
    sys.exit(main())
