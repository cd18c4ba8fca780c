"""The service worker that keeps the whole book on the device, where the address allows one: https, or this machine itself."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path

from fettlebook.pages.scripts import shrunk

WORKER = Path(__file__).parent / "worker.js"
ON_REQUEST = ("sheets/", "single/")
"""Files that are taken in when somebody opens them or asks for all of them: large, and not needed to work through a procedure."""


def edition(hashes: Mapping[str, str]) -> str:
    """A short name for the whole content: changes with any byte of any file."""
    return hashlib.sha256(json.dumps(sorted(hashes.items())).encode()).hexdigest()[:16]


def hashed(folder: Path) -> dict[str, str]:
    """SHA-256 of every file under FOLDER by its uri, the worker itself left out."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and path.name != "sw.js"
    }


def service_worker(site: str, hashes: Mapping[str, str], bytes_on_request: int = 0) -> str:
    """The worker's script: it takes in the files of one edition, each checked against its hash, and serves only those.

    site              the site's id
    hashes            SHA-256 of every file by uri
    bytes_on_request  size of the files under ON_REQUEST together [bytes], told before somebody asks for them
    """
    known = {
        "site": site,
        "edition": edition(hashes),
        "files": dict(hashes),
        "later": ON_REQUEST,
        "bytes": bytes_on_request,
    }
    book = json.dumps(known, separators=(",", ":"), sort_keys=True)
    return f"self.BOOK={book};\n{shrunk(WORKER.read_text(encoding='utf-8'))}"


def bytes_on_request(folder: Path) -> int:
    """How large the files under ON_REQUEST are together [bytes]."""
    return sum(p.stat().st_size for part in ON_REQUEST for p in (folder / part).rglob("*") if p.is_file())


def manifest(name: str, site: str) -> str:
    """The web app manifest: name and icon for a book that is installed."""
    icons = [{"src": f"assets/icon-{size}.png", "sizes": f"{size}x{size}", "type": "image/png"} for size in (192, 512)]
    about = {
        "name": name, "short_name": name[:24], "id": f"./?{site}", "start_url": "./index.html", "scope": "./", "display": "standalone",
        "background_color": "#fcfbf8", "theme_color": "#6b2a78", "icons": [*icons, {"src": "assets/icon.svg", "sizes": "any", "type": "image/svg+xml"}],
    }  # fmt: skip
    return json.dumps(about, ensure_ascii=False, indent=1) + "\n"
