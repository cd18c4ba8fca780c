"""The book's own scripts as they go into the site: without comments, and with short local names where the machine can."""

from __future__ import annotations

import re
from pathlib import Path

import rjsmin

try:
    import minify
except ImportError:  # no wheel of it for this machine: the scripts are larger and do the same
    minify = None

ASSETS = Path(__file__).parent / "assets"
SCRIPT = "application/javascript"
LANGUAGE = {"js-version": 2020}
EXACT = re.compile(r"\bMath\.(abs|trunc|pow)\(")
"""Calls that the shortener would rewrite to something not quite the same: x|0 for Math.trunc goes wrong beyond 31 bits."""


def shipped_script(name: str) -> str:
    """The script assets/NAME as the site holds it."""
    return shrunk((ASSETS / name).read_text(encoding="utf-8"))


def shrunk(script: str) -> str:
    """SCRIPT with the same behaviour in fewer bytes; always the same bytes for the same script.

    >>> len(shrunk("/* adds */ function add(first, second) { return first + second; }")) < 50
    True
    >>> "Math.trunc(" in shrunk("answer = Math.trunc(given);")
    True
    """
    if minify is None:
        return rjsmin.jsmin(script) + "\n"
    minify.config(LANGUAGE)
    return minify.string(SCRIPT, EXACT.sub(r'Math["\1"](', script)) + "\n"
