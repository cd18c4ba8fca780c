"""Runs the tests of tables/ and data/ on changed modules, each change in a forked process of its own, so that no file is touched.

First quickly: the tests are collected once, the change is put into the running modules (mutant_grafting.py), and the tests that run
the changed line are run, the shortest first. What they let through is tried again from the start, with tables/ and the tests loaded
anew, by every test that runs any part of the module.
"""

from __future__ import annotations

import importlib.abc
import importlib.util
import json
import os
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from mutant_grafting import forget_results, graft

LOADED_FIRST = ("pytest", "hypothesis", "numpy", "yaml", "jsonschema", "pint", "colour")
FOLDERS = ("tests/tables", "tests/data")
OPTIONS = (
    "-q",
    "-s",
    "-x",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:xdist",
    "--tb=no",
    "--assert=plain",
    "--hypothesis-profile=same",
)
DEFINITIONS = "tests/tables/test_contract.py"
"""Tests that look at what a module defines and run none of its lines."""
MOST_TIMES_LONGER, LEAST_LIMIT_S = 10, 30
LET_THROUGH, KILLED, BROKEN = 0, 1, 90
SETTLED = {0: LET_THROUGH, 1: KILLED, 2: KILLED, 5: LET_THROUGH}
"""pytest's ways to end: all passed, some failed, collecting failed (the module does not even load), nothing to run."""


def tables_of(root: Path) -> Path:
    return root / "generator" / "fettlebook" / "tables"


def child(work: Callable[[], int]) -> int:
    """The number of a forked process that does WORK, silently, and ends with the status it gives."""
    sys.stdout.flush()
    sys.stderr.flush()
    if pid := os.fork():
        return pid
    try:
        silent = os.open(os.devnull, os.O_WRONLY)
        os.dup2(silent, 1), os.dup2(silent, 2)
        os._exit(work())
    except BaseException:
        os._exit(BROKEN)


def limited(seconds: float) -> None:
    """Let this process use ten times the processor time that its tests take, and 4 GB."""
    limit = int(max(LEAST_LIMIT_S, MOST_TIMES_LONGER * seconds))
    resource.setrlimit(resource.RLIMIT_CPU, (limit, limit))
    resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))


def in_turn(sample: list[Any], work: Callable[[Any], int], jobs: int) -> Iterator[tuple[Any, str]]:
    """Each change with what became of it: killed, slow, let through, or a broken run."""
    waiting, running, begun = list(reversed(sample)), {}, time.monotonic()
    while waiting or running:
        while waiting and len(running) < jobs:
            one = waiting.pop()
            running[child(lambda one=one: work(one))] = one
        pid, status = os.wait()
        one = running.pop(pid)
        done = len(sample) - len(waiting) - len(running)
        if done % 50 == 0:
            print(f"{done} of {len(sample)} tried in {time.monotonic() - begun:.0f} s", file=sys.stderr, flush=True)
        if os.WIFSIGNALED(status):
            yield one, "slow"
        else:
            yield one, {LET_THROUGH: "let through", KILLED: "killed"}.get(os.WEXITSTATUS(status), "broken run")


def pytest_ends(*plugins: object) -> int:
    """pytest's exit status; tests made of random cases take the same ones each time."""
    import hypothesis
    import pytest

    hypothesis.settings.register_profile("same", derandomize=True, database=None, deadline=None)
    return int(pytest.main([*OPTIONS, *FOLDERS], [*plugins]))


class Knowledge:
    """Which tests run which line of which module, and how long each takes [s]."""

    def __init__(self, lines: dict[str, dict[str, list[str]]], seconds: dict[str, float]) -> None:
        self.lines, self.seconds = lines, seconds

    def near(self, one: Any, whole_module: bool = False) -> list[str]:
        """The tests that run the changed line, or else any of its module, or else all; the shortest first."""
        lines = self.lines.get(one.module, {})
        if not whole_module and str(one.line) in lines and lines[str(one.line)]:
            return self.shortest_first(lines[str(one.line)])
        about_definitions = {test for test in self.seconds if test.startswith(DEFINITIONS)}
        return self.shortest_first({test for found in lines.values() for test in found} | about_definitions)

    def shortest_first(self, tests: Any) -> list[str]:
        return sorted(tests, key=lambda test: (self.seconds.get(test, 0), test))


