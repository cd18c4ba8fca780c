"""A new procedure has no fault, says what is still to be filled in, and takes any title that a person may write."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fettlebook.book.load import load
from fettlebook.book.skeleton import CannotStart, id_for, kinds, new_procedure, skeleton
from fettlebook.book.strict_yaml import read_text
from fettlebook.check.rules import findings

DAY = date(2026, 11, 25)


@pytest.mark.parametrize("kind", ["repair", "make", "heat", "level", "teach"])
def test_every_kind_passes_the_check_and_is_called_unfinished(tmp_path, kind):
    (tmp_path / "procedures").mkdir()
    path = new_procedure(tmp_path, "Mend the feed: shaft's key", kind, "R. Okell", DAY)
    assert path.name == "mend-the-feed-shafts-key.yml"
    book, faults = load(tmp_path)
    assert faults == []
    assert {(one.rule, one.mild) for one in findings(book)} == {("unfinished", True)}
    made = book.procedures["mend-the-feed-shafts-key"]
    assert (made.title, made.revision.by, made.revision.date) == (
        "Mend the feed: shaft's key",
        "R. Okell",
        "2026-11-25",
    )


def test_the_kinds_are_these():
    assert list(kinds()) == ["repair", "make", "heat", "level", "teach"]


def test_every_key_of_the_skeleton_has_a_comment_above_or_beside_it():
    lines = skeleton("Any job", "heat", "A. Maker", DAY, "procedure.json").split("\n")
    for n, line in enumerate(lines):
        if line[:1].isalpha() and line.split(":")[0] in {
            "title",
            "group",
            "summary",
            "when",
            "cautions",
            "numbers",
            "sources",
        }:
            assert lines[n - 1].startswith("#"), line


@pytest.mark.parametrize("title, id", [
    ("Replace the seals of drain plugs", "replace-the-seals-of-drain-plugs"), ("  Été  ", "ete"), ("1/2-13 UNC", "1-2-13-unc"),
    ("Straße", "strasse"), ("../../etc/passwd", "etc-passwd"), ("a " * 60, "-".join("a" * 30)), ("x" * 100, "x" * 60),
])  # fmt: skip
def test_the_id_is_made_from_the_title(title, id):
    assert id_for(title) == id


@pytest.mark.parametrize(
    "title, why",
    [
        ("車床", "no file name can be made"),
        ("!!", "no file name can be made"),
        ("ab", "3 to 120 characters"),
        ("x" * 121, "3 to 120"),
        ("abc\x07", "sign that cannot stand"),
    ],
)
def test_a_title_that_cannot_be_one_is_refused(tmp_path, title, why):
    (tmp_path / "procedures").mkdir()
    with pytest.raises(CannotStart, match=why):
        new_procedure(tmp_path, title, "make", "A", DAY)
    assert list((tmp_path / "procedures").iterdir()) == []


def test_nothing_is_written_over(tmp_path):
    (tmp_path / "procedures" / "deep").mkdir(parents=True)
    (tmp_path / "procedures" / "deep" / "any-job.yml").write_text("mine")
    with pytest.raises(CannotStart, match="any-job.yml is there already"):
        new_procedure(tmp_path, "Any job", "make", "A", DAY)


@settings(max_examples=150, deadline=None)
@given(st.text(min_size=3, max_size=60))
def test_any_title_stands_in_the_file_as_it_was_written(title):
    try:
        text = skeleton(title, "make", "A. Maker", DAY, "procedure.json")
    except CannotStart:
        return
    found, faults = read_text(text, "f.yml")
    assert (str(found["title"]), faults) == (" ".join(title.split()), [])
