"""What checking a book costs, against a bare parse and a bare validation of the same files.

    python benchmarks/checking.py [PROCEDURES]

First run: at most 1.5 times the C parser's load of every file plus a full JSON Schema library's validation. Second run with
nothing changed: at most a fifth of the first. The shortest of a few runs counts; the others were disturbed.
"""

from __future__ import annotations

import json
import shutil
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import yaml
from jsonschema import Draft202012Validator
from referencing import Registry, Resource
from synthetic_book import write_book

from fettlebook.book import shapes
from fettlebook.book.cache import FOLDER
from fettlebook.check.command import checked

MOST_OVER_BARE, MOST_AGAIN = 1.5, 0.2


def shortest_s(work: Callable[[], object], times: int, before: Callable[[], object] = lambda: None) -> float:
    """The shortest of several runs [s of processor], each after BEFORE, which is not timed."""
    runs = []
    for _ in range(times):
        before()
        start = time.process_time()
        work()
        runs.append(time.process_time() - start)
    return min(runs)


def bare(files: list[Path]) -> None:
    """Load and validate every file, and nothing else."""
    resources = [
        (path.name, Resource.from_contents(json.loads(path.read_text(encoding="utf-8"))))
        for path in shapes.HERE.glob("*.json")
    ]
    validator = Draft202012Validator(shapes.schema("procedure"), registry=Registry().with_resources(resources))
    for path in files:
        content = yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader)
        assert not list(validator.iter_errors(content)), path


def main() -> int:
    """Print the times and their ratios; 1 when one of them is too large."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    root = Path(tempfile.mkdtemp())
    try:
        write_book(root, count)
        files = sorted((root / "procedures").glob("*.yml"))
        bare_s = shortest_s(lambda: bare(files), 2)
        first_s = shortest_s(lambda: checked(root), 2, lambda: shutil.rmtree(root / FOLDER, ignore_errors=True))
        again_s = shortest_s(lambda: checked(root), 3)
        findings, _ = checked(root)
        assert not [finding for finding in findings if not finding.mild], findings[:3]
    finally:
        shutil.rmtree(root)
    print(f"checking {count} procedures: bare parse and validation {bare_s:.2f} s, first run {first_s:.2f} s (ratio {first_s / bare_s:.2f}, "
          f"at most {MOST_OVER_BARE}), again {again_s:.3f} s (ratio {again_s / first_s:.3f}, at most {MOST_AGAIN})")  # fmt: skip
    return int(first_s > MOST_OVER_BARE * bare_s or again_s > MOST_AGAIN * first_s)


if __name__ == "__main__":
    raise SystemExit(main())