class Quick:
    """Takes over where pytest would run what it has collected."""

    def __init__(self, root: Path, sample: list[Any], jobs: int, into: Path) -> None:
        self.root, self.sample, self.jobs, self.into = root, sample, jobs, into

    def pytest_runtestloop(self, session):
        self.session, self.items = session, {item.nodeid: item for item in session.items}
        with tempfile.TemporaryDirectory() as folder:
            kept = Path(folder) / "map.json"
            _, status = os.waitpid(child(lambda: self.mapped(kept)), 0)
            if status:
                raise SystemExit("the tests fail before anything is changed")
            known = Knowledge(*json.loads(kept.read_text(encoding="utf-8")))
        _, status = os.waitpid(child(lambda: self.unchanged(known)), 0)
        if status:
            raise SystemExit("the tests fail when each module is replaced by itself")
        outcomes = []
        for one, outcome in in_turn(self.sample, lambda one: self.verdict(one, known), self.jobs):
            outcomes.append([self.sample.index(one), outcome])
            self.into.write_text(json.dumps([outcomes, known.lines, known.seconds]), encoding="utf-8")
        return True

    def run(self, tests: list[str], before: Callable[[str], None] = lambda _: None) -> int:
        """Run these tests in this order until one fails."""
        items = [self.items[test] for test in tests]
        for item, following in zip(items, [*items[1:], None], strict=True):
            before(item.nodeid)
            item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
            if self.session.testsfailed:
                return KILLED
        return LET_THROUGH

    def mapped(self, into: Path) -> int:
        """Write which tests run each line, and how long each takes."""
        import coverage

        counted = coverage.Coverage(data_file=None, include=[f"{tables_of(self.root)}/*"], config_file=False)
        begun = {}

        def before(test: str) -> None:
            begun[test] = time.process_time()
            counted.switch_context(test)

        counted.start()
        status = self.run(list(self.items), before)
        counted.stop()
        data = counted.get_data()
        lines = {Path(name).stem: {str(line): [one for one in tests if one] for line, tests in data.contexts_by_lineno(name).items()}
                 for name in data.measured_files()}  # fmt: skip
        ends = [*list(begun.values())[1:], time.process_time()]
        seconds = {test: end - start for (test, start), end in zip(begun.items(), ends, strict=True)}
        into.write_text(json.dumps([lines, seconds]), encoding="utf-8")
        return status

    def unchanged(self, known: Knowledge) -> int:
        """Every module replaced by itself, to see that replacing does no harm of its own."""
        for path in sorted(tables_of(self.root).glob("*.py")):
            if path.stem != "__init__":
                graft(sys.modules[f"fettlebook.tables.{path.stem}"], path.read_text(encoding="utf-8"))
        forget_results()
        return self.run(known.shortest_first(self.items))

    def verdict(self, one: Any, known: Knowledge) -> int:
        tests = known.near(one)
        limited(sum(known.seconds[test] for test in tests))
        try:
            graft(sys.modules[f"fettlebook.tables.{one.module}"], one.text)
        except Exception:
            return KILLED
        forget_results()
        return self.run(tests)


class Changed(importlib.abc.MetaPathFinder, importlib.abc.InspectLoader):
    """Gives a module another text when it is loaded."""

    def __init__(self, name: str, text: str, path: Path) -> None:
        self.name, self.text, self.path = name, text, path

    def find_spec(self, name, path=None, target=None):
        return importlib.util.spec_from_file_location(name, self.path, loader=self) if name == self.name else None

    def get_source(self, name):
        return self.text

    def exec_module(self, module):
        exec(compile(self.text, str(self.path), "exec"), module.__dict__)


class Only:
    """Lets pytest run these tests alone, in this order."""

    def __init__(self, wanted: list[str]) -> None:
        self.place = {name: n for n, name in enumerate(wanted)}

    def pytest_collection_modifyitems(self, items):
        items[:] = sorted((i for i in items if i.nodeid in self.place), key=lambda i: self.place[i.nodeid])


def anew(root: Path, one: Any, known: Knowledge) -> int:
    """The verdict with everything loaded anew."""
    tests = known.near(one, whole_module=True)
    limited(60 + sum(known.seconds[test] for test in tests))
    sys.meta_path.insert(0, Changed(f"fettlebook.tables.{one.module}", one.text, tables_of(root) / f"{one.module}.py"))
    return SETTLED.get(pytest_ends(Only(tests)), BROKEN)


def tried(root: Path, sample: list[Any], jobs: int) -> Iterator[tuple[Any, str]]:
    """Each change with what became of it."""
    os.environ |= {"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"}
    sys.dont_write_bytecode = True
    os.chdir(root)
    for name in LOADED_FIRST:
        importlib.import_module(name)
    from fettlebook import data

    for path in data.HERE.glob("*.yml"):
        data.read(path.stem)
    with tempfile.TemporaryDirectory() as folder:
        kept = Path(folder) / "outcomes.json"
        sys.stdout.flush()
        if (pid := os.fork()) == 0:
            ends = pytest_ends(Quick(root, sample, jobs, kept))
            sys.stdout.flush()
            os._exit(ends)
        os.waitpid(pid, 0)
        outcomes, lines, seconds = json.loads(kept.read_text(encoding="utf-8"))
    known = Knowledge(lines, seconds)
    assert len(outcomes) == len(sample), "some changes were not tried"
    yield from ((sample[n], outcome) for n, outcome in outcomes if outcome != "let through")
    yield from in_turn(
        [sample[n] for n, outcome in outcomes if outcome == "let through"], lambda one: anew(root, one, known), jobs
    )
