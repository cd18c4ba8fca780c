"""What a command costs: processor time of itself and all it starts, time on the clock, and memory of the whole tree of processes.

Processor time is compared, since others may use the machine. Memory is the sum over the tree of what each process holds (RSS in
/proc, looked at every 20 ms), so that pages shared by two processes count twice: too much rather than too little. Where one process
alone reaches more between two looks, the system's own record of it (ru_maxrss) counts.
"""

from __future__ import annotations

import contextlib
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

LOOK_EVERY_S = 0.02
PAGE_BYTES = os.sysconf("SC_PAGE_SIZE")


@dataclass(frozen=True)
class Cost:
    """Of one run. peak_mb is in 10^6 bytes."""

    cpu_s: float
    wall_s: float
    peak_mb: float
    most_processes: int


def tree(top: int) -> list[int]:
    """TOP and every process below it."""
    found, left = [], [top]
    while left:
        pid = left.pop()
        found.append(pid)
        with contextlib.suppress(OSError):
            for task in Path(f"/proc/{pid}/task").iterdir():
                left += map(int, (task / "children").read_text(encoding="ascii").split())
    return found


def held_bytes(pids: Sequence[int]) -> int:
    """The sum of what these processes hold in memory."""
    total = 0
    for pid in pids:
        with contextlib.suppress(OSError, ValueError, IndexError):
            total += int(Path(f"/proc/{pid}/statm").read_text(encoding="ascii").split()[1]) * PAGE_BYTES
    return total


def cost(command: Sequence[str | Path], cwd: Path | None = None) -> Cost:
    """Run COMMAND to its end. Raises RuntimeError with its last words when it fails."""
    with tempfile.TemporaryFile() as said:
        begun, peak, most = time.perf_counter(), 0, 0
        running = subprocess.Popen([str(part) for part in command], cwd=cwd, stdout=said, stderr=subprocess.STDOUT)
        while (ended := os.wait4(running.pid, os.WNOHANG))[0] == 0:
            pids = tree(running.pid)
            peak, most = max(peak, held_bytes(pids)), max(most, len(pids))
            time.sleep(LOOK_EVERY_S)
        wall_s = time.perf_counter() - begun
        _, status, used = ended
        running.returncode = os.waitstatus_to_exitcode(status)
        if running.returncode:
            said.seek(0)
            raise RuntimeError(said.read()[-2000:].decode(errors="replace"))
    return Cost(used.ru_utime + used.ru_stime, wall_s, max(peak, used.ru_maxrss * 1024) / 1e6, most)


def build_cost(root: Path, *options: str) -> Cost:
    """Build the book in ROOT as a person does."""
    return cost([sys.executable, "-m", "fettlebook", "build", "--book", root, *options])


def machine() -> str:
    """The processor, cores, memory, system and Python that figures were taken on."""
    lines = Path("/proc/cpuinfo").read_text(encoding="utf-8").split("\n")
    model = next((line.split(":")[1].strip() for line in lines if line.startswith("model name")), "unknown processor")
    memory = os.sysconf("SC_PHYS_PAGES") * PAGE_BYTES / 2**30
    named = next((line.split("=")[1].strip('"') for line in Path("/etc/os-release").read_text(encoding="utf-8").split("\n")
                  if line.startswith("PRETTY_NAME=")), sys.platform)  # fmt: skip
    return f"{model}, {os.cpu_count()} cores, {memory:.0f} GiB, {named}, Python {sys.version.split()[0]}, load {os.getloadavg()[0]:.1f}"
