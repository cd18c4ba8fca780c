"""A worksheet on paper: blanks for what is measured, the formula with room to work it out, one worked example."""

from __future__ import annotations

from typing import Any

from fettlebook.book.formula_writing import plain_number, typst
from fettlebook.book.worksheets import (
    Input,
    Result,
    Worksheet,
    brought,
    chosen,
    example_line,
    formula_line,
    limits_words,
    shown,
    unit_name,
)
from fettlebook.handout.words import Words
from fettlebook.tables.figures import written
from fettlebook.tables.writing import source_line


def worksheet_data(words: Words, sheet: Worksheet) -> dict[str, Any]:
    """The worksheet as plain data. Formulas come as Typst math written from the parsed formula, never from the author's text."""
    constants = [
        {"sign": c.sign, "name": words.runs(c.name), "value": f"{plain_number(c.value)} {unit_name(c.unit)}".strip(),
         "source": source_line(c.source) if c.source else ""}
        for c in sheet.constants
    ]  # fmt: skip
    return {
        "id": sheet.id, "title": sheet.title, "about": words.runs(sheet.about), "note": words.runs(sheet.note), "constants": constants,
        "inputs": [row for one in sheet.inputs for row in _input_rows(words, one)],
        "results": [_result(words, sheet, r) for r in sheet.results],
        "sources": [source_line(cite) for cite in sheet.sources],
    }  # fmt: skip


def _input_rows(words: Words, one: Input) -> list[dict[str, Any]]:
    unit = unit_name(one.unit)
    name = words.runs(one.name)
    help_ = words.runs(one.help)
    if one.kind == "flag":
        return [
            {
                "sign": one.sign,
                "name": name,
                "help": help_,
                "unit": "yes or no",
                "example": "yes" if one.example is True else "no",
            }
        ]
    if one.kind == "choice":
        first = {"sign": "", "name": name, "help": help_, "unit": "choose", "example": str(one.example)}
        return [first, *({"sign": c.sign or c.label.lower(), "name": [{"t": f"{c.label[:1].upper()}{c.label[1:]}, of the one chosen", "s": ""}], "help": [], "unit": unit_name(c.unit), "example": shown_figure}
                         for c, shown_figure in brought(one, chosen(one, one.example)))]  # fmt: skip
    if isinstance(one.example, dict):
        return [
            {"sign": one.sign, "name": [*name, {"t": f", {one.at[slug]}", "s": ""}], "help": help_ if n == 0 else [], "unit": unit,
             "example": written(v, one.decimals)}
            for n, (slug, v) in enumerate(one.example.items())
        ]  # fmt: skip
    return [
        {"sign": one.sign, "name": name, "help": help_, "unit": unit, "example": written(one.example, one.decimals)}
    ]


def _result(words: Words, sheet: Worksheet, r: Result) -> dict[str, Any]:
    limits = limits_words(r)
    sign = r.sign.replace("\\", "").replace('"', "")
    return {
        "sign": r.sign, "name": words.runs(r.name), "unit": unit_name(r.unit), "help": words.runs(r.help),
        "formula": f'"{sign}" = {typst(r.formula, sheet.signs)}', "formula_words": f"{r.sign} = {formula_line(sheet, r)}",
        "limits": f"{limits[:1].lower()}{limits[1:]}", "outside": words.runs(r.outside),
        "example": f"{r.sign} = {example_line(sheet, r)} = {shown(r.example, r)}",
    }  # fmt: skip
