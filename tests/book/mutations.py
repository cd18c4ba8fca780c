"""Ways in which a file of the book comes to harm: by bytes, by lines, and by its parts."""

from __future__ import annotations

import json
from copy import deepcopy
from random import Random

from fettlebook.book.strict_yaml import read_text

SNIPPETS = [b"\t", b"\x00", b"\xff\xfe", b"#7", b" #x", b"&a ", b"*a", b"!!python/object:x ", b"{", b"}", b"[", b"]", b": ", b"- ", b"---\n", b"...\n", b"? ", b"|\n", b">",
            b'"', b"'", b"<<: ", b"\r", b"\\", b"{x}", b"{one-division}", b"<script>", b"javascript:alert(1)", b"[a](javascript:x)", b"{{ 1 }}", b"../../", "\u202e".encode(),
            b"9" * 40, b"1e999", b"-0", b".5", b"null", b"true", b"~", b"\xe2\x80\xa8", b"\xed\xa0\x80", b"%", b"@", b"`"]  # fmt: skip
VALUES = [None, True, False, 0, -1, 1.5, 10**29, 1e300, "", " ", "x", "no", "60:40", "{nothing}", "{one-division}", "javascript:x", "a" * 5000, "\x1b[2J", "é", [], {}, [[]], [{}],
          {"use": "isolate"}, {"use": 1}, [{"use": "lock-off"}], {"id": "x"}, ["x", "x"], "W017", "levels", "1 to 2 h", "blue-lathe", "find-a-leak#x", {"machine": "blue-lathe"}]  # fmt: skip
KEYS = [
    "use",
    "id",
    "do",
    "check",
    "with",
    "where",
    "values",
    "table",
    "figure",
    "draw",
    "image",
    "alt",
    "at",
    "low",
    "cautions",
    "machines",
    "",
    "<<",
    "x y",
]


def by_bytes(random: Random, content: bytes) -> bytes:
    """CONTENT with some bytes cut, doubled or put in."""
    for _ in range(random.randint(1, 6)):
        start = random.randint(0, len(content))
        end = min(len(content), start + random.choice([0, 0, 1, 2, 7, 40]))
        put = random.choice(
            [b"", random.choice(SNIPPETS), random.randbytes(random.randint(0, 3)), content[start:end] * 2]
        )
        content = content[:start] + put + content[end:]
    return content


def by_parts(random: Random, content: bytes) -> bytes:
    """CONTENT as JSON (which is YAML) with some parts changed, deleted, doubled or moved."""
    tree, _ = read_text(content.decode(), "f.yml")
    tree = json.loads(json.dumps(tree))
    for _ in range(random.randint(1, 4)):
        paths = [path for path in _paths(tree) if path]
        if not paths:
            break
        at, last = _reach(tree, random.choice(paths))
        how = random.choice(["change", "change", "delete", "add", "move"])
        if how == "delete":
            del at[last]
        elif how == "change":
            at[last] = deepcopy(random.choice(VALUES))
        elif how == "move":
            there, other = _reach(tree, random.choice(paths))
            at[last] = deepcopy(there[other])
        elif isinstance(at, dict):
            at[random.choice(KEYS)] = deepcopy(random.choice(VALUES))
        else:
            at.append(deepcopy(random.choice(VALUES)))
    return json.dumps(tree, ensure_ascii=random.random() < 0.5).encode("utf-8", "surrogatepass")


def _reach(tree, path):
    """The mapping or list that holds the part at PATH, and the part's key in it."""
    for key in path[:-1]:
        tree = tree[key]
    return tree, path[-1]


def _paths(value, path=()):
    yield path
    if isinstance(value, dict):
        for key, one in value.items():
            yield from _paths(one, (*path, key))
    elif isinstance(value, list):
        for n, one in enumerate(value):
            yield from _paths(one, (*path, n))
