"""Tables for paper: cells as words, cut or turned so that no column leaves the page at 11 point."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from fettlebook.handout.words import BREAK_HERE, Words
from fettlebook.tables.definition import Column

LETTERS_A_LINE = 78
"""Letters of 11 point that fit between the margins of A4 or Letter, with the space between columns counted as two each."""

Cell = dict[str, str]


def grid(
    words: Words, columns: Iterable[Column], rows: Sequence[Mapping[str, Any]], fits: int = LETTERS_A_LINE
) -> list[dict[str, Any]]:
    """One table, or several parts that repeat the first column (a row number where that is not enough to tell rows apart), or the table turned on its side when rows are few.

    Columns that are empty in every row are left out. Each part is {columns, rows}.
    """
    used = [c for c in columns if any(row.get(c.name) not in (None, "", [], ()) for row in rows)]
    heads = [words.column(c) for c in used]
    cells = [[words.cell(row.get(c.name), c) for c in used] for row in rows]
    widths = [_narrowest(head, [line[n] for line in cells]) for n, head in enumerate(heads)]
    if sum(widths) <= fits or len(used) < 3:
        return [{"columns": heads, "rows": cells}]
    if len(rows) <= 3:
        return [_turned(heads, cells)]
    if len({str(line[0]) for line in cells}) < len(cells):
        heads = [{"label": "Row", "unit": "", "number": True}, *heads]
        cells = [[{"t": str(n)}, *line] for n, line in enumerate(cells, 1)]
        widths = [5, *widths]
    return [
        {"columns": [heads[n] for n in part], "rows": [[line[n] for n in part] for line in cells]}
        for part in _parts(widths, fits)
    ]


def _turned(heads: list[dict[str, Any]], cells: list[list[Cell]]) -> dict[str, Any]:
    first = [{"label": heads[0]["label"], "unit": heads[0]["unit"], "number": False}]
    first += [{"label": line[0].get("t", ""), "unit": "", "number": False} for line in cells]
    rows = [[{"t": _heading(head)}, *(line[n] for line in cells)] for n, head in enumerate(heads) if n]
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
