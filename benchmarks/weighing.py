"""What each page of the demo site weighs with everything it needs at first view.

    python benchmarks/weighing.py [SITE]

Under 200 kB (200,000 bytes) on the way to the reader for the page, its styles, scripts, fonts and pictures, compressed as web servers
do (gzip); what they weigh in the folder, unpacked, is told beside it. Each page is opened in Chromium at 810 x 1080 from a local
server, with nothing kept from another page and without the service worker (which fetches the rest of the site later, in the
background); what the browser asked for until a moment after the load event is counted.
SITE is a site built before; otherwise the demo site is built, without printed sheets.
"""

from __future__ import annotations

import gzip
import os
import shutil
import sys
import tempfile
import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from statistics import median
from urllib.parse import urlsplit

from measuring import build_cost, machine
from playwright.sync_api import sync_playwright

MOST_KB = 200
SETTLES_MS = 100
"""After the load event: time for a script to ask for more."""
ROOT = Path(__file__).parent.parent


class Silent(SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        """Say nothing."""


def kind(uri: str) -> str:
    """The sort of page: its folder, or its own name at the top."""
    return uri.split("/")[0] if "/" in uri else uri


def asked_for(site: Path) -> Iterator[tuple[str, set[str]]]:
    """(page, every file of the site that the browser asked for) of each page."""
    pages = sorted(path.relative_to(site).as_posix() for path in site.rglob("*.html"))
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Silent, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--disable-gpu", *(["--no-sandbox"] if os.getuid() == 0 else [])],
        )
        for uri in pages:
            context = browser.new_context(viewport={"width": 810, "height": 1080}, service_workers="block")
            page, asked = context.new_page(), set()
            page.on("request", lambda request, asked=asked: asked.add(urlsplit(request.url).path.lstrip("/")))
            page.goto(f"http://127.0.0.1:{server.server_port}/{uri}", wait_until="load")
            page.wait_for_timeout(SETTLES_MS)
            yield uri, {one for one in asked if (site / one).is_file()}
            context.close()
        browser.close()
    server.shutdown()


def main() -> int:
    """Print the heaviest page of each kind, and each that is too heavy; 1 when there is one."""
    root = Path(tempfile.mkdtemp())
    try:
        site = Path(sys.argv[1]) if len(sys.argv) > 1 else root / "site"
        if len(sys.argv) < 2:
            build_cost(ROOT, "--without-sheets", "--into", str(site))
        unpacked = {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}
        sent = {uri: min(len(content), len(gzip.compress(content, 6))) for uri, content in unpacked.items()}
        needed = dict(asked_for(site))
    finally:
        shutil.rmtree(root)
    light = {uri: sum(sent[one] for one in asked) / 1000 for uri, asked in needed.items()}
    full = {uri: sum(len(unpacked[one]) for one in asked) / 1000 for uri, asked in needed.items()}
    print(machine())
    for sort in sorted(set(map(kind, light))):
        some = [uri for uri in light if kind(uri) == sort]
        worst = max(some, key=lambda uri: light[uri])
        print(f"{sort} ({len(some)}): heaviest {worst} {light[worst]:.0f} kB sent, {full[worst]:.0f} kB unpacked")
    over = {uri: f"{weight:.0f}" for uri, weight in light.items() if weight > MOST_KB}
    large = [uri for uri, weight in full.items() if weight > MOST_KB]
    print(f"{len(light)} pages: sent {median(light.values()):.0f} kB (median), {max(light.values()):.0f} kB (heaviest; at most {MOST_KB}), heavier {over or 'none'}; "
          f"unpacked {median(full.values()):.0f} kB (median), {max(full.values()):.0f} kB (heaviest), {len(large)} pages above {MOST_KB} kB")  # fmt: skip
    return int(bool(over))


if __name__ == "__main__":
    raise SystemExit(main())
