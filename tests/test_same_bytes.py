"""Same input, same bytes: folder, time zone, hash seed, locale, cache and a source tree that nothing may be written to."""

import os
import shutil
from pathlib import Path

HERE = Path(__file__).parent
ONE = {"TZ": "UTC", "PYTHONHASHSEED": "1", "LC_ALL": "C", "LANG": "C"}
OTHER = {
    "TZ": "Pacific/Auckland",
    "PYTHONHASHSEED": "4711",
    "LC_ALL": "de_DE.UTF-8",
    "LANG": "de_DE.UTF-8",
    "LANGUAGE": "de",
}


def book_in(folder, root):
    """A small book with a picture and a worksheet, and pages of its own."""
    shutil.copytree(HERE / "book" / "demo" / "procedures", folder / "procedures")
    (folder / "docs").mkdir()
    (folder / "docs" / "about.md").write_text("# About\n\nWords.\n", encoding="utf-8")
    shutil.copy(root / "mkdocs.yml", folder / "mkdocs.yml")
    return folder


def every_file(folder):
    return {path.relative_to(folder).as_posix(): path for path in folder.rglob("*") if path.is_file()}


def state(folder):
    return {name: (path.read_bytes(), path.stat().st_mtime_ns) for name, path in every_file(folder).items()}


def test_two_builds_are_equal_to_the_last_byte(root, tmp_path, fettlebook):
    one = book_in(tmp_path / "one", root)
    other = book_in(tmp_path / "a longer name" / "other", root)
    for path in other.rglob("*"):
        path.chmod(0o555 if path.is_dir() else 0o444)
    (other / "procedures").parent.chmod(0o555)
    before = {name: kept for name, kept in state(other).items() if not name.startswith(".")}

    first = fettlebook("build", "--book", str(one), "--into", str(tmp_path / "site-1"), env={**os.environ, **ONE})
    second = fettlebook("build", "--book", str(other), "--into", str(tmp_path / "site-2"), env={**os.environ, **OTHER})
    again = fettlebook("build", "--book", str(one), "--into", str(tmp_path / "site-3"), env={**os.environ, **OTHER})
    other.chmod(0o755)
    for done in (first, second, again):
        assert done.returncode == 0, done.stderr

    made = every_file(tmp_path / "site-1")
    assert sum(name.endswith(".pdf") for name in made) > 3
    for site in ("site-2", "site-3"):
        twin = every_file(tmp_path / site)
        assert sorted(twin) == sorted(made)
        assert [name for name in made if twin[name].read_bytes() != made[name].read_bytes()] == [], site
    assert {name: kept for name, kept in state(other).items() if not name.startswith(".")} == before
