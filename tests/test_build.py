"""The build as a person runs it: a failed one leaves the old site as it was, and a new procedure needs no Python."""

import json
import shutil

import pytest


@pytest.fixture
def book(root, tmp_path):
    """A copy of the demo book in a folder of its own, small enough to build in a moment."""
    copy = tmp_path / "book"
    shutil.copytree(root / "procedures", copy / "procedures")
    shutil.copytree(root / "docs", copy / "docs")
    shutil.copy(root / "mkdocs.yml", copy / "mkdocs.yml")
    return copy


def every_byte(folder):
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }


def test_a_broken_book_leaves_the_old_site_untouched(book, fettlebook):
    site = book / "site"
    (site / "deep").mkdir(parents=True)
    (site / "index.html").write_text("the old site", encoding="utf-8")
    (site / "deep" / "page.html").write_text("an old page", encoding="utf-8")
    before = every_byte(site)
    procedure = book / "procedures" / "replace-drain-plug-seals.yml"
    procedure.write_text(procedure.read_text(encoding="utf-8").replace("cautions:", "cautoins:", 1), encoding="utf-8")
    done = fettlebook("build", cwd=book)
    assert done.returncode == 1
    assert "cautoins" in done.stderr and "cautions" in done.stderr and "The site is left as it was." in done.stderr
    assert "Traceback" not in done.stderr
    assert every_byte(site) == before
    assert [path.name for path in book.iterdir() if path.name.startswith(".site")] == []


def test_a_broken_mkdocs_file_leaves_the_old_site_untouched(book, fettlebook):
    (book / "site").mkdir()
    (book / "site" / "index.html").write_text("the old site", encoding="utf-8")
    (book / "mkdocs.yml").write_text("site_name: [\n", encoding="utf-8")
    done = fettlebook("build", cwd=book)
    assert done.returncode == 1 and "Traceback" not in done.stderr and "mkdocs.yml" in done.stderr
    assert every_byte(book / "site") == {"index.html": b"the old site"}


def test_a_new_procedure_is_on_the_site_and_in_search_without_any_python(book, fettlebook):
    made = fettlebook("new", "Grease the quaint winch", "--kind", "repair", cwd=book)
    assert made.returncode == 0, made.stderr
    done = fettlebook("build", cwd=book)
    assert done.returncode == 0, done.stderr
    page = (book / "site" / "procedures" / "grease-the-quaint-winch.html").read_text(encoding="utf-8")
    assert "Grease the quaint winch" in page
    assert "grease-the-quaint-winch.html" in (book / "site" / "procedures" / "index.html").read_text(encoding="utf-8")
    script = (book / "site" / "assets" / "search-index.js").read_text(encoding="utf-8")
    index = json.loads(script.removeprefix("window.fettlebookIndex=").rstrip(";\n"))
    assert "quaint" in index["words"]["q"].split("\n")[0].split(" ")
    assert "winch" in index["words"]["w"].split("\n")[0].split(" ")
    pages = [line.split("\t")[1:3] for line in index["pages"].split("\n")]
    assert ["procedures/grease-the-quaint-winch.html", "Grease the quaint winch"] in pages


def test_there_is_no_book_is_said_in_one_line(tmp_path, fettlebook):
    done = fettlebook("build", cwd=tmp_path)
    assert done.returncode == 2 and len(done.stderr.strip().splitlines()) == 1
