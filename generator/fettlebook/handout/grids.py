"""Tables for paper: cells as words, cut or turned so that no column leaves the page at 11 point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from fettlebook.handout.words import BREAK_HERE, Words
from fettlebook.tables.definition import Column

LETTERS_A_LINE = 78
"""Letters of 11 point that fit between the margins of A4 or Letter, with the space between columns counted as two each."""

MANY_ROWS = 6
"""Rows above which a table turned on its side is set in two halves beside each other, where they fit."""
NOTHING = "–"
LONG_WORDS = 24
"""Letters from which a cell holds running text, which reads better under its row than in a narrow column."""

Cell = dict[str, str]
Heads = list[dict[str, Any]]
Cells = list[list[Cell]]


def grid(
    words: Words, columns: Iterable[Column], rows: Sequence[Mapping[str, Any]], fits: int = LETTERS_A_LINE
) -> list[dict[str, Any]]:
    """A table as parts that each fit the paper, every one {columns, rows, same}.

    Columns that are empty in every row are left out, and what is the same in every row is said once, in `same`. If the rest is
    too wide, a table of few rows is turned on its side; running text goes on a line under its row; and what is still too
    wide is cut into parts that repeat the first column (a row number where that is not enough to tell rows apart).
    """
    used = [c for c in columns if any(row.get(c.name) not in (None, "", [], ()) for row in rows)]
    heads = [words.column(c) for c in used]
    cells = [[words.cell(row.get(c.name), c) for c in used] for row in rows]
    heads, cells, same = _said_once(heads, cells)
    if _width(heads, cells) <= fits or len(heads) < 3:
        return [{"columns": heads, "rows": cells, "same": same}]
    if len(rows) <= 3:
        return [{**_turned(heads, cells, fits), "same": same}]
    return [{**part, "same": same if n == 0 else ""} for n, part in enumerate(_narrower(heads, cells, fits))]


def _width(heads: Heads, cells: Cells) -> int:
    return sum(_widths(heads, cells))


def _widths(heads: Heads, cells: Cells) -> list[int]:
    return [_narrowest(head, [line[n] for line in cells]) for n, head in enumerate(heads)]


def _kept(line: list[Any], places: Sequence[int]) -> list[Any]:
    return [line[n] for n in places]


def _said_once(heads: Heads, cells: Cells) -> tuple[Heads, Cells, str]:
    """The table without the columns that say the same in each of its rows (three at least), and those as words."""
    alike = [n for n in range(len(heads)) if len(cells) > 2 and _alike([line[n] for line in cells])]
    left = [n for n in range(len(heads)) if n not in alike]
    if len(left) < 2:
        return heads, cells, ""
    same = "; ".join(f"{_heading(heads[n])}: {cells[0][n]['t']}" for n in alike)
    return _kept(heads, left), [_kept(line, left) for line in cells], same


def _alike(column: list[Cell]) -> bool:
    return "t" in column[0] and column[0]["t"] not in ("", NOTHING) and all(one == column[0] for one in column)


def _narrower(heads: Heads, cells: Cells, fits: int) -> list[dict[str, Any]]:
    """The table with its running text on lines under the rows, in as many parts as the rest needs."""
    under = [n for n in range(1, len(heads)) if max(len(line[n].get("t", "")) for line in cells) >= LONG_WORDS]
    left = [n for n in range(len(heads)) if n not in under]
    if len(left) < 2:
        return list(_cut(heads, cells, fits))
    said = [_said_under(heads, line, under) for line in cells]
    heads, cells = _kept(heads, left), [_kept(line, left) for line in cells]
    parts: list[dict[str, Any]] = (
        [{"columns": heads, "rows": cells}] if _width(heads, cells) <= fits else list(_cut(heads, cells, fits))
    )
    parts[-1]["rows"] = list(_with_lines(parts[-1]["rows"], said))
    return parts


def _said_under(heads: Heads, line: list[Cell], under: Sequence[int]) -> str:
    return "; ".join(f"{heads[n]['label']}: {line[n]['t']}" for n in under if line[n]["t"] not in ("", NOTHING))


def _with_lines(cells: Cells, said: list[str]) -> Iterator[list[Cell]]:
    """Rows with what is said under them; rows in a run that say the same share one line."""
    run = 0
    for n, line in enumerate(cells):
        yield line
        run += 1
        if n + 1 == len(cells) or said[n + 1] != said[n]:
            if said[n]:
                yield [{"t": f"{run} rows above. {said[n]}" if run > 1 else said[n], "under": "yes"}]
            run = 0


def _cut(heads: Heads, cells: Cells, fits: int) -> Iterator[dict[str, Any]]:
    if len({str(line[0]) for line in cells}) < len(cells):
        heads = [{"label": "Row", "unit": "", "number": True}, *heads]
        cells = [[{"t": str(n)}, *line] for n, line in enumerate(cells, 1)]
    for part in _parts(_widths(heads, cells), fits):
        yield {"columns": _kept(heads, part), "rows": [_kept(line, part) for line in cells]}


def _turned(heads: Heads, cells: Cells, fits: int) -> dict[str, Any]:
    first = [{"label": heads[0]["label"], "unit": heads[0]["unit"], "number": False}]
    first += [{"label": line[0].get("t", ""), "unit": "", "number": False} for line in cells]
    rows = [[{"t": _heading(head)}, *(line[n] for line in cells)] for n, head in enumerate(heads) if n]
    half = -(-len(rows) // 2)
    two = [[*rows[n], *(rows[n + half] if n + half < len(rows) else [{"t": ""}] * len(first))] for n in range(half)]
    if len(rows) > MANY_ROWS and _width([*first, *first], two) <= fits:
        return {"columns": [*first, *first], "rows": two}
    return {"columns": first, "rows": rows}


def _parts(widths: list[int], fits: int) -> list[list[int]]:
    parts = [[0]]
    for n in range(1, len(widths)):
        if len(parts[-1]) > 1 and sum(widths[k] for k in parts[-1]) + widths[n] > fits:
            parts.append([0])
        parts[-1].append(n)
    return parts


def _heading(head: Mapping[str, Any]) -> str:
    return f"{head['label']} [{head['unit']}]" if head["unit"] else str(head["label"])


def _narrowest(head: Mapping[str, Any], cells: list[Cell]) -> int:
    """Letters that a column needs: its longest word, and enough for running text not to become a thread."""
    texts = [_heading(head), *(c.get("t", "swatch") for c in cells)]
    longest_word = max(len(piece) for text in texts for piece in text.replace(BREAK_HERE, " ").split(" "))
    longest_text = max(len(c.get("t", "")) for c in cells) if cells else 0
    return 2 + max(longest_word, min(longest_text, 8 + longest_text // 6))
