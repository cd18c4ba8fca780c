"""No answer of a table changes unnoticed: questions at random to every table, and those of the tests that hold page and program
against each other.

Whether page and program agree is for tests/browser/ to say, and whether they are right for the published cases. This holds the
program's answers against what they were: kept_answers.yml has, for each table, a check sum of every twenty-five answers, figures
to six digits, words and refusals. When a change is meant, write the file anew: python tests/tables/test_kept_answers.py
"""

import importlib
import json
import random
import sys
import zlib
from itertools import islice
from pathlib import Path

import pytest
import yaml

from fettlebook.tables.catalogue import table_named, tables
from fettlebook.tables.steel_data import steels
from fettlebook.tables.threads import all_threads

BROWSER = str(Path(__file__).parents[1] / "browser")
FILE = Path(__file__).with_name("kept_answers.yml")
BLOCK = 25


def repeated(module, name):
    """Questions of somebody, one by one."""

    def asked(chance):
        question = getattr(importlib.import_module(module), name)
        while True:
            yield question(chance)

    return asked


def in_a_row(module, name, *given):
    """Questions of a generator that makes all of them."""
    return lambda chance: getattr(importlib.import_module(module), name)(chance, *given)


def batches(_):
    """Parts to be heated: a few of each steel by itself, then several together."""
    every = list(importlib.import_module("test_heating_plan_parity").batches())
    return [*every[:3], *every[3:-3000:7], *every[-320:]]


MACHINE = "test_machine_forms_parity"
ASKED = {
    "jack-moves": (400, repeated("test_jack_moves_parity", "somebodys_question")),
    "heating-plan": (350, batches),
    "oil-viscosity": (300, in_a_row("test_oils_parity", "viscosity_inputs", 298)),
    "oil-for-climate": (300, in_a_row("test_oils_parity", "climate_inputs", 300)),
    "seal-for-plug": (250, in_a_row("test_seal_for_plug_parity", "inputs", 250)),
    "change-gears": (75, repeated("test_change_gears_parity", "somebodys_question")),
    "flats": (200, repeated("test_flats_parity", "somebodys_question")),
    "indexing": (300, repeated("test_indexing_parity", "somebodys_question")),
    "thread-finder": (100, repeated("test_thread_finder_parity", "somebodys_measurement")),
    "levels": (200, repeated(MACHINE, "levels")),
    "bed-twist": (200, repeated(MACHINE, "twist")),
    "two-collars": (200, repeated(MACHINE, "collars")),
    "test-bar": (200, repeated(MACHINE, "bars")),
    "alignment-limits": (200, repeated(MACHINE, "limits")),
    "foot-loads": (200, repeated(MACHINE, "feet")),
    "motor-on-supply": (200, repeated(MACHINE, "motors")),
    "sling-loads": (200, repeated("test_machine_parity", "slings")),
    "dew-point": (200, repeated("test_machine_parity", "air")),
    "warm-up-time": (200, repeated("test_machine_parity", "warming")),
}


CLASSES = "6g 6H 5g6g 4h 8g 7H 6e 1A 2A 3A 1B 2B 3B 2A/3B close medium free normal A B A/B"


def somebodys_words(name, chance, example):
    """A text for a parameter: something that it may well be asked for."""
    if name == "thread":
        return chance.choice(all_threads()).designation
    if name == "class":
        return chance.choice(CLASSES.split())
    if name == "steel":
        return chance.choice(steels()).name
    return example


def somebodys_value(parameter, chance):
    """A value that a parameter takes, or lies at its edge; small figures more often than large ones."""
    if parameter.kind == "flag":
        return chance.choice(["true", "false"])
    if parameter.choices:
        return chance.choice(parameter.choices)
    if parameter.kind == "text":
        return somebodys_words(parameter.name, chance, parameter.example)
    low, high = parameter.low or 0.0, parameter.high or 100.0
    figures = [
        low + (high - low) * chance.random() ** chance.choice([1, 4, 8]) for _ in range(chance.choice([1, 1, 2, 3]))
    ]
    figures = [round(figure) if parameter.kind == "whole" else round(figure, 4) for figure in figures]
    return figures if parameter.many else figures[0]


def anybodys_question(name):
    """Questions to a table, made from its examples and from what its parameters take."""
    definition = table_named(name)
    examples = [dict(example) for example in definition.examples] or [{}]
    open_ = [p for p in definition.parameters if p.kind != "mapping"]
    share = 1.2 / max(2, len(open_))

    def asked(chance):
        while True:
            changed = {p.name: somebodys_value(p, chance) for p in open_ if chance.random() < share}
            yield {**chance.choice(examples), **changed}

    return asked


TIMES = {
    "change-gears": 25,
    "levelling-rounds": 25,
    "thread-limits": 500,
    "thread-passes": 200,
    "tapping-drills": 125,
    "thread-finder": 50,
}
"""How often each is asked anything; a hundred times where nothing is said."""


def to_six_digits(value):
    """Figures too small to be shown are left out: they are what is left of a sum."""
    if isinstance(value, float):
        return f"{value:.6g}" if abs(value) > 1e-6 else "0"
    if isinstance(value, dict):
        return {str(key): to_six_digits(one) for key, one in value.items()}
    return [to_six_digits(one) for one in value] if isinstance(value, list | tuple) else value


EVERY = {**ASKED, **{f"{name}, anything": (TIMES.get(name, 100), anybodys_question(name)) for name in tables()}}


def check_sums(name):
    """One for every twenty-five answers of a table."""
    if BROWSER not in sys.path:
        sys.path.append(BROWSER)
    in_python = importlib.import_module("parity").in_python
    count, asked = EVERY[name]
    givens = islice(asked(random.Random(2026)), count)
    table = table_named(name.partition(",")[0])
    answers = [in_python(table, {k: v for k, v in given.items() if v is not None and v != ""}) for given in givens]
    written = [json.dumps(to_six_digits(answer), sort_keys=True, ensure_ascii=False) for answer in answers]
    blocks = ["\n".join(written[n : n + BLOCK]) for n in range(0, len(written), BLOCK)]
    return [f"{zlib.crc32(block.encode()):08x}" for block in blocks]


KEPT = yaml.safe_load(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


@pytest.mark.parametrize("name", EVERY)
def test_the_answers_are_what_they_were(name):
    now = check_sums(name)
    assert len(now) == -(-EVERY[name][0] // BLOCK)
    assert now == KEPT.get(name), "if the change is meant, run: python tests/tables/test_kept_answers.py"


if __name__ == "__main__":
    words = (
        "# Check sums of every twenty-five answers to questions at random, by table. Written by test_kept_answers.py.\n"
    )
    FILE.write_text(words + yaml.safe_dump({name: check_sums(name) for name in EVERY}, width=120), encoding="utf-8")
