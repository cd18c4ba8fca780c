"""The check as a command: find the book, run everything over it, say what was found."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from fettlebook.book.cache import Cache, digest, program_digest
from fettlebook.book.load import book_files, load
from fettlebook.book.places import Finding
from fettlebook.book.strict_yaml import LARGEST_FILE
from fettlebook.check import report, rules

DONE, FAULTS, WRONG_USE = 0, 1, 2


class NoBook(ValueError):
    """There is no book where one was looked for; the message says where."""


def run(paths: Sequence[str], json: bool = False, github: bool = False) -> int:
    """Check the book that PATHS belong to and print what is wrong in them (in all of it without any path).

    gives  0 without faults, 1 with faults, 2 if there is no book; advice alone is no fault
    """
    try:
        root = book_root(paths)
        findings, procedures = checked(root)
        findings = [finding for finding in findings if _asked_for(finding, paths, root)]
    except NoBook as fault:
        print(f"fettlebook: {fault}", file=sys.stderr)
        return WRONG_USE
    if json:
        print(report.as_json(findings))
    elif github:
        print(*report.as_annotations(findings), sep="\n")
    else:
        lines = report.report_lines(findings, root, report.wants_colour(sys.stdout))
        print(*lines, report.summary_line(findings, procedures), sep="\n")
    return FAULTS if any(not finding.mild for finding in findings) else DONE


def book_root(paths: Sequence[str]) -> Path:
    """The folder that holds procedures/: this one, a path itself, or the nearest above it. Raises NoBook."""
    roots = {_root_of(Path(path)) for path in paths or ["."]}
    if len(roots) > 1:
        raise NoBook("these paths belong to different books; check one at a time")
    return roots.pop()


def _root_of(path: Path) -> Path:
    try:
        if not path.exists():
            raise NoBook(f"there is no {path}")
        for folder in (path, *path.absolute().parents):
            if (folder / "procedures").is_dir():
                return folder
    except (OSError, ValueError) as fault:
        raise fault if isinstance(fault, NoBook) else NoBook(f"{path} cannot be looked at") from None
    raise NoBook(f"there is no folder procedures/ in {path.absolute()} or above it; go to the folder that holds it")


def _asked_for(finding: Finding, paths: Sequence[str], root: Path) -> bool:
    """Whether a finding is about one of PATHS (a file, or a folder and all in it)."""
    if not paths:
        return True
    file = (root / finding.place.file).absolute()
    return any(file == path or path in file.parents for path in (Path(one).absolute() for one in paths))


def checked(root: Path) -> tuple[list[Finding], int]:
    """Every finding in the book of ROOT, sorted, and the number of its procedures; from the cache if nothing has changed."""
    cache = Cache(root)
    key = digest(program_digest(), *_everything(root))
    kept = cache.get(key)
    if kept is None:
        book, findings = load(root, cache)
        kept = sorted({*findings, *rules.findings(book)}), len(book.procedures) + len(book.damaged)
        cache.put(key, kept)
    return kept


def _everything(root: Path) -> Iterable[str | bytes]:
    """All that findings depend on: files with their content, pictures with their size and time, what links lead to."""
    for name, path in book_files(root):
        yield name
        try:
            yield str(path.resolve()) if path.is_symlink() else ""
            yield path.read_bytes() if path.stat().st_size <= LARGEST_FILE else "large"
        except (OSError, RuntimeError):
            yield "unreadable"
    for path in sorted((root / "procedures").rglob("*")):
        if path.suffix.lower() in {".png", ".jpg", ".jpeg", ".webp"}:
            yield from _state(path)


def _state(path: Path) -> tuple[str, Any]:
    try:
        found = path.stat()
        return str(path), f"{found.st_size} {found.st_mtime_ns} {path.is_symlink()}"
    except OSError:
        return str(path), "unreadable"
