"""Messages, letter by letter: for people, for editors, for a change on GitHub."""

import io
import json

import pytest

from fettlebook.book.places import Finding, Place
from fettlebook.check.report import as_annotations, as_json, one_line, report_lines, summary_line, wants_colour, where

FAULT = Finding(Place("a.yml", 2, 7), 'feed "fast" is not a figure', "figure", "a feed has a unit", "write 0.1 mm/rev")
ADVICE = Finding(Place("a.yml", 1, 1), "a title is short", "short", mild=True)


@pytest.fixture
def book(tmp_path):
    (tmp_path / "a.yml").write_text("title: x\nfeed: fast # why\n", encoding="utf-8")
    return tmp_path


def test_a_message_shows_the_line_with_a_caret(book):
    assert report_lines([FAULT], book) == [
        'a.yml:2:7: feed "fast" is not a figure; a feed has a unit; write 0.1 mm/rev [figure]',
        "    2 | feed: fast # why",
        "      |       ^^^^",
    ]


def test_advice_is_called_so(book):
    assert report_lines([ADVICE], book) == [
        "a.yml:1:1: advice: a title is short [short]",
        "    1 | title: x",
        "      | ^^^^^",
    ]


def test_colour_only_where_it_is_wanted(book):
    assert (
        report_lines([FAULT], book, colour=True)[0]
        == '\033[1ma.yml:2:7\033[0m: \033[31mfeed "fast" is not a figure; a feed has a unit\033[0m; \033[36mwrite 0.1 mm/rev\033[0m [figure]'
    )
    assert not wants_colour(io.StringIO())


@pytest.mark.parametrize(
    "setting, value, wanted", [("NO_COLOR", "1", False), ("TERM", "dumb", False), ("NO_COLOR", "", True)]
)
def test_a_terminal_may_say_no_to_colour(monkeypatch, setting, value, wanted):
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv(setting, value)
    stream = io.StringIO()
    stream.isatty = lambda: True
    assert wants_colour(stream) is wanted


def test_one_line_has_place_what_why_hint_and_rule():
    assert one_line(FAULT) == 'a.yml:2:7: feed "fast" is not a figure; a feed has a unit; write 0.1 mm/rev [figure]'
    assert where(Finding(Place("a.yml"), "x", "y")) == "a.yml"


@pytest.mark.parametrize("found, line", [
    ([], "38 procedures: no faults."), ([ADVICE], "38 procedures: no faults, 1 piece of advice."),
    ([FAULT], "1 fault in 1 file, 38 procedures. What each rule asks for: docs/rules.md"),
    ([FAULT, ADVICE, ADVICE, Finding(Place("b.yml"), "x", "y")], "2 faults in 2 files, 38 procedures, 2 pieces of advice. What each rule asks for: docs/rules.md"),
])  # fmt: skip
def test_the_last_line_counts(found, line):
    assert summary_line(found, 38) == line


def test_editors_get_objects():
    assert json.loads(as_json([FAULT])) == [
        {"file": "a.yml", "line": 2, "column": 7, "what": 'feed "fast" is not a figure', "why": "a feed has a unit", "hint": "write 0.1 mm/rev",
         "rule": "figure", "advice": False}]  # fmt: skip
    assert json.loads(as_json([])) == []


def test_annotations_are_workflow_commands():
    # GitHub, workflow commands: %, CR and LF are escaped in the message; in a property also : and ,
    odd = Finding(Place("a,b:c.yml", 3, 1), "50 %\nmore", "rule")
    assert as_annotations([FAULT, ADVICE, odd]) == [
        '::error file=a.yml,line=2,col=7,title=figure::feed "fast" is not a figure; a feed has a unit; write 0.1 mm/rev',
        "::notice file=a.yml,line=1,col=1,title=short::a title is short",
        "::error file=a%2Cb%3Ac.yml,line=3,col=1,title=rule::50 %25�more",
    ]


def test_a_long_line_is_cut_round_the_fault(book):
    (book / "long.yml").write_text("text: " + "x" * 300 + " [here] " + "y" * 300 + "\n", encoding="utf-8")
    shown = report_lines([Finding(Place("long.yml", 1, 308), "x", "y")], book)
    assert len(shown[1]) <= 8 + 160
    assert shown[1][shown[2].index("^")] == "["


def test_what_a_terminal_would_obey_is_made_harmless(book):
    (book / "evil.yml").write_text("a: \x1b[31mred\n", encoding="utf-8")
    shown = report_lines([Finding(Place("evil.yml", 1, 4), "\x1b[2J is here", "y")], book)
    assert "\x1b" not in "".join(shown)


@pytest.mark.parametrize(
    "place", [Place("none.yml", 3, 1), Place("a.yml", 99, 1), Place("a.yml", 2, 999), Place("a.yml")]
)
def test_a_place_that_is_not_there_does_no_harm(book, place):
    assert report_lines([Finding(place, "x", "y")], book)[0].endswith(": x [y]")
