"""A new procedure to fill in: commented, in the order in which one fills it in, and without a fault from the start."""

from __future__ import annotations

import json
import os
import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from functools import cache
from pathlib import Path
from textwrap import indent

import yaml

from fettlebook.book import shapes
from fettlebook.book.strict_yaml import read_text

HERE = Path(__file__).parent
WRITE_HERE = "Write here:"
"""How every place starts that is still to be filled in."""
LONGEST_ID = 60


class CannotStart(ValueError):
    """A new procedure cannot be written; the message says why."""


@cache
def kinds() -> Mapping[str, Mapping[str, str]]:
    """The kinds of procedure that there is a skeleton for, with what each is about."""
    return yaml.load((HERE / "skeletons.yml").read_text(encoding="utf-8"), Loader=yaml.SafeLoader)


def id_for(title: str) -> str:
    """The id (and file name) for a TITLE: small letters and digits, words joined by hyphens, accents left off.

    Raises CannotStart if nothing is left.

    >>> id_for("Replace the feed-shaft's key, 5 mm")
    'replace-the-feed-shafts-key-5-mm'
    """
    plain = unicodedata.normalize("NFKD", title.replace("ß", "ss").replace("ø", "o").replace("Ø", "O"))
    plain = re.sub(r"['’`]", "", plain).encode("ascii", "ignore").decode()
    words = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")
    if len(words) > LONGEST_ID:
        words = words[: LONGEST_ID + 1].rsplit("-", 1)[0] if "-" in words[: LONGEST_ID + 1] else words[:LONGEST_ID]
    if not words:
        raise CannotStart(f'no file name can be made from "{title[:60]}"; use some letters a to z or digits')
    return words


def skeleton(title: str, kind: str, by: str, day: date, schema: str) -> str:
    """The text of a new procedure.

    kind    one of kinds()
    by      who writes it
    schema  where the schema lies, seen from the new file
    Raises CannotStart for a title or name that cannot stand in a file.
    """
    title, by = " ".join(title.split()), " ".join(by.split())
    if not 3 <= len(title) <= 120:
        raise CannotStart(f"a title has 3 to 120 characters, this one {len(title)}")
    slots = {
        "schema": schema,
        "title": _quoted(title),
        "date": day.isoformat(),
        "by": _quoted(by),
        "group": kinds()[kind]["group"],
    }
    depth = {"cautions": 2, "protection": 4, "numbers": 2, "steps": 6}
    slots |= {slot: indent(kinds()[kind][slot].rstrip("\n"), " " * spaces) for slot, spaces in depth.items()}
    text = (HERE / "skeleton.txt").read_text(encoding="utf-8")
    return re.sub(r"@(\w+)@", lambda match: slots[match[1]], text)


def new_procedure(root: Path, title: str, kind: str, by: str, day: date) -> Path:
    """Write the skeleton for TITLE into the book at ROOT and give its path. Never writes over a file. Raises CannotStart."""
    if kind not in kinds():
        raise CannotStart(f'"{kind}" is no kind of procedure; there is {", ".join(kinds())}')
    id = id_for(title)
    path = root / "procedures" / f"{id}.yml"
    there = next((one for one in (root / "procedures").rglob(f"{id}.yml")), None)
    if there is not None:
        raise CannotStart(f"{there.relative_to(root)} is there already; give the new one another title")
    text = skeleton(title, kind, by, day, _schema_from(path.parent))
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("x", encoding="utf-8") as file:
            file.write(text)
    except OSError as fault:
        raise CannotStart(f"{path} cannot be written ({fault.strerror})") from None
    return path


def _schema_from(folder: Path) -> str:
    """Where the schema of procedures lies, seen from FOLDER."""
    return Path(os.path.relpath(shapes.HERE / "procedure.json", folder.resolve())).as_posix()


def _quoted(words: str) -> str:
    """WORDS as a YAML value: in quotes unless they are read as themselves without."""
    value, findings = read_text(f"in: {{key: {words}}}", "")
    if value == {"in": {"key": words}} and not findings:
        return words
    quoted = json.dumps(words, ensure_ascii=False)
    _, findings = read_text(f"key: {quoted}", "")
    if findings:
        raise CannotStart(f'"{words[:60]}" holds a sign that cannot stand in a file')
    return quoted
