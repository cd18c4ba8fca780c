"""Our reading of the schemas agrees with a full JSON Schema library, and says what is wrong in plain words."""

import copy
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from fettlebook.book.groups import GROUPS
from fettlebook.book.shapes import HERE, schema, shape_findings
from fettlebook.book.strict_yaml import read_file, read_text

SCHEMAS = sorted(path.stem for path in HERE.glob("*.json"))
REGISTRY = Registry().with_resources(
    [(path.name, Resource.from_contents(json.loads(path.read_text(encoding="utf-8")))) for path in HERE.glob("*.json")]
)


def validator(shape):
    return Draft202012Validator(schema(shape), registry=REGISTRY)


def parts(value, path=()):
    yield path, value
    if isinstance(value, dict):
        for key, one in value.items():
            yield from parts(one, (*path, key))
    elif isinstance(value, list):
        for n, one in enumerate(value):
            yield from parts(one, (*path, n))


def properties(value, shape, path=""):
    """Every property that a schema describes, with its schema."""
    if isinstance(value, dict):
        for name, one in value.get("properties", {}).items() if isinstance(value.get("properties"), dict) else ():
            yield f"{shape}{path}/{name}", one
        for key, one in value.items():
            if key not in {"examples", "enum"}:
                yield from properties(one, shape, f"{path}/{key}")
    elif isinstance(value, list):
        for one in value:
            yield from properties(one, shape, path)


