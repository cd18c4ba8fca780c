"""A long build tells how far it has come, and leaves nothing on the screen."""

import io

from fettlebook.progress import SILENCE, Progress


class Terminal(io.StringIO):
    def isatty(self):
        return True


def test_a_terminal_shows_one_line_that_is_overwritten_and_wiped():
    screen = Terminal()
    with Progress(screen) as progress:
        progress("printed sheet", 1, 2)
        progress("printed sheet", 2, 2)
    assert screen.getvalue() == "\r\033[Kprinted sheet 1 of 2\r\033[Kprinted sheet 2 of 2\r\033[K"


def test_a_log_gets_a_line_now_and_then():
    now = [0.0]
    log = io.StringIO()
    with Progress(log, clock=lambda: now[0]) as progress:
        for n in range(1, 26):
            now[0] = float(n)
            progress("page", n, 25)
    assert log.getvalue().split("\n") == ["page 10 of 25", "page 20 of 25", ""]
    assert SILENCE == 10
