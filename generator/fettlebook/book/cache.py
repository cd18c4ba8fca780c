"""What was read and computed before, kept beside the book in .fettlebook-cache/, so that a run with little changed is short.

An entry's name is a digest of everything that it depends on: the file's bytes, the shop's files, and the program itself
with its tables and figures. Nothing is ever out of date; it is only no longer asked for. Entries are signed with a key
that lies in the user's own cache folder, since a book may come from a stranger with a cache made to harm: what is not
signed here is not opened. Where nothing can be written, everything is worked out anew and nothing is said.
"""

from __future__ import annotations

import hashlib
import hmac
import os
import pickle
import secrets
import sys
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

from fettlebook import __version__

FOLDER = ".fettlebook-cache"
PROGRAM = Path(__file__).parent.parent
PARTS = ("data", "tables", "draw", "book", "check")
"""Folders of the program on which an answer depends."""
SIGNATURE = 32
SPARE = 50
"""Entries that are left lying although the last run did not ask for them."""


def digest(*parts: bytes | str) -> str:
    """One name for all PARTS together."""
    total = hashlib.blake2b(digest_size=20)
    for part in parts:
        content = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
        total.update(len(content).to_bytes(8, "big"))
        total.update(content)
    return total.hexdigest()


@cache
def program_digest() -> str:
    """A digest of the program's version, Python's, and every file on which an answer depends."""
    files = (
        path
        for part in PARTS
        for path in sorted((PROGRAM / part).rglob("*"))
        if path.suffix in {".py", ".yml", ".csv", ".json"}
    )
    return digest(__version__, sys.version, *(piece for path in files for piece in (path.name, path.read_bytes())))


class Cache:
    """Entries by digest. Every fault of reading or writing is a miss.

    One that is kept for several runs (a live preview) also has its entries in memory, and reads none twice.
    """

    def __init__(self, root: Path) -> None:
        self.folder = root / FOLDER
        self.key = _key()
        self.used: set[str] = set()
        self.memory: dict[str, Any] = {}

    def get(self, name: str) -> Any:
        """The entry called NAME, None if there is none that this user signed."""
        self.used.add(name)
        if name in self.memory or self.key is None:
            return self.memory.get(name)
        try:
            content = (self.folder / name).read_bytes()
            if not hmac.compare_digest(content[:SIGNATURE], self._signature(name, content[SIGNATURE:])):
                return None
            self.memory[name] = pickle.loads(content[SIGNATURE:])
            return self.memory[name]
        except Exception:  # a damaged entry may fail in any way, and is only a miss
            return None

    def put(self, name: str, value: Any) -> None:
        """Keep VALUE under NAME, whole or not at all."""
        self.used.add(name)
        self.memory[name] = value
        if self.key is None:
            return
        aside = self.folder / f"{name}.{os.getpid()}"
        try:
            self.folder.mkdir(exist_ok=True)
            content = pickle.dumps(value, protocol=5)
            aside.write_bytes(self._signature(name, content) + content)
            aside.replace(self.folder / name)
        except (OSError, pickle.PicklingError, TypeError, AttributeError, RecursionError):
            with suppress(OSError):
                aside.unlink(missing_ok=True)

    def sweep(self) -> None:
        """Remove what this run did not ask for, once there is more of it than of the rest (another command may want some)."""
        self.memory = {name: value for name, value in self.memory.items() if name in self.used}
        try:
            stale = [path for path in self.folder.iterdir() if path.name not in self.used]
            if len(stale) > len(self.used) + SPARE:
                for path in stale:
                    path.unlink(missing_ok=True)
        except OSError:
            pass
        self.used = set()

    def _signature(self, name: str, content: bytes) -> bytes:
        return hmac.digest(self.key or b"", name.encode() + content, "sha256")


@cache
def _key() -> bytes | None:
    """This user's key, made at the first use; None where none can be kept."""
    try:
        home = Path(os.environ.get("XDG_CACHE_HOME") or Path.home() / ".cache")
        path = home / "fettlebook" / "key"
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            aside = path.with_name(f"key.{os.getpid()}")
            descriptor = os.open(aside, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(descriptor, "wb") as file:
                file.write(secrets.token_bytes(32))
            aside.replace(path)
        key = path.read_bytes()
        return key if len(key) == 32 else None
    except (OSError, RuntimeError):
        return None
