"""How far a long build has come, told on a terminal in one line that is overwritten, elsewhere in a line now and then."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import TextIO

SILENCE = 10.0
"""Seconds between two lines where nothing can be overwritten, such as the log of a service."""


class Progress:
    """Inside `with`, call it with what is being done. Nothing is left on the screen afterwards."""

    def __init__(self, stream: TextIO, clock: Callable[[], float] = time.monotonic) -> None:
        self.stream, self.clock = stream, clock
        self.terminal = stream.isatty()
        self.last = clock()

    def __call__(self, words: str, n: int = 0, of: int = 0) -> None:
        words = f"{words} {n} of {of}" if of else words
        if self.terminal:
            self.stream.write(f"\r\033[K{words}")
        elif self.clock() - self.last >= SILENCE:
            self.stream.write(f"{words}\n")
            self.last = self.clock()
        self.stream.flush()

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, *_: object) -> None:
        if self.terminal:
            self.stream.write("\r\033[K")
            self.stream.flush()
