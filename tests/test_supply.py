"""What the book is built with: every release pinned with hashes, every licence listed, and the files for services well-formed."""

import re
import tomllib

import pytest
import yaml
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from fettlebook.cli import parser


@pytest.fixture(scope="module")
def locked(root):
    """Version and number of hashes by name."""
    pinned = {}
    for block in re.split(r"\n(?=\S)", (root / "setup" / "locked.txt").read_text(encoding="utf-8")):
        if match := re.match(r"([A-Za-z0-9._-]+)==(\S+)", block):
            pinned[canonicalize_name(match[1])] = match[2], len(re.findall(r"--hash=sha256:[0-9a-f]{64}", block))
    return pinned


def test_each_dependency_is_pinned_within_its_bounds(root, locked):
    about = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    asked = [
        *about["build-system"]["requires"],
        *about["project"]["dependencies"],
        *about["project"]["optional-dependencies"]["dev"],
    ]
    for one in map(Requirement, asked):
        version, _ = locked.get(canonicalize_name(one.name), (None, 0))
        assert version, f"{one.name} is not in setup/locked.txt; run `make lock`"
        assert one.specifier.contains(version, prereleases=True), f"{one} is pinned at {version}; run `make lock`"


def test_each_pinned_release_has_the_hashes_of_its_files(locked):
    assert len(locked) > 40
    assert [name for name, (_, hashes) in locked.items() if not hashes] == []


def test_each_pinned_release_has_its_licence_listed(root, locked):
    listed = {
        canonicalize_name(row.split("|")[1].strip()): row.split("|")[3].strip()
        for row in (root / "THIRD-PARTY.md").read_text(encoding="utf-8").split("\n")
        if row.startswith("| ") and row.count("|") == 5
    }
    assert [name for name in locked if not listed.get(name) and name not in {"setuptools", "colorama"}] == []
    stated_below = {"axe-playwright-python"}
    assert {name for name, licence in listed.items() if licence.upper() in {"UNKNOWN", "SEE BELOW", ""}} <= stated_below


def test_the_hook_and_the_workflow_run_commands_that_there_are(root):
    hooks = yaml.safe_load((root / ".pre-commit-hooks.yaml").read_text(encoding="utf-8"))
    steps = yaml.safe_load((root / ".github/workflows/pages.yml").read_text(encoding="utf-8"))["jobs"]["site"]["steps"]
    runs = [hook["entry"] for hook in hooks] + [step["run"] for step in steps if "run" in step]
    commands = [run.split("fettlebook ")[1].split() for run in runs if "fettlebook " in run]
    assert [command[0] for command in commands] == ["check", "check", "build"]
    for command in commands:
        parser().parse_args(command)  # leaves with an error if a command or an option is not there
    assert all((root / run.split()[1]).exists() for run in runs if "setup/" in run)
