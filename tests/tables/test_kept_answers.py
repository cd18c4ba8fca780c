"""No answer of a table that a page works out too changes unnoticed: the questions at random of the tests that hold page and program
against each other, a few hundred of each.

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

from fettlebook.tables.catalogue import table_named

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


def to_six_digits(value):
    """Figures too small to be shown are left out: they are what is left of a sum."""
    if isinstance(value, float):
        return f"{value:.6g}" if abs(value) > 1e-6 else "0"
    if isinstance(value, dict):
        return {str(key): to_six_digits(one) for key, one in value.items()}
    return [to_six_digits(one) for one in value] if isinstance(value, list | tuple) else value


def check_sums(name):
    """One for every twenty-five answers of a table."""
    if BROWSER not in sys.path:
        sys.path.append(BROWSER)
    in_python = importlib.import_module("parity").in_python
    count, asked = ASKED[name]
    givens = islice(asked(random.Random(2026)), count)
    answers = [
        in_python(table_named(name), {k: v for k, v in given.items() if v is not None and v != ""}) for given in givens
    ]
    written = [json.dumps(to_six_digits(answer), sort_keys=True, ensure_ascii=False) for answer in answers]
    blocks = ["\n".join(written[n : n + BLOCK]) for n in range(0, len(written), BLOCK)]
    return [f"{zlib.crc32(block.encode()):08x}" for block in blocks]


KEPT = yaml.safe_load(FILE.read_text(encoding="utf-8")) if FILE.exists() else {}


@pytest.mark.parametrize("name", ASKED)
def test_the_answers_are_what_they_were(name):
    now = check_sums(name)
    assert len(now) == -(-ASKED[name][0] // BLOCK)
    assert now == KEPT.get(name), "if the change is meant, run: python tests/tables/test_kept_answers.py"


if __name__ == "__main__":
    words = (
        "# Check sums of every twenty-five answers to questions at random, by table. Written by test_kept_answers.py.\n"
    )
    FILE.write_text(words + yaml.safe_dump({name: check_sums(name) for name in ASKED}, width=120), encoding="utf-8")
