"""A copy of the small book that a test may spoil, and where a text stands in a file."""

import shutil

import pytest


@pytest.fixture
def demo(root, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "home"))
    shutil.copytree(root / "tests/book/demo/procedures", tmp_path / "book" / "procedures")
    return tmp_path / "book"


@pytest.fixture
def spoil(demo):
    """Replace a text that stands once in a file; give the line and column of MARK (the start of what is put, by default)."""

    def change(there, put, mark=None, name="replace-a-plug-seal.yml"):
        path = demo / "procedures" / name
        text = path.read_text(encoding="utf-8")
        assert text.count(there) == 1, there
        text = text.replace(there, put)
        path.write_text(text, encoding="utf-8")
        before = text[: text.index(mark if mark is not None else put)]
        return before.count("\n") + 1, len(before) - before.rfind("\n")

    return change