@pytest.mark.parametrize("shape", SCHEMAS)
def test_a_schema_is_one_of_2020_12(shape):
    assert schema(shape)["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema(shape))


@pytest.mark.parametrize(
    "where, part",
    [one for shape in SCHEMAS for one in properties(schema(shape), shape)],
    ids=lambda x: x if isinstance(x, str) else "",
)
def test_every_property_explains_itself_with_an_example_that_is_valid(where, part):
    if where.startswith("cautions/additionalProperties"):
        return  # each points to the property of a caution, which explains itself
    assert part.get("description"), where
    assert part.get("examples"), where
    shape = where.split("/")[0]
    check = Draft202012Validator(
        {**part, "$id": schema(shape)["$id"], "$defs": schema(shape).get("$defs", {})},
        registry=REGISTRY,
    )
    for example in part["examples"]:
        assert not list(check.iter_errors(example)), (where, example)


def test_the_groups_are_those_that_the_book_shows():
    assert schema("procedure")["properties"]["group"]["enum"] == list(GROUPS)


BAD = [None, True, 7, 0, -1, 1.5, "", " ", "x", "Not An Id", "x" * 5000, [], {}, ["x"], {"use": "isolate"}, [{"use": "x"}], {"x": 1}, [1, 1], "W017", "2026-13-45"]  # fmt: skip


def demo(root):
    found, _ = read_file(root / "tests/book/demo/procedures/replace-a-plug-seal.yml", "f.yml")
    return json.loads(json.dumps(found))


@settings(max_examples=400, deadline=None)
@given(data=st.data())
def test_the_verdict_is_that_of_a_full_library(root, data):
    tree = demo(root)
    for _ in range(data.draw(st.integers(1, 3))):
        path, _ = data.draw(st.sampled_from([one for one in parts(tree) if one[0]]))
        at = tree
        for key in path[:-1]:
            at = at[key]
        how = data.draw(st.sampled_from(["change", "delete", "add"]))
        if how == "delete":
            del at[path[-1]]
        elif how == "change":
            at[path[-1]] = copy.deepcopy(data.draw(st.sampled_from(BAD)))
        elif isinstance(at, dict):
            at[data.draw(st.sampled_from(["use", "id", "cautoins", "image", "check"]))] = "x"
        else:
            at.append(copy.deepcopy(at[0]))
    assert bool(shape_findings(tree, "procedure", "f.yml")) == bool(list(validator("procedure").iter_errors(tree)))


@pytest.mark.parametrize("shape", ["workshop", "machine", "glossary", "cautions", "steps", "record"])
def test_the_shops_files_are_judged_alike(root, shape):
    folder = root / "tests/book/demo/procedures/shop"
    path = {"machine": folder / "machines/blue-lathe.yml", "record": folder / "records/plug-2026-11-25.json"}.get(
        shape, folder / f"{shape}.yml"
    )
    good, _ = read_file(path, path.name)
    for tree in [good, *({**good, "x y": 1} if isinstance(good, dict) else [*good, 1] for _ in "1"), *BAD]:
        tree = json.loads(json.dumps(tree))
        assert bool(shape_findings(tree, shape, "f")) == bool(list(validator(shape).iter_errors(tree))), tree


# (what stands there, what is put there, [(the text at which the fault is said, what, hint)]); "" is the file's start
WORDS = [
    ("cautions:\n  - use", "cautoins:\n  - use", [
        ("", '"cautions" is missing in a procedure', "write cautions: [{use: isolate}]"),
        ("cautoins", '"cautoins" is not a key of a procedure', 'did you mean "cautions"?')]),
    ("group: leaks", "group: leeks", [("leeks", 'group "leeks" is not one of arrive, leaks, oil, controls, level, make, heat, teach', 'did you mean "leaks"?')]),
    ("people: 1\n  licensed", "people: one\n  licensed", [("one\n  lic", 'people must be a whole number, not "one"', "for example 1")]),
    ("people: 1\n  licensed", "people: 0\n  licensed", [("0\n  lic", "people 0 is below 1", "for example 1")]),
    ("id: hot-oil", "id: Hot Oil", [("Hot Oil", 'id "Hot Oil" is not written as it must be', 'write "hot-oil"')]),
    ("sign: W017", "sign: W17", [("W17", 'sign "W17" is not written as it must be', "for example W017")]),
    ("hidden: true", "hidden: yes", [("yes", 'hidden must be true or false, not "yes"', "write true or false")]),
    ("low: 0,", "low: [0],", [("[0]", "low must be a number or words, not a list", "for example 20")]),
    ("see: [find-a-leak]\n      - do: Hold", "see: []\n      - do: Hold", [("[]", "see is an empty list", "for example [find-a-leak]")]),
    ("when: Oil drips from the plug; see [finding a leak](find-a-leak#look-1) first.", "when: [Oil drips]", [
        ("[Oil drips]", "when must be words, not a list", "for example Oil drips from a plug, or a plug has been out for any reason.")]),
    ("answer: Copper hardens when it is squeezed.", "anwser: Copper", [
        ("{ask", '"answer" is missing in `questions`', "write answer: Copper hardens when it is squeezed."),
        ("anwser", '"anwser" is not a key of `questions`', 'did you mean "answer"?')]),
    ("at: [left, right]", "at: [left, left]", [("left]", '"left" stands twice in at', "keep one of them")]),
]  # fmt: skip


@pytest.mark.parametrize("there, put, expected", WORDS, ids=[one[1][:20] for one in WORDS])
def test_a_fault_of_shape_is_said_in_plain_words(root, there, put, expected):
    text = (root / "tests/book/demo/procedures/replace-a-plug-seal.yml").read_text(encoding="utf-8")
    assert text.count(there) == 1
    text = text.replace(there, put)
    tree, findings = read_text(text, "f.yml")
    assert not findings
    found = sorted(shape_findings(tree, "procedure", "f.yml"))
    assert [(one.place.line, one.place.column, one.what, one.hint) for one in found] == [
        (*spot(text, mark), what, hint) for mark, what, hint in expected
    ]


def spot(text, mark):
    before = text[: text.index(mark)]
    return before.count("\n") + 1, len(before) - before.rfind("\n")


@pytest.mark.parametrize("shape", SCHEMAS)
def test_whatever_must_be_there_is_described_with_an_example(shape):
    for path, part in parts(json.loads((HERE / f"{shape}.json").read_text(encoding="utf-8"))):
        if isinstance(part, dict) and isinstance(part.get("required"), list) and part.get("type") == "object":
            for name in part["required"]:
                described = part.get("properties", {}).get(name, {})
                assert "examples" in described or "$ref" in described, (path, name)


def test_a_choice_without_its_label_is_told_so():
    written = "inputs: [{id: steel, name: Steel, choose: [{lable: C45, speed: 20}]}]"
    said = shape_findings(read_text(written, "w.yml")[0], "worksheet", "w.yml")
    assert [(one.place.column, one.hint) for one in said if one.what.startswith('"label" is missing')] == [
        (written.index("{lable") + 1, "write label: Mild steel")
    ]
