"""The shape of each file of the book, from the JSON Schemas in shapes/, and faults of shape as findings in plain words.

A schema is turned once into nested functions. They read the keywords that shapes/ uses (a test compares their verdict
with a full JSON Schema library on good and bad files) and are some ten times as fast, which a thousand procedures need.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable, Mapping
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any, cast

from fettlebook.book.places import Finding, Place
from fettlebook.book.strict_yaml import BROKEN, Map, Seq, Spot

HERE = Path(__file__).parent / "shapes"

READ = {"$schema", "$id", "$defs", "$ref", "title", "description", "examples", "type", "enum", "pattern", "minLength", "maxLength",
        "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "minItems", "maxItems", "uniqueItems", "items",
        "minProperties", "required", "properties",
        "additionalProperties", "propertyNames", "oneOf"}  # fmt: skip
"""Keywords understood. Another one in a schema is a mistake of ours and raises at once."""

KINDS: dict[str, tuple[type, ...]] = {"string": (str,), "number": (int, float), "integer": (int, float), "boolean": (bool,),
                                      "array": (list,), "object": (dict,), "null": (type(None),)}  # fmt: skip
IN_WORDS = {"string": "words", "number": "a number", "integer": "a whole number", "boolean": "true or false", "array": "a list",
            "object": "keys with values", "null": "null"}  # fmt: skip
NOUNS = {"caution": "a caution", "step": "a step", "stage": "a stage", "reading": "a reading", "numbers": "numbers", "figure": "a figure",
         "trouble": "a trouble", "source": "a source", "use": "a shared one", "procedure": "a procedure", "workshop": "a workshop",
         "machine": "a machine", "worksheet": "a worksheet", "record": "a record"}  # fmt: skip

Fault = tuple[Spot, str, str, str, str]
"""Line and column, what, rule, why, hint."""
Check = Callable[[Any, Spot, str, list[Fault]], None]
"""Takes a value, where it stands, the key under which it stands, and the list to which faults are added."""


def shape_findings(value: Any, shape: str, name: str) -> list[Finding]:
    """Every fault of shape in VALUE, the content of the file NAME, against shapes/SHAPE.json."""
    faults: list[Fault] = []
    shape_check(shape)(value, getattr(value, "at", (1, 1)), shape, faults)
    return [Finding(Place(name, *spot), what, rule, why, hint) for spot, what, rule, why, hint in faults]


@cache
def schema(shape: str) -> dict[str, Any]:
    """The JSON Schema called SHAPE."""
    return json.loads((HERE / f"{shape}.json").read_text(encoding="utf-8"))


@cache
def shape_check(shape: str) -> Check:
    """The check of shapes/SHAPE.json, made once."""
    return _compiled(schema(shape), shape, NOUNS.get(shape, f"the {shape}"))


def _compiled(part: Mapping[str, Any], shape: str, noun: str) -> Check:
    if unread := set(part) - READ:
        raise ValueError(f"shapes/{shape}.json uses {', '.join(sorted(unread))}, which shapes.py does not read")
    example = _example(part)
    if "$ref" in part:
        target, there, name = _resolved(part["$ref"], shape)
        merged = {**target, **({"examples": part["examples"]} if "examples" in part else {})}
        return _compiled(merged, there, NOUNS.get(name, noun))
    if "enum" in part:
        return _enum(part["enum"])
    kinds = part.get("type", [])
    kinds = [kinds] if isinstance(kinds, str) else kinds
    checks = {kind: _of_kind(kind, part, shape, noun, example) for kind in kinds}
    alternatives = _one_of(part["oneOf"], shape, noun) if "oneOf" in part else None
    return _by_kind(checks, alternatives, example)


def _resolved(ref: str, shape: str) -> tuple[dict[str, Any], str, str]:
    """What $ref REF points to, in which schema, and its last name."""
    file, _, pointer = ref.partition("#")
    there = file.removesuffix(".json") or shape
    found: Any = schema(there)
    for key in [key for key in pointer.split("/") if key]:
        found = found[key]
    return found, there, pointer.rsplit("/", 1)[-1] or there


def _by_kind(checks: Mapping[str, Check], alternatives: Check | None, example: str) -> Check:
    """Look at the kind of value first, then at what holds for that kind."""
    exact: dict[type, Check] = {}

    def find(value: Any) -> Check | None:
        for kind, check in checks.items():
            if isinstance(value, KINDS[kind]) and (kind == "boolean" or not isinstance(value, bool)):
                if kind == "integer" and not float(cast(float, value)).is_integer():
                    continue
                return check
        return None

    def run(value: Any, at: Spot, key: str, out: list[Fault]) -> None:
        check = exact.get(type(value))
        if check is None:
            check = find(value)
            if check is None and checks:
                if value is not BROKEN:
                    out.append((at, f"{_shown(key)} must be {_either(IN_WORDS[k] for k in checks)}, not {_called(value)}", "kind", "",
                                _quoting(value, checks) or example))  # fmt: skip
                return
            if check is not None and type(value) not in (int, float) and "integer" not in checks:
                exact[type(value)] = check
        if check is not None:
            check(value, at, key, out)
        if alternatives is not None:
            alternatives(value, at, key, out)

    return run


def _of_kind(kind: str, part: Mapping[str, Any], shape: str, noun: str, example: str) -> Check:
    if kind == "string":
        return _string(part, example)
    if kind in {"number", "integer"}:
        return _number(part, example)
    if kind == "array":
        return _array(part, shape, noun, example)
    if kind == "object":
        return _object(part, shape, noun, example)
    return lambda value, at, key, out: None


def _string(part: Mapping[str, Any], example: str) -> Check:
    shortest, longest = part.get("minLength", 0), part.get("maxLength", 10**9)
    pattern = re.compile(part["pattern"]) if "pattern" in part else None
    words = part.get("pattern") == r"\S"

    def run(value: str, at: Spot, key: str, out: list[Fault]) -> None:
        if len(value) > longest:
            out.append(
                (
                    at,
                    f"{_shown(key)} has {len(value)} characters",
                    "long",
                    f"{longest} are the most that fit here",
                    "say it in fewer words",
                )
            )
        elif pattern and not pattern.search(value):
            if words:
                out.append((at, f"{_shown(key)} has no words", "nothing", "an empty value says nothing", example))
            else:
                out.append((at, f'{_shown(key)} "{_cut(value)}" is not written as it must be', "pattern", part.get("description", ""),
                            _as_id(value, pattern) or example))  # fmt: skip
        elif len(value) < shortest:
            out.append((at, f"{_shown(key)} is too short", "short", "", example))

    return run


def _number(part: Mapping[str, Any], example: str) -> Check:
    low, high = part.get("minimum"), part.get("maximum")
    above, below = part.get("exclusiveMinimum"), part.get("exclusiveMaximum")

    def run(value: float, at: Spot, key: str, out: list[Fault]) -> None:
        if low is not None and value < low:
            out.append((at, f"{_shown(key)} {value} is below {low}", "range", "", example))
        elif high is not None and value > high:
            out.append((at, f"{_shown(key)} {value} is above {high}", "range", "", example))
        elif above is not None and value <= above:
            out.append((at, f"{_shown(key)} {value} is not above {above}", "range", "", example))
        elif below is not None and value >= below:
            out.append((at, f"{_shown(key)} {value} is not below {below}", "range", "", example))

    return run


def _array(part: Mapping[str, Any], shape: str, noun: str, example: str) -> Check:
    fewest, most, unique = part.get("minItems", 0), part.get("maxItems", 10**9), part.get("uniqueItems", False)
    each = _compiled(part["items"], shape, noun) if "items" in part else None

    def run(value: Seq, at: Spot, key: str, out: list[Fault]) -> None:
        if len(value) < fewest:
            what = (
                f"{_shown(key)} has {len(value)} of at least {fewest}" if value else f"{_shown(key)} is an empty list"
            )
            out.append((at, what, "nothing", "", example or "write one, or leave the key out"))
        elif len(value) > most:
            out.append(
                (at, f"{_shown(key)} has {len(value)}", "long", f"{most} are the most that fit here", "make two of it")
            )
        spots = getattr(value, "values_at", None) or [at] * len(value)
        if each is not None:
            for one, spot in zip(value, spots, strict=True):
                each(one, spot, key, out)
        if unique:
            for n, one in enumerate(value):
                if one is not BROKEN and one in value[:n]:
                    out.append((spots[n], f'"{one}" stands twice in {_shown(key)}', "twice", "", "keep one of them"))

    return run


def _object(part: Mapping[str, Any], shape: str, noun: str, example: str) -> Check:
    properties = {name: _compiled(sub, shape, f"`{name}`") for name, sub in part.get("properties", {}).items()}
    examples = {name: _example(_seen(sub, shape)) for name, sub in part.get("properties", {}).items()}
    required = part.get("required", [])
    others = part.get("additionalProperties", True)
    other = _compiled(others, shape, noun) if isinstance(others, dict) else None
    naming = part.get("propertyNames")
    named = _compiled({"type": "string", **_seen(naming, shape)}, shape, noun) if naming else None
    fewest = part.get("minProperties", 0)

    def run(value: Map, at: Spot, key: str, out: list[Fault]) -> None:
        spots = getattr(value, "values_at", {})
        for name, one in value.items():
            check = properties.get(name)
            if check is not None:
                check(one, spots.get(name, at), name, out)
            elif others is False:
                out.append(
                    (
                        _key_at(value, name, at),
                        f'"{_cut(name)}" is not a key of {noun}',
                        "unknown-key",
                        "",
                        _nearest(name, properties),
                    )
                )
            elif other is not None:
                other(one, spots.get(name, at), name, out)
            if named is not None:
                named(name, _key_at(value, name, at), "the key", out)
        for name in required:
            if name not in value:
                out.append(
                    (
                        at,
                        f'"{name}" is missing in {noun}',
                        "missing",
                        "",
                        _cut(f"write {name}: {examples.get(name, '').removeprefix('for example ')}".rstrip(), 100),
                    )
                )
        if len(value) < fewest:
            out.append(
                (at, f"{_shown(key)} has nothing in it", "nothing", "", example or "fill it in, or leave the key out")
            )

    return run


def _one_of(branches: list[Mapping[str, Any]], shape: str, noun: str) -> Check:
    if all(set(branch) == {"required"} for branch in branches):
        return _one_key([branch["required"][0] for branch in branches], noun)
    seen = [_seen(branch, shape) for branch in branches]
    checks = [_compiled(branch, shape, noun) for branch in branches]

    def run(value: Any, at: Spot, key: str, out: list[Fault]) -> None:
        if value is BROKEN:
            return
        order = sorted(range(len(checks)), key=lambda n: -_likeness(value, seen[n]))
        first: list[Fault] = []
        checks[order[0]](value, at, key, first)
        if first and not any(_passes(checks[n], value, at) for n in order[1:]):
            out.extend(first)

    return run


def _one_key(names: list[str], noun: str) -> Check:
    def run(value: Any, at: Spot, key: str, out: list[Fault]) -> None:
        if isinstance(value, dict) and sum(name in value for name in names) != 1:
            out.append((at, f"{noun} has {'both' if all(name in value for name in names) else 'neither'} {' and '.join(names) if names[0] in value else ' nor '.join(names)}",
                        "one-of", "", f"write one of {', '.join(names)}"))  # fmt: skip

    return run


def _enum(allowed: list[str]) -> Check:
    words = set(allowed)

    def run(value: Any, at: Spot, key: str, out: list[Fault]) -> None:
        if isinstance(value, str) and value in words or value is BROKEN:
            return
        near = get_close_matches(str(value), allowed, 1, 0.5)
        hint = f'did you mean "{near[0]}"?' if near else f"write one of {', '.join(allowed)}"
        shown = f'"{_cut(str(value))}"' if isinstance(value, (str, int, float)) else _called(value)
        out.append((at, f"{_shown(key)} {shown} is not one of {', '.join(allowed)}", "choice", "", hint))

    return run


def _passes(check: Check, value: Any, at: Spot) -> bool:
    faults: list[Fault] = []
    check(value, at, "", faults)
    return not faults


def _likeness(value: Any, part: Mapping[str, Any]) -> int:
    """How much VALUE looks like what PART describes."""
    if isinstance(value, dict) and part.get("type") == "object":
        return 1 + sum(
            2 if name in part.get("required", ()) else 1 for name in value if name in part.get("properties", {})
        )
    kind = part.get("type", "")
    return int(
        not isinstance(value, dict) and isinstance(kind, str) and kind in KINDS and isinstance(value, KINDS[kind])
    )


def _seen(part: Mapping[str, Any], shape: str) -> Mapping[str, Any]:
    """PART with its $ref followed; its own examples win."""
    while "$ref" in part:
        target, shape, _ = _resolved(part["$ref"], shape)
        part = {**target, **{key: value for key, value in part.items() if key != "$ref"}}
    return part


def _example(part: Mapping[str, Any]) -> str:
    if not part.get("examples"):
        return ""
    first = part["examples"][0]
    return f"for example {first if isinstance(first, str) else _flow(first)}"


def _flow(value: Any) -> str:
    """VALUE as a person would write it in one line of YAML."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key}: {_flow(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_flow(one) for one in value) + "]"
    return value if isinstance(value, str) else json.dumps(value)


