"""Whatever happens to a build, the old site is whole afterwards, and one line says what was wrong."""

import ctypes
import json
import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HERE = Path(__file__).parent


@pytest.fixture
def book(root, tmp_path):
    """A small book with an old site, in a folder of its own."""
    copy = tmp_path / "book"
    shutil.copytree(HERE / "book" / "demo" / "procedures", copy / "procedures")
    (copy / "docs").mkdir()
    (copy / "docs" / "about.md").write_text("# About\n\nWords.\n", encoding="utf-8")
    shutil.copy(root / "mkdocs.yml", copy / "mkdocs.yml")
    (copy / "site").mkdir()
    (copy / "site" / "index.html").write_text("the old site", encoding="utf-8")
    return copy


def assert_refused(done, book, *words):
    """Exit status 1, no traceback, the words somewhere, and the old site as it was with nothing beside it."""
    assert done.returncode == 1, done.stderr
    assert "Traceback" not in done.stderr
    assert all(word in done.stderr for word in words), done.stderr
    assert [path.name for path in (book / "site").iterdir()] == ["index.html"]
    assert (book / "site" / "index.html").read_text(encoding="utf-8") == "the old site"
    assert not [path.name for path in book.iterdir() if path.name.startswith(".site")]


def test_a_build_killed_at_any_moment_leaves_a_whole_site(book):
    shutil.rmtree(book / "site")
    done = subprocess.run(
        [sys.executable, HERE / "killing.py", book, "6", "1"], capture_output=True, text=True, timeout=400
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout)
    assert len(told["found"]) == 6 and set(told["found"]) <= {"old", "new"}, told
    assert "old" in told["found"], "no build was killed before it was done"
    assert told["last"] and told["left"] == [], told


def test_a_full_disk_is_said_in_one_line(book, fettlebook):
    """A limit on the size of files stands for the full disk: a write fails in the midst of the site."""
    limit = 40_000

    def small_files():
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    done = fettlebook("build", "--without-sheets", "--book", str(book), preexec_fn=small_files)
    assert_refused(done, book, "File too large", "the site is left as it was")
    assert len(done.stderr.strip().splitlines()) == 1, done.stderr


def test_a_link_that_leads_nowhere_is_said_in_one_line(book, fettlebook):
    (book / "procedures" / "lost.yml").symlink_to(book / "nowhere.yml")
    done = fettlebook("build", "--book", str(book))
    assert_refused(done, book, "procedures/lost.yml", "or nowhere", "The site is left as it was.")


def test_a_folder_that_is_a_link_is_not_passed_over_in_silence(book, fettlebook, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    (book / "procedures" / "more").symlink_to(tmp_path / "elsewhere")
    done = fettlebook("build", "--book", str(book))
    assert_refused(done, book, "procedures/more", "is a link")


def as_anybody():
    """For root, who may read everything: what is started from here may not (capabilities(7), CAP_DAC_OVERRIDE and CAP_DAC_READ_SEARCH)."""
    drop_from_bounding_set = 24
    for capability in (1, 2):
        if os.getuid() == 0 and ctypes.CDLL(None, use_errno=True).prctl(drop_from_bounding_set, capability, 0, 0, 0):
            raise OSError(ctypes.get_errno(), "a capability cannot be given up")


@pytest.mark.parametrize("name", ["leaks/find-a-leak.yml", "leaks"])
def test_what_may_not_be_read_is_said_in_one_line(book, fettlebook, name):
    path = book / "procedures" / name
    path.chmod(0)
    done = fettlebook("build", "--book", str(book), preexec_fn=as_anybody)
    path.chmod(0o755)
    assert_refused(done, book, f"procedures/{name}", "cannot be read")


def test_what_cannot_be_read_is_said_in_one_line(book, monkeypatch):
    """The same for whoever may read everything: the reading itself fails."""
    from fettlebook.book.load import load

    bad = book / "procedures" / "leaks" / "find-a-leak.yml"
    true_open = Path.open

    def refusing(path, *args, **kwargs):
        if path == bad:
            raise PermissionError(13, "Permission denied", str(path))
        return true_open(path, *args, **kwargs)

    monkeypatch.setattr(Path, "open", refusing)
    _, findings = load(book)
    lines = [str(one.what) for one in findings if one.place.file == "procedures/leaks/find-a-leak.yml"]
    assert len(lines) == 1 and "cannot be read" in lines[0] and "Permission denied" in lines[0]


def test_a_site_that_may_not_be_written_is_said_in_one_line(book, fettlebook):
    (book / "file").write_text("no folder", encoding="utf-8")
    done = fettlebook("build", "--without-sheets", "--book", str(book), "--into", str(book / "file" / "site"))
    assert_refused(done, book, "file", "the site is left as it was")
    assert len(done.stderr.strip().splitlines()) == 1


def test_a_reader_who_has_seen_enough_gets_no_traceback():
    command = [sys.executable, "-c", "from fettlebook.cli import main; raise SystemExit(main(['tables']))"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        running.stdout.close()
        assert running.stderr.read() == b""
    assert running.returncode == 0
