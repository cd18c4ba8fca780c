"""What a person wrote stays what they wrote, and what YAML lets slip is said with its place."""

import json
import pickle

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from fettlebook.book.strict_yaml import DEEPEST, Decimal, Map, Whole, read_bytes, read_file, read_text

PLAIN = ["60:40", "3:1", "012", "no", "on", "off", "y", "1/2-13", "1e3", "0x1F", "1_000", "+5", ".5", "5.", "2026-11-25", "12:30:45",
         "~", "Null", "True", "yes", ".inf", "1.2.3", "- 3", "M10x1.5", "a # b"]  # fmt: skip


@pytest.mark.parametrize("written", [one for one in PLAIN if not one.startswith("- ") and " #" not in one])
def test_shop_notation_stays_text(written):
    assert read_text(f"key: {written}\n", "f.yml") == ({"key": written}, [])


@pytest.mark.parametrize(
    "written, value",
    [
        ("12", 12),
        ("-3", -3),
        ("0", 0),
        ("0.5", 0.5),
        ("-0.500", -0.5),
        ("true", True),
        ("false", False),
        ("null", None),
    ],
)
def test_only_decimals_and_three_words_are_not_text(written, value):
    found, findings = read_text(f"key: {written}\n", "f.yml")
    assert not findings
    assert found["key"] == value
    assert isinstance(found["key"], type(value))


@pytest.mark.parametrize("written", ["0.50", "0.500", "12", "-7.10"])
def test_a_number_keeps_its_digits_also_in_a_cache(written):
    found, _ = read_text(f"key: {written}\n", "f.yml")
    assert str(found["key"]) == written
    again = pickle.loads(pickle.dumps(found["key"]))
    assert (str(again), again, type(again)) == (written, found["key"], type(found["key"]))


def test_numbers_count_as_numbers():
    assert Whole("12") + 1 == 13
    assert Decimal("0.500") * 2 == 1.0
    assert json.dumps([Whole("12"), Decimal("0.500")]) == "[12, 0.5]"


def test_every_key_and_value_has_its_place():
    found, _ = read_text("a: 1\nb:\n  - x\n  - {c: 2}\n", "f.yml")
    assert found.at == (1, 1)
    assert found.keys_at == {"a": (1, 1), "b": (2, 1)}
    assert found.values_at == {"a": (1, 4), "b": (3, 3)}
    assert found["b"].values_at == [(3, 5), (4, 5)]
    assert found["b"][1].values_at == {"c": (4, 9)}


def test_a_byte_order_mark_and_other_line_ends_are_read():
    assert read_bytes(b"\xef\xbb\xbfa: 1\r\nb: two\r\n", "f.yml") == ({"a": 1, "b": "two"}, [])


def test_columns_count_signs_and_not_bytes():
    _, findings = read_text("é: {ü: 1, ü: 2}\n", "f.yml")
    assert [(one.place.line, one.place.column) for one in findings] == [(1, 11)]


# (text, [(line, column, what, why, hint)]): the whole message, letter by letter
SYNTAX = "the rest of the file could not be read"
REFUSED = [
    ("a: 1\na: 2\n", [(2, 1, '"a" is written twice', "it stands in line 1 already", "keep one of them")]),
    ("a: drill with #7 bit\n", [(1, 15, '"#7 bit" is read as a comment and lost', "a # after a space starts one",
                                 "put quotes around the whole value, or a space after # if a comment is meant")]),
    ("thread: #10-32\n", [(1, 9, '"#10-32" is read as a comment and lost', "a # after a space starts one",
                           "put quotes around the whole value, or a space after # if a comment is meant")]),
    ("a:\n", [(1, 3, "nothing is written here", "an empty value says nothing", "write the value, or leave the key out")]),
    ("a:\n  -\n", [(2, 4, "nothing is written here", "an empty value says nothing", "write the value, or leave the key out")]),
    ("a: {plug}\n", [(1, 4, "{plug} stands without quotes", "braces at the start of a value make a mapping", 'write "{plug}"')]),
    ("a: {b: one, two}\n", [(1, 13, '"two" is cut off from the value before it', "between { and } a comma starts a new key",
                             "put quotes around the whole value")]),
    ("a: &x 1\n", [(1, 4, '"&" at the start of a value makes an anchor', "every value is written out where it is used",
                    "put quotes around a text that starts so")]),
    ("a: !!str 1\n", [(1, 4, '"!" at the start of a value makes a tag', "every value is written out where it is used",
                       "put quotes around a text that starts so")]),
    ("a: !!python/object/apply:os.system [true]\n", [(1, 4, '"!" at the start of a value makes a tag',
                                                      "every value is written out where it is used", "put quotes around a text that starts so")]),
    ("a: *x\n", [(1, 4, '"*" at the start of a value makes an alias', SYNTAX, "put quotes around the value")]),
    ("<<: {a: 1}\n", [(1, 1, '"<<" cannot be a key', "", "write the name of what follows")]),
    ("? [a]\n: b\n", [(1, 3, "a key must be plain words", "", "put quotes around a value that starts with { or [")]),
    ("a: 1\n\tb: 2\n", [(2, 1, "there is a tab", "YAML measures indents in spaces", "write spaces instead")]),
    ("a: one\ttwo\n", [(1, 7, "there is a tab", "YAML measures indents in spaces", "write spaces instead")]),
    ("a: x\u202ey\n", [(1, 5, "there is a sign that cannot be seen (U+202E)", "it could hide or turn round what is read", "delete it")]),
    ('a: "\\x07"\n', [(1, 4, "a sign that cannot be seen is written with a backslash here", "it could hide what is read", "write words")]),
    ("a: 1\n---\nb: 2\n", [(2, 1, "a second document starts here", SYNTAX, "a file holds one procedure; nothing may follow after ---")]),
    ("a: b: c\n", [(1, 5, 'a second ": " stands in this line', SYNTAX, "put quotes around the whole value")]),
    ("a: {x} turn\n", [(1, 8, "a value starts with a brace", "YAML takes it for a mapping", "put quotes around the whole value")]),
    ("a: [1\n", [(1, 6, "a bracket or brace is not closed, or a comma is missing", SYNTAX, "put quotes around a value that holds , [ ] { or }")]),
    ("a: @b\n", [(1, 4, "a value may not start with this sign", SYNTAX, "put quotes around the value")]),
    ("", [(0, 0, "the file is empty", "", "")]),
    ("a: " + "9" * 31 + "\n", [(1, 4, "this number has too many digits", "", "put it in quotes if it is text")]),
]  # fmt: skip


