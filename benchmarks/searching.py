"""How long search takes in a book of 3,000 procedures, in Chromium slowed four times.

    python benchmarks/searching.py [PROCEDURES [SITE]]

Ready within 150 ms: from the reader's touch of the field until the index, read from its file, can answer. Answers within 30 ms: all
that happens at one keystroke, from the `input` event until the list stands in the page; laying out and painting, which come after,
are told apart. Asked are the hundred questions of tests/browser/search_queries.yml as a whole, words that the made-up book holds,
single letters (the most pages) and misspelt words (the most comparing). The index is under 1.5 MB when compressed as a web server does.
Opened from the folder, as on a tablet without a network; SITE is a site built before by this program.
"""

from __future__ import annotations

import gzip
import os
import shutil
import sys
import tempfile
from pathlib import Path
from statistics import median

import yaml
from measuring import build_cost, machine
from playwright.sync_api import Page, sync_playwright
from synthetic_book import write_whole_book

SLOWED, MOST_READY_MS, MOST_ANSWER_MS, MOST_INDEX_MB = 4, 150, 30, 1.5
ROOT = Path(__file__).parent.parent
MADE_UP = [
    "spindle",
    "rattles at speed 17",
    "spindle nut smooth",
    "felgar",
    "oil vg 46",
    "job 2718",
    "align the tailstock quill",
    "clean machine 1",
]
LETTERS = ["s", "m", "j", "1", "t"]
MISSPELT = ["spindel", "tailstokc", "alighn", "mesure the colar", "tightn"]

READY = """() => new Promise(done => {
  const field = document.getElementById("book-find");
  const from = performance.now();
  new MutationObserver((_, watch) => {
    const script = [...document.scripts].find(one => one.src.endsWith("search-index.js"));
    if (script) { watch.disconnect(); script.addEventListener("load", () => done(performance.now() - from)); }
  }).observe(document.head, {childList: true});
  field.focus();
})"""
ANSWER = """query => {
  const field = document.getElementById("book-find");
  field.value = query;
  const from = performance.now();
  field.dispatchEvent(new Event("input", {bubbles: true}));
  const answered = performance.now();
  document.body.offsetHeight;
  return [answered - from, performance.now() - answered, document.querySelectorAll("#book-found a").length];
}"""


def slowed(page: Page) -> None:
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})


def figures(site: Path) -> tuple[list[float], dict[str, tuple[float, float, int]]]:
    """How long it takes to be ready, a few times [ms], and for each question the shortest of three times to answer and to lay out [ms]."""
    asked = [
        row[0]
        for row in yaml.load(
            (ROOT / "tests/browser/search_queries.yml").read_text(encoding="utf-8"), Loader=yaml.BaseLoader
        )
    ]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=["--disable-gpu", *(["--no-sandbox"] if os.getuid() == 0 else [])],
        )
        ready = []
        for _ in range(5):
            page = browser.new_page(viewport={"width": 810, "height": 1080})
            page.goto((site / "index.html").as_uri())
            slowed(page)
            ready.append(page.evaluate(READY))
        answers = {}
        for query in [*asked, *MADE_UP, *LETTERS, *MISSPELT]:
            found = [page.evaluate(ANSWER, query) for _ in range(3)]
            answers[query] = tuple(min(found))
        browser.close()
    return ready, answers


def main() -> int:
    """Print the figures; 1 when one is too large."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 3000
    root = Path(tempfile.mkdtemp())
    try:
        site = Path(sys.argv[2]) if len(sys.argv) > 2 else root / "site"
        if len(sys.argv) < 3:
            write_whole_book(root, count)
            build_cost(root, "--without-sheets")
        index = (site / "assets" / "search-index.js").read_bytes()
        ready, answers = figures(site)
    finally:
        shutil.rmtree(root)
    packed = len(gzip.compress(index, 6)) / 1e6
    times = sorted(answer for answer, _, _ in answers.values())
    late = {query: f"{answer:.0f}" for query, (answer, _, _) in answers.items() if answer > MOST_ANSWER_MS}
    print(machine())
    print(f"search at {count} procedures, Chromium slowed {SLOWED} times: ready in {median(ready):.0f} ms (median of {', '.join(f'{r:.0f}' for r in ready)}; at most "
          f"{MOST_READY_MS}); {len(times)} questions answered in {median(times):.1f} ms (median), {times[int(0.95 * len(times))]:.1f} ms (95 of 100), "
          f"{times[-1]:.1f} ms (slowest; at most {MOST_ANSWER_MS}); layout {median(lay for _, lay, _ in answers.values()):.1f} ms; index "
          f"{len(index) / 1e6:.2f} MB, compressed {packed:.2f} MB (at most {MOST_INDEX_MB})")  # fmt: skip
    print(
        f"later than {MOST_ANSWER_MS} ms: {late or 'none'}; without an answer: {[q for q, (_, _, n) in answers.items() if not n] or 'none'}"
    )
    return int(median(ready) > MOST_READY_MS or bool(late) or packed > MOST_INDEX_MB)


if __name__ == "__main__":
    raise SystemExit(main())
