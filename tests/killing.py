"""Kills builds at random moments and says what was left of the old site each time.

    python tests/killing.py BOOK COUNT SEED

BOOK is a folder with procedures/, docs/ and mkdocs.yml. Every second moment is drawn from the whole length of a build, the others come
a few milliseconds after the last file was begun, when the new site is put in place; so that a busy machine, on which a build takes
longer, is hit there too. Each build runs in a process of its own, which gets SIGKILL and can tidy up nothing.
"""

import hashlib
import json
import os
import random
import shutil
import signal
import sys
import time
from pathlib import Path

from fettlebook.book.load import load
from fettlebook.cli import built

AFTER_S = 0.002
"""How long after the last file was begun a kill comes, on the average."""

LAST = "sw.js"
"""The file that is written last."""


def content(folder):
    """A digest of every file's name and bytes."""
    total = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.is_file():
            total.update(
                path.relative_to(folder).as_posix().encode() + b"\0" + hashlib.sha256(path.read_bytes()).digest()
            )
    return total.hexdigest()


def started(root, site, book):
    """The number of a process that builds BOOK into SITE."""
    if pid := os.fork():
        return pid
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    os._exit(built(root, site, book, with_sheets=False))


def until_the_last_file(path, most_s):
    end = time.monotonic() + most_s
    while not path.exists() and time.monotonic() < end:
        time.sleep(0.0005)


def kills(root, count, seed):
    """What was found after each kill: "old", "new" or "broken"; and what an undisturbed build leaves beside the site."""
    site, spare = root / "site", root / "spare"
    book, findings = load(root)
    assert not findings, findings[:3]
    spare.mkdir()
    (spare / "index.html").write_text("the old site", encoding="utf-8")
    (spare / "only-in-the-old.html").write_text("an old page", encoding="utf-8")
    old = content(spare)
    begun = time.monotonic()
    os.waitpid(started(root, site, book), 0)
    length, new = time.monotonic() - begun, content(site)
    random.seed(seed)
    found = []
    for n in range(count):
        if content(site) != old:
            shutil.rmtree(site)
            shutil.copytree(spare, site)
        moment = random.uniform(0, length) if n % 2 else random.expovariate(1 / AFTER_S)
        pid = started(root, site, book)
        if n % 2 == 0:
            until_the_last_file(root / f".site-building-{pid}" / LAST, 10 * length)
        time.sleep(moment)
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        found.append({old: "old", new: "new"}.get(content(site), "broken"))
    os.waitpid(started(root, site, book), 0)
    return {
        "found": found,
        "last": content(site) == new,
        "left": [p.name for p in root.iterdir() if p.name.startswith(".site")],
    }


if __name__ == "__main__":
    print(json.dumps(kills(Path(sys.argv[1]).absolute(), int(sys.argv[2]), int(sys.argv[3]))))