@pytest.mark.parametrize("written, expected", REFUSED, ids=[one[0][:20] for one in REFUSED])
def test_what_yaml_lets_slip_is_said(written, expected):
    _, findings = read_text(written, "f.yml")
    assert [(one.place.line, one.place.column, one.what, one.why, one.hint) for one in findings] == expected
    assert {one.place.file for one in findings} == {"f.yml"}


@pytest.mark.parametrize("written", ["a: one # a comment\n", "a: 'x #7'\n", 'a: "x #7"\n', "a: |\n  line #7\n", "a: >-\n  see #7\n  and #8\n",
                                     "a: one#7\n", "#7 stands alone\na: 1\n", "a:\n  #7\n  - b\n", "a: \"#10-32\"  # thread\n"])  # fmt: skip
def test_a_comment_that_cuts_nothing_is_left_alone(written):
    _, findings = read_text(written, "f.yml")
    assert not findings


def test_all_faults_come_in_one_run():
    _, findings = read_text("a:\nb: &x 1\nc: {d}\ne: 1\ne: 2\nf: a #7\n", "f.yml")
    assert [one.place.line for one in findings] == [1, 2, 3, 5, 6]


def test_a_bomb_of_aliases_is_refused_at_once():
    lines = ["a0: &a0 [x, x]"] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 20)]
    _, findings = read_text("\n".join(lines), "f.yml")
    assert [one.place.line for one in findings] == list(range(1, 21))


@pytest.mark.parametrize(
    "written",
    [
        "[" * 500_000,
        "{a: " * 50_000,
        "- " * 100_000,
        "[" * 900 + "]" * 900,
        "\n".join(" " * n + "a:" for n in range(900)),
    ],
)
def test_depth_is_bounded(written):
    _, findings = read_text(written, "f.yml")
    assert findings
    deep, _ = read_text("a: " + "[" * DEEPEST + "]" * DEEPEST, "f.yml")
    assert isinstance(deep, Map)


def test_a_huge_file_is_not_read(tmp_path):
    path = tmp_path / "huge.yml"
    path.write_bytes(b"a: " + b"x" * 1_000_000)
    assert [one.what for one in read_file(path, "huge.yml")[1]] == ["the file has 1,000,003 bytes"]


def test_what_is_no_file_or_no_text_is_said(tmp_path):
    assert [one.what for one in read_file(tmp_path, "folder.yml")[1]] == ["this is not a file"]
    assert [one.what for one in read_file(tmp_path / "none.yml", "none.yml")[1]] == ["this is not a file"]
    _, findings = read_bytes(b"a: 1\nb: \xff\n", "f.yml")
    assert [(one.place.line, one.place.column, one.what) for one in findings] == [(2, 4, "this is not UTF-8 text")]


# Two references outside: the standard library's JSON (RFC 8259 texts are YAML), and PyYAML's base loader, which takes
# every scalar for text.
WORDS = st.text(st.characters(min_codepoint=32, max_codepoint=0x2FFF, exclude_characters="\x7f\u2028\u2029", exclude_categories=("Cc", "Cf", "Cs", "Zl", "Zp")), min_size=1, max_size=12)  # fmt: skip
TREES = st.recursive(WORDS | st.integers(-(10**6), 10**6) | st.booleans(),
                     lambda inner: st.lists(inner, max_size=4) | st.dictionaries(WORDS, inner, max_size=4), max_leaves=12)  # fmt: skip


@given(st.dictionaries(WORDS, TREES, min_size=1, max_size=5))
def test_json_reads_as_json(tree):
    found, findings = read_text(json.dumps(tree, ensure_ascii=False), "f.yml")
    assert (found, findings) == (tree, [])


def test_the_demo_book_reads_as_another_loader_reads_it(root):
    for path in sorted((root / "tests/book/demo").rglob("*.yml")):
        found, findings = read_file(path, path.name)
        assert not findings
        assert as_text(found) == yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.CBaseLoader)


def as_text(value):
    if isinstance(value, dict):
        return {key: as_text(one) for key, one in value.items()}
    if isinstance(value, list):
        return [as_text(one) for one in value]
    return (
        {True: "true", False: "false", None: "null"}[value] if value is None or isinstance(value, bool) else str(value)
    )
