"""What building a book costs, against plain mkdocs-material building the same pages from ready Markdown with its own search.

    python benchmarks/building.py [PROCEDURES]

At most 0.4 of its processor time. The plain site gets the words, lists, tables and links of every page but its drawings
(plain_pages.py), prunes its navigation, and neither reads YAML, checks, computes nor writes pages for a single file, so it has less
to do. Both build without printed sheets, one after the other, each in a process of its own, ours once before so that it can be
stripped to Markdown.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from measuring import Cost, build_cost, cost, machine
from plain_pages import write_plain_site
from synthetic_book import write_whole_book

MOST_OF_PLAIN = 0.4


def pages_of(site: Path) -> list[tuple[str, str]]:
    """(uri, html) of every page of a built site; copies as a single file are left out."""
    paths = sorted(path for path in site.rglob("*.html") if "single" not in path.relative_to(site).parts)
    return [
        (path.relative_to(site).as_posix(), path.read_text(encoding="utf-8"))
        for path in paths
        if path.name != "404.html"
    ]


def main() -> int:
    """Print both and their ratio; 1 when it is too large."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    root = Path(tempfile.mkdtemp())
    try:
        write_whole_book(root / "book", count)
        build_cost(root / "book", "--without-sheets")
        pages = pages_of(root / "book" / "site")
        write_plain_site(root / "plain", pages, "Made-up Works")
        shutil.rmtree(root / "book" / ".fettlebook-cache", ignore_errors=True)
        ours: Cost = build_cost(root / "book", "--without-sheets")
        plain = cost([sys.executable, "-m", "mkdocs", "build", "-q", "-f", root / "plain" / "mkdocs.yml"])
        again = build_cost(root / "book", "--without-sheets")
        made = sum(1 for _ in (root / "plain" / "site").rglob("*.html"))
        assert made >= len(pages), (made, len(pages))
    finally:
        shutil.rmtree(root)
    ratio = ours.cpu_s / plain.cpu_s
    print(machine())
    print(f"building {count} procedures, {len(pages)} pages: {ours.cpu_s:.1f} s of processor ({ours.wall_s:.1f} s on the clock), again with the "
          f"cache {again.cpu_s:.1f} s; plain site {plain.cpu_s:.1f} s ({plain.wall_s:.1f} s): ratio {ratio:.2f}, at most {MOST_OF_PLAIN}")  # fmt: skip
    return int(ratio > MOST_OF_PLAIN)


if __name__ == "__main__":
    raise SystemExit(main())
