"""How building grows from 100 to 3,000 procedures, and how much memory the largest takes.

    python benchmarks/growing.py [SMALL MIDDLE LARGE]

What one procedure more costs between MIDDLE and LARGE is at most a tenth above what it costs between SMALL and MIDDLE (the tables
and lists that every book has are left out that way, which would make small books look dear); at most 400 MB at LARGE. Of two runs at
each size the cheaper counts.
"""

from __future__ import annotations

import shutil
import sys
import tempfile
from pathlib import Path

from measuring import Cost, build_cost, machine
from synthetic_book import write_whole_book

MOST_GROWTH, MOST_MB = 1.1, 400


def at(count: int) -> Cost:
    """Build a book of COUNT procedures, nothing kept from before."""
    root = Path(tempfile.mkdtemp())
    try:
        write_whole_book(root, count)
        return build_cost(root, "--without-sheets")
    finally:
        shutil.rmtree(root)


def main() -> int:
    """Print each size and the growth; 1 when it is too steep or takes too much memory."""
    sizes = [int(word) for word in sys.argv[1:4]] or [100, 1000, 3000]
    print(machine())
    runs = {}
    for size in sizes:
        pair = [at(size), at(size)]
        runs[size] = min(pair, key=lambda run: run.cpu_s)
        peak = max(run.peak_mb for run in pair)
        print(f"{size} procedures: {' and '.join(f'{run.cpu_s:.1f}' for run in pair)} s of processor, {runs[size].cpu_s / size * 1000:.2f} ms each; "
              f"peak {peak:.0f} MB in {runs[size].most_processes} process(es)", flush=True)  # fmt: skip
    small, middle, large = sizes
    early = (runs[middle].cpu_s - runs[small].cpu_s) / (middle - small)
    late = (runs[large].cpu_s - runs[middle].cpu_s) / (large - middle)
    print(f"one procedure more: {early * 1000:.2f} ms up to {middle}, {late * 1000:.2f} ms up to {large}: growth {late / early:.2f}, at most "
          f"{MOST_GROWTH}; peak {peak:.0f} MB at {large}, at most {MOST_MB}")  # fmt: skip
    return int(late > MOST_GROWTH * early or peak > MOST_MB)


if __name__ == "__main__":
    raise SystemExit(main())
