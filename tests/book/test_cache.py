"""A second run takes what has not changed from the cache, and only what this user signed."""

import pickle
import shutil

import pytest

from fettlebook.book import cache, load
from fettlebook.book.cache import FOLDER, Cache


@pytest.fixture
def demo(root, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    cache._key.cache_clear()
    shutil.copytree(root / "tests/book/demo/procedures", tmp_path / "book" / "procedures")
    yield tmp_path / "book"
    cache._key.cache_clear()


@pytest.fixture
def read(monkeypatch):
    """The names of the files that were really read and assembled."""
    names = []
    real = load.assembled
    monkeypatch.setattr(
        load, "assembled", lambda tree, id, name, shared: names.append(id) or real(tree, id, name, shared)
    )
    return names


def test_a_second_run_reads_only_what_changed_and_gives_the_same(demo, read):
    first = load.load(demo, Cache(demo))
    assert sorted(read) == ["find-a-leak", "replace-a-plug-seal"]
    read.clear()
    assert load.load(demo, Cache(demo)) == first
    assert read == []
    path = demo / "procedures/leaks/find-a-leak.yml"
    path.write_text(path.read_text(encoding="utf-8").replace("Find a leak", "Find the leak"), encoding="utf-8")
    book, _ = load.load(demo, Cache(demo))
    assert (read, book.procedures["find-a-leak"].title) == (["find-a-leak"], "Find the leak")


@pytest.mark.parametrize("name", ["workshop.yml", "cautions.yml", "steps.yml", "machines/blue-lathe.yml"])
def test_a_change_in_the_shop_reads_everything_again(demo, read, name):
    load.load(demo, Cache(demo))
    read.clear()
    path = demo / "procedures/shop" / name
    path.write_text(path.read_text(encoding="utf-8") + "# changed\n", encoding="utf-8")
    load.load(demo, Cache(demo))
    assert len(read) == 2


def test_another_program_reads_everything_again(demo, read, monkeypatch):
    load.load(demo, Cache(demo))
    read.clear()
    monkeypatch.setattr(load, "program_digest", lambda: "another")
    load.load(demo, Cache(demo))
    assert len(read) == 2


class Harm:
    def __reduce__(self):
        return exec, ("raise SystemExit('the cache was executed')",)


def test_a_strangers_cache_is_not_opened(demo, read):
    load.load(demo, Cache(demo))
    read.clear()
    for path in (demo / FOLDER).iterdir():
        path.write_bytes(b"\0" * 32 + pickle.dumps(Harm()))
    load.load(demo, Cache(demo))
    assert len(read) == 2


def test_an_entry_under_another_name_is_not_taken(demo):
    kept = Cache(demo)
    kept.put("one", 1)
    kept.put("two", 2)
    shutil.copy(demo / FOLDER / "one", demo / FOLDER / "two")
    fresh = Cache(demo)
    assert (fresh.get("one"), fresh.get("two")) == (1, None)


def test_where_nothing_can_be_written_everything_still_works(demo):
    (demo / FOLDER).write_text("a file where the folder would be", encoding="utf-8")
    book, findings = load.load(demo, Cache(demo))
    assert (len(book.procedures), findings) == (2, [])


def test_without_a_key_nothing_is_kept(demo, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", "/proc/none")
    cache._key.cache_clear()
    load.load(demo, Cache(demo))
    assert not (demo / FOLDER).exists()


def test_the_program_digest_sees_tables_and_figures(monkeypatch, tmp_path):
    (tmp_path / "tables").mkdir()
    (tmp_path / "tables" / "a.py").write_text("A = 1")
    monkeypatch.setattr(cache, "PROGRAM", tmp_path)
    cache.program_digest.cache_clear()
    before = cache.program_digest()
    (tmp_path / "tables" / "a.py").write_text("A = 2")
    cache.program_digest.cache_clear()
    assert cache.program_digest() != before
    cache.program_digest.cache_clear()


def test_what_is_no_longer_asked_for_goes(demo):
    old = Cache(demo)
    for n in range(80):
        old.put(f"old-{n}", n)
    new = Cache(demo)
    new.put("new", 1)
    new.sweep()
    assert [path.name for path in (demo / FOLDER).iterdir()] == ["new"]


def test_a_cache_kept_for_a_preview_opens_no_entry_twice(demo, read, monkeypatch):
    kept = Cache(demo)
    first = load.load(demo, kept)
    monkeypatch.setattr(cache.pickle, "loads", lambda content: pytest.fail("an entry was opened"))
    read.clear()
    shutil.copy(demo / "procedures/replace-a-plug-seal.yml", demo / "procedures/leaks/replace-a-plug-seal.yml")
    for _ in range(2):
        book, findings = load.load(demo, kept)
        assert [one.rule for one in findings] == ["twice"]
    (demo / "procedures/leaks/replace-a-plug-seal.yml").unlink()
    assert load.load(demo, kept) == first
