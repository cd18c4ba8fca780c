"""Imports run one way through the house: data, tables, draw, book, check, pages and handout, plugin, cli."""

import ast
from pathlib import Path

import pytest

STREET = [{"data"}, {"tables"}, {"draw"}, {"book"}, {"check"}, {"pages", "handout"}, {"plugin"}, {"cli"}]
PLACE = {house: n for n, houses in enumerate(STREET) for house in houses}
SOURCE = Path(__file__).parent.parent / "generator" / "fettlebook"


def imported(file):
    """Every name a file imports, in full, with its line."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((name.name, node.lineno) for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield from ((f"{'.' * node.level}{node.module or ''}.{name.name}", node.lineno) for name in node.names)


@pytest.mark.parametrize("file", sorted(SOURCE.rglob("*.py")), ids=lambda path: str(path.relative_to(SOURCE)))
def test_a_file_imports_only_from_houses_before_its_own(file):
    here = file.relative_to(SOURCE).parts[0].removesuffix(".py")
    for name, line in imported(file):
        assert not name.startswith("."), f"{file}:{line}: write the import in full, from fettlebook"
        assert name.split(".")[0] != "mkdocs" or here == "plugin", f"{file}:{line}: only plugin.py knows mkdocs"
        if name.startswith("fettlebook.") and name.split(".")[1] in PLACE and here in PLACE:
            there = name.split(".")[1]
            assert there == here or PLACE[there] < PLACE[here], f"{file}:{line}: {here} may not import {there}"
