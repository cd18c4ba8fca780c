"""What a person asks to have printed, by name: procedures, wall charts, the whole book."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from difflib import get_close_matches
from functools import partial

from fettlebook.book.book import Book
from fettlebook.handout.charts import chart_pdf, charts
from fettlebook.handout.sheet import handout
from fettlebook.handout.whole_book import whole_book


class UnknownSheet(Exception):
    """Nothing is called so; the message names the nearest."""


def printed(
    book: Book, names: Sequence[str], reader: str, paper: str, site_url: str = ""
) -> dict[str, Callable[[], bytes]]:
    """File name to the function that prints it, for every one of NAMES. Raises UnknownSheet before anything is printed."""
    walls = {f"chart-{chart.id}": chart for chart in charts(book)}
    wanted: dict[str, Callable[[], bytes]] = {}
    for name in names:
        if name in book.procedures:
            wanted[f"{name}-{reader}.pdf"] = partial(handout, book, book.procedures[name], reader, paper, site_url)
        elif name in walls:
            wanted[f"{name}.pdf"] = partial(chart_pdf, book, walls[name], paper)
        elif name == "book":
            wanted["book.pdf"] = partial(whole_book, book, paper)
        else:
            raise UnknownSheet(_unknown(book, name, [*book.procedures, *walls, "book"]))
    return wanted


def _unknown(book: Book, name: str, known: Sequence[str]) -> str:
    if name in book.damaged:
        return f'the procedure "{name}" has faults; `fettlebook check` says which'
    near = get_close_matches(name, known, 1, 0.4)
    return f'nothing to print is called "{name}"; ' + (
        f'did you mean "{near[0]}"?'
        if near
        else f"write a procedure's id, {', '.join(n for n in known if n not in book.procedures)}"
    )
