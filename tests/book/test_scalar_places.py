"""The place of a sign of a value, whatever way YAML lets one write it."""

import pytest

from fettlebook.book.scalar_places import spot_in
from fettlebook.book.strict_yaml import read_text

WRITTEN = {
    "plain": "f: (a + b)*Q/c\n",
    "plain over two lines": "f: (a +\n   b)*Q/c\n",
    "single quotes": "f: '(a + b)*Q/c'\n",
    "single quotes, one doubled": "f: '(a'' + b)*Q/c'\n",
    "double quotes": 'f: "(a + b)*Q/c"\n',
    "double quotes, backslashes": 'f: "(a\\x20\\x2b\\"b)*Q/c"\n',
    "double quotes, folded": 'f: "(a +\n\n   b)*Q/c"\n',
    "double quotes, line joined": 'f: "(a + \\\n   b)*Q/c"\n',
    "double quotes, indented": "f:    '  (a + b)*Q/c'\n",
    "folded block": "f: >-\n  (a +\n  b)*Q/c\n",
    "folded block, kept end": "f: >+\n\n   (a +\n   b)*Q/c\n\n",
    "literal block": "f: |\n  (a +\n  b)*Q/c\n",
    "literal block, indent said": "f: |2-\n   (a +\n  b)*Q/c\n",
    "in braces": "{f: '(a + b)*Q/c', g: 1}\n",
}


@pytest.mark.parametrize("text", WRITTEN.values(), ids=WRITTEN)
def test_the_place_is_that_of_the_sign_in_the_file(text):
    tree, _ = read_text(text, "x.yml")
    value = tree["f"]
    line, column = spot_in(tree, "f", value, value.index("Q"))
    before = text[: text.index("Q")]
    assert (line, column) == (before.count("\n") + 1, len(before) - before.rfind("\n"))
    for at in range(len(value) + 1):
        line, column = spot_in(tree, "f", value, at)
        lines = text.split("\n")
        assert 1 <= line <= len(lines) and 1 <= column <= len(lines[line - 1]) + 1


def test_a_number_has_the_place_where_it_starts():
    tree, _ = read_text("f: 12\n", "x.yml")
    assert spot_in(tree, "f", "12", 0) == (1, 4)
