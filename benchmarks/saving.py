"""How soon a saved file is seen in the preview of a book of 1,000 procedures.

    python benchmarks/saving.py [PROCEDURES]

Within a second: from the moment the file is written until the server has told the open page that a newer edition is there and the
page, asked for anew, holds the new words. Saved are a step's words, a summary (which lists show) and a title (which lists and
neighbours show), in turn.
"""

from __future__ import annotations

import shutil
import signal
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from pathlib import Path
from statistics import median

from measuring import machine
from synthetic_book import write_whole_book

MOST_S = 1.0
TIMES = 4


def answer(address: str) -> str:
    with urllib.request.urlopen(address, timeout=120) as page:
        return page.read().decode()


def free_port() -> int:
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        return int(free.getsockname()[1])


def until_it_serves(address: str, seconds: float = 600) -> None:
    deadline = time.monotonic() + seconds
    while True:
        try:
            answer(address)
            return
        except OSError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.2)


def saved_s(address: str, path: Path, page: str, old: str, new: str) -> float:
    """Seconds from writing NEW for OLD in the file at PATH until PAGE shows it to a reader who had it open."""
    edition = int(answer(f"{address}/livereload/0/0"))
    text = path.read_text(encoding="utf-8")
    assert old in text, old
    begun = time.perf_counter()
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    while int(answer(f"{address}/livereload/{edition}/{time.time_ns()}")) <= edition:
        pass
    assert new in answer(f"{address}/{page}"), f"{new} is not on {page}"
    return time.perf_counter() - begun


def saves(address: str, folder: Path) -> dict[str, list[float]]:
    """Times by what was saved."""
    found: dict[str, list[float]] = {"a step": [], "a summary": [], "a title": []}
    for n in range(TIMES):
        path, page = folder / f"job-{7 * n}.yml", f"procedures/job-{7 * n}.html"
        lines = path.read_text(encoding="utf-8").split("\n")
        step = next(line for line in lines if line.startswith("      - do: ")).removeprefix("      - do: ")
        summary = next(line for line in lines if line.startswith("summary: ")).removeprefix("summary: ")
        title = lines[0].removeprefix("title: ")
        for what, old, new in (
            ("a step", step, f"Quickly now {n}."),
            ("a summary", summary, f"A short one {n}."),
            ("a title", title, f"Renamed {n}"),
        ):
            found[what].append(saved_s(address, path, page, old, new))
    return found


def main() -> int:
    """Print the times; 1 when the median of one kind is too large."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    root, port = Path(tempfile.mkdtemp()), free_port()
    write_whole_book(root, count)
    address = f"http://127.0.0.1:{port}"
    with (root / "log").open("w", encoding="utf-8") as log:
        running = subprocess.Popen(
            [sys.executable, "-m", "fettlebook", "serve", "--address", f"127.0.0.1:{port}"],
            cwd=root,
            stdout=log,
            stderr=log,
        )
        try:
            until_it_serves(f"{address}/index.html")
            found = saves(address, root / "procedures")
        finally:
            running.send_signal(signal.SIGINT)
            running.wait(timeout=60)
            shutil.rmtree(root)
    print(machine())
    told = "; ".join(
        f"{what} {median(times):.2f} s ({', '.join(f'{t:.2f}' for t in times)})" for what, times in found.items()
    )
    print(f"a save in the preview of {count} procedures is seen after: {told}; at most {MOST_S} s")
    return int(max(median(times) for times in found.values()) > MOST_S)


if __name__ == "__main__":
    raise SystemExit(main())
