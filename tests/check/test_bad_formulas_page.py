"""The page of bad formulas says what the program prints, letter by letter."""

import re
from pathlib import Path

import pytest

from fettlebook.book.computed import Shop
from fettlebook.book.strict_yaml import read_text
from fettlebook.book.worksheet_assembly import worksheet
from fettlebook.check.report import report_lines

PAGE = (Path(__file__).parent.parent.parent / "docs" / "bad-formulas.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```(yaml|text)\n(.*?)\n```", PAGE, re.S)
HEAD = BLOCKS[0][1]
PAIRS = [(bad, said) for (_, bad), (_, said) in zip(BLOCKS[1::2], BLOCKS[2::2], strict=True)]


@pytest.mark.parametrize(
    "bad, said", PAIRS, ids=[bad.partition("formula:")[2].split("}")[0].strip()[:30] or "-" for bad, _ in PAIRS]
)
def test_the_page_says_what_is_printed(tmp_path, bad, said):
    text = f"{HEAD}\n{bad}\n"
    tree, faults = read_text(text, "try.yml")
    assert faults == []
    found = worksheet(tree, "try", "try.yml", Shop({}, {}))[1]
    (tmp_path / "try.yml").write_text(text, encoding="utf-8")
    assert "\n".join(report_lines(found, tmp_path)) == said


def test_every_rule_of_formulas_stands_on_the_page():
    rules = set(re.findall(r"\[([a-z-]+)\]$", PAGE, re.M))
    assert {"formula", "units", "factor", "example", "reserved-name"} <= rules
    assert len(PAIRS) > 40 and [kind for kind, _ in BLOCKS] == ["yaml"] + ["yaml", "text"] * len(PAIRS)