def _key_at(value: Any, name: str, at: Spot) -> Spot:
    return getattr(value, "keys_at", {}).get(name, at)


def _nearest(name: str, known: Iterable[str]) -> str:
    names = list(known)
    near = get_close_matches(name.lower().replace("-", "_"), names, 1, 0.6)
    return f'did you mean "{near[0]}"?' if near else f"known here: {', '.join(names)}"


def _as_id(value: str, pattern: re.Pattern[str]) -> str:
    """VALUE turned into an id, as a hint, if an id is what is wanted."""
    plain = re.sub(r"[^a-z0-9]+", "-", value.lower()).strip("-")
    return f'write "{plain}"' if plain and "(-[a-z0-9]+)*$" in pattern.pattern else ""


def _quoting(value: Any, checks: Mapping[str, Check]) -> str:
    """The hint for a bare number or true/false where words belong, or for yes/no and odd numbers where those do not."""
    if "string" in checks and isinstance(value, (bool, int, float)):
        return f'put quotes around it: "{str(value).lower() if isinstance(value, bool) else value}"'
    if "boolean" in checks and isinstance(value, str):
        return "write true or false"
    if (
        ("number" in checks or "integer" in checks)
        and isinstance(value, str)
        and re.fullmatch(r"[-+]?[\d.,_eE+-]+", value)
    ):
        return "write plain digits with a point, such as 12 or 0.5"
    return ""


def _called(value: Any) -> str:
    if isinstance(value, str):
        return f'"{_cut(value)}"'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return f"{value}"
    return {dict: "keys with values", list: "a list", type(None): "null"}.get(
        type(value), IN_WORDS["object"] if isinstance(value, dict) else "a list"
    )


def _either(words: Iterable[str]) -> str:
    found = list(words)
    return found[0] if len(found) == 1 else f"{', '.join(found[:-1])} or {found[-1]}"


def _shown(key: str) -> str:
    return key or "this"


def _cut(words: str, longest: int = 40) -> str:
    words = words.replace("\n", " ")
    return words if len(words) <= longest else words[: longest - 1] + "…"
