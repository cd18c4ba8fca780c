"""The page of rules names every rule that is said anywhere, and docs/rules.md is that page."""

import ast

from fettlebook.check.reference import all_rules, rules_page
from fettlebook.check.rules import OF_PROCEDURES, OF_THE_BOOK

SAYING = {"Finding": 2, "fault": 2, "_fault": 2, "_whole": 2}
"""Which argument of a call is the rule's name."""


def said_in(file):
    """The names of rules in a file: arguments of calls, and third parts of faults of shape."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            if name == "append" and node.args and isinstance(node.args[0], ast.Tuple) and len(node.args[0].elts) == 5:
                rule = node.args[0].elts[2]
            elif name in SAYING and len(node.args) > SAYING[name]:
                rule = node.args[SAYING[name]]
            else:
                continue
            for part in (rule.body, rule.orelse) if isinstance(rule, ast.IfExp) else (rule,):
                if isinstance(part, ast.Constant):
                    yield part.value


def test_every_rule_that_is_said_is_explained(root):
    files = [path for folder in ("book", "check") for path in (root / "generator/fettlebook" / folder).glob("*.py")]
    said = {name for path in files for name in said_in(path)}
    assert len(said) > 60
    assert said - set(all_rules()) == set()


def test_every_rule_that_is_explained_is_said(root):
    """Once where it is said, and once more in RULES for the rules of check/."""
    files = [path for folder in ("book", "check") for path in (root / "generator/fettlebook" / folder).glob("*.py")]
    text = "".join(path.read_text(encoding="utf-8") for path in files if path.name != "reference.py")
    of_check = {name for module in (*OF_PROCEDURES, *OF_THE_BOOK) for name in module.RULES}
    assert [name for name in all_rules() if text.count(f'"{name}"') < (2 if name in of_check else 1)] == []


def test_the_page_in_docs_is_the_one_that_the_rules_make(root):
    assert (root / "docs/rules.md").read_text(encoding="utf-8") == rules_page(), (
        "python -m fettlebook.check.reference > docs/rules.md"
    )
