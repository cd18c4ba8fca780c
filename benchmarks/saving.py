"""How soon a saved file is seen in the preview of a book of 1,000 procedures.

    python benchmarks/saving.py [PROCEDURES]

Within a second on a machine that has nothing else to do: from the moment the file is written until the server has told the open page that a newer edition is there and the
page, asked for anew, holds the new words. Saved are a step's words, a summary (which lists show) and a title (which lists and
neighbours show), in turn. Beside the time on the clock stands the server's own processor time for it, which others on the machine
lengthen less; the clock adds the time until the server looks at the files, and that for which it waits, so that several files
saved together count as one: some 0.15 s together.
"""

from __future__ import annotations

import os
import shutil
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


def used_s(pid: int) -> float:
    """Processor time that a process has used [s]."""
    fields = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def saved_s(address: str, path: Path, page: str, old: str, new: str) -> float:
    """Seconds on the clock from writing NEW for OLD in the file at PATH until PAGE shows it to a reader who had it open."""
    edition = int(answer(f"{address}/livereload/0/0"))
    text = path.read_text(encoding="utf-8")
    assert old in text, old
    begun = time.perf_counter()
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    while int(answer(f"{address}/livereload/{edition}/{time.time_ns()}")) <= edition:
        pass
    assert new in answer(f"{address}/{page}"), f"{new} is not on {page}"
    return time.perf_counter() - begun


def saves(address: str, folder: Path, server: int) -> dict[str, list[tuple[float, float]]]:
    """(on the clock, of processor) by what was saved [s]."""
    found: dict[str, list[tuple[float, float]]] = {"a step": [], "a summary": [], "a title": []}
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
            before = used_s(server)
            clock = saved_s(address, path, page, old, new)
            found[what].append((clock, used_s(server) - before))
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
            found = saves(address, root / "procedures", running.pid)
        finally:
            running.terminate()
            running.wait(timeout=60)
            shutil.rmtree(root)
    print(machine())
    told = "; ".join(
        f"{what} {median(t for t, _ in times):.2f} s ({', '.join(f'{t:.2f}' for t, _ in times)}; of processor {median(c for _, c in times):.2f} s)"
        for what, times in found.items()
    )
    print(f"a save in the preview of {count} procedures is seen after: {told}; at most {MOST_S} s")
    return int(max(median(t for t, _ in times) for times in found.values()) > MOST_S)


if __name__ == "__main__":
    raise SystemExit(main())
