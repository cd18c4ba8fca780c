"""Putting a finished site in place of the old one in one stroke, so that a build killed at any moment leaves the old one whole."""

from __future__ import annotations

import ctypes
import os
import shutil
from pathlib import Path

RENAME_EXCHANGE = 2
"""Flag of Linux's renameat2: the two names change places in one step."""
AT_FDCWD = -100


def beside(site: Path) -> Path:
    """A new empty folder beside SITE to build in; what a killed build left behind is cleared first."""
    for stale in site.parent.glob(f".{site.name}-building-*"):
        if not _running(stale.name.rpartition("-")[2]):
            shutil.rmtree(stale, ignore_errors=True)
    made = site.parent / f".{site.name}-building-{os.getpid()}"
    shutil.rmtree(made, ignore_errors=True)
    made.mkdir(parents=True)
    return made


def put_in_place(built: Path, site: Path) -> None:
    """SITE becomes what BUILT holds; the old site is removed afterwards."""
    if not site.exists():
        built.rename(site)
        return
    if not _exchange(built, site):
        old = built.with_name(built.name + ".old")
        site.rename(old)
        built.rename(site)
        built = old
    shutil.rmtree(built, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return False
    return rename(AT_FDCWD, os.fsencode(one), AT_FDCWD, os.fsencode(other), RENAME_EXCHANGE) == 0


def _running(pid: str) -> bool:
    try:
        os.kill(int(pid), 0)
    except PermissionError:
        return True
    except (ValueError, OSError):
        return False
    return True
