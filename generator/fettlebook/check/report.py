"""Findings as people, editors and services read them: the place, what is wrong, the line itself, what to write instead."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, TextIO

from fettlebook.book.places import Finding
from fettlebook.book.strict_yaml import LARGEST_FILE

RULES_PAGE = "docs/rules.md"
WIDEST = 160
"""Columns of a line that are shown; a longer one is cut round the fault."""

BOLD, RED, YELLOW, CYAN, PLAIN = "\033[1m", "\033[31m", "\033[33m", "\033[36m", "\033[0m"


def report_lines(findings: Iterable[Finding], root: Path, colour: bool = False) -> list[str]:
    """For each finding one line that says it all, then the line of the file that it is about with a caret under the place."""
    source = _Sources(root)
    return [line for finding in findings for line in _block(finding, source, colour)]


def one_line(finding: Finding) -> str:
    """A finding without its source line: `file:line:column: what; why; what to write instead [rule]`."""
    return f"{where(finding)}: {'advice: ' if finding.mild else ''}{_words(finding)} [{finding.rule}]"


def where(finding: Finding) -> str:
    """The place as file:line:column, the file alone if the finding is about all of it."""
    place = finding.place
    return f"{place.file}:{place.line}:{place.column}" if place.line else place.file


def summary_line(findings: Sequence[Finding], procedures: int) -> str:
    """The last line: how many faults in how many files, or that there are none."""
    faults = [finding for finding in findings if not finding.mild]
    advice = len(findings) - len(faults)
    tail = f", {advice} {_plural(advice, 'piece')} of advice" if advice else ""
    if not faults:
        return f"{procedures} {_plural(procedures, 'procedure')}: no faults{tail}."
    files = len({finding.place.file for finding in faults})
    return f"{len(faults)} {_plural(len(faults), 'fault')} in {files} {_plural(files, 'file')}, {procedures} {_plural(procedures, 'procedure')}{tail}. What each rule asks for: {RULES_PAGE}"


def as_json(findings: Iterable[Finding]) -> str:
    """Findings for an editor: a list of objects."""
    return json.dumps([_plain(finding) for finding in findings], ensure_ascii=False, indent=2)


def as_annotations(findings: Iterable[Finding]) -> list[str]:
    """Findings as workflow commands, which GitHub shows at the line of a change."""
    return [_annotation(finding) for finding in findings]


def wants_colour(stream: TextIO) -> bool:
    """Whether STREAM is a terminal that shows colour (https://no-color.org is kept)."""
    return stream.isatty() and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def _block(finding: Finding, source: _Sources, colour: bool) -> Iterator[str]:
    paint = _paint if colour else _unpainted
    tone = YELLOW if finding.mild else RED
    kind = "advice: " if finding.mild else ""
    words = "; ".join(_visible(part) for part in (finding.what, finding.why) if part)
    mend = f"; {paint(_visible(finding.hint), CYAN)}" if finding.hint else ""
    yield f"{paint(where(finding), BOLD)}: {paint(f'{kind}{words}', tone)}{mend} [{finding.rule}]"
    place = finding.place
    line = source.line(place.file, place.line) if place.line else None
    if line is not None and line.strip():
        shown, start, width = _cut_round(line, place.column)
        yield f"{place.line:>5} | {shown}"
        yield f"      | {' ' * start}{paint('^' * width, tone)}"


def _cut_round(line: str, column: int) -> tuple[str, int, int]:
    """The part of LINE that is shown, where the caret starts in it, and how wide it is."""
    start = min(max(column - 1, 0), len(line))
    width = max(1, _width(line, start))
    left = 0
    if len(line) > WIDEST and start > WIDEST // 2:
        left = start - WIDEST // 2
        line, start = "…" + line[left + 1 :], start - left
    if len(line) > WIDEST:
        line = line[: WIDEST - 1] + "…"
    return _visible(line), start, max(1, min(width, len(line) - start))


def _width(line: str, start: int) -> int:
    """How far the value or key at START reaches."""
    rest = line[start:]
    if rest[:1] in {'"', "'"}:
        end = rest.find(rest[0], 1)
        return end + 1 if end > 0 else len(rest.rstrip())
    quote = next((sign for sign in ('"', "'") if line[:start].count(sign) % 2), None)
    if quote and (end := rest.find(quote)) > 0:
        return end
    ends = [end for sign in (" #", ": ") if (end := rest.find(sign)) > 0]
    if line[:start].count("{") + line[:start].count("[") > line[:start].count("}") + line[:start].count("]"):
        ends += [end for sign in ",]}" if (end := rest.find(sign)) > 0]
    rest = rest[: min(ends)] if ends else rest
    return len(rest.rstrip().removesuffix(":"))


def _annotation(finding: Finding) -> str:
    level = "notice" if finding.mild else "error"
    place = f"file={_property(finding.place.file)}"
    if finding.place.line:
        place += f",line={finding.place.line},col={finding.place.column}"
    return f"::{level} {place},title={_property(finding.rule)}::{_message(_words(finding))}"


def _property(words: str) -> str:
    return _message(words).replace(":", "%3A").replace(",", "%2C")


def _message(words: str) -> str:
    return words.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _words(finding: Finding) -> str:
    return _visible("; ".join(part for part in (finding.what, finding.why, finding.hint) if part))


def _visible(words: str) -> str:
    """WORDS without signs that a terminal would obey."""
    return "".join(sign if sign.isprintable() else "�" if sign != "\t" else " " for sign in words)


def _plain(finding: Finding) -> Mapping[str, Any]:
    place = finding.place
    return {
        "file": place.file, "line": place.line, "column": place.column, "what": finding.what, "why": finding.why, "hint": finding.hint,
        "rule": finding.rule, "advice": finding.mild,
    }  # fmt: skip


def _plural(count: int, noun: str) -> str:
    return noun if count == 1 else f"{noun}s"


def _paint(words: str, colour: str) -> str:
    return f"{colour}{words}{PLAIN}"


def _unpainted(words: str, colour: str) -> str:
    return words


class _Sources:
    """The lines of the files, read once, only those that are needed."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.lines = cache(self._lines)

    def line(self, file: str, number: int) -> str | None:
        lines = self.lines(file)
        return lines[number - 1] if 0 < number <= len(lines) else None

    def _lines(self, file: str) -> list[str]:
        path = self.root / file
        try:
            if not path.is_file() or path.stat().st_size > LARGEST_FILE:
                return []
            return path.read_text(encoding="utf-8-sig", errors="replace").split("\n")
        except OSError:
            return []
