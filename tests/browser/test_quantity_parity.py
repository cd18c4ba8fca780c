"""The page and the program read a figure with its unit alike, and write one alike."""

import random

import pytest

from fettlebook.pages.scripts import shipped_script
from fettlebook.pages.units_script import units_script
from fettlebook.tables.figures import significant, written
from fettlebook.tables.quantities import Unreadable, read_quantity

WRITTEN = ["12.7", "12,7 mm", "0.5 in", '1/2"', "1 1/2 in", "½ in", "1½\"", "3 thou", "1,250", "0,125", "1/0", "", "abc", "12.7.1", "5 s",
           "5 furlongs", "1e3", "1e400", "-3 mm", "−3 mm", "+.5", "5.", "1-1/2 in", "7/8", "25 µm", "70 F", "3 / 4 in", "2 M", "1,2,3"]  # fmt: skip


def test_reading_a_length_gives_the_same_on_page_and_in_python(page):
    page.set_content("<!doctype html><title>t</title>")
    page.add_script_tag(content=units_script())
    page.add_script_tag(content=shipped_script("base.js"))
    found = page.evaluate(
        "texts => texts.map(t => { try { return fettlebook.readQuantity(t, 'mm') } catch (f) { return f.message } })",
        WRITTEN,
    )

    def read(text):
        try:
            return read_quantity(text, "mm")
        except Unreadable as fault:
            return str(fault)

    assert found == [read(text) for text in WRITTEN]


SLOPES = [
    "0.02",
    "0.0005 in/ft",
    "0.0005 in/10 in",
    "20 arcsec",
    "20 arc seconds",
    "5 deg",
    "95 deg",
    "1 mm",
    "steep",
    "1 2",
]


def test_reading_a_slope_gives_the_same_on_page_and_in_python(page):
    page.set_content("<!doctype html><title>t</title>")
    page.add_script_tag(content=units_script())
    page.add_script_tag(content=shipped_script("base.js"))
    there = page.evaluate(
        "texts => texts.map(t => { try { return fettlebook.readQuantity(t, 'mm/m') } catch (f) { return f.message } })",
        SLOPES,
    )
    for text, found in zip(SLOPES, there, strict=True):
        try:
            assert found == pytest.approx(read_quantity(text, "mm/m"), rel=1e-12), text
        except Unreadable as fault:
            assert found == str(fault)


def test_writing_a_number_gives_the_same_digits_on_page_and_in_python(page):
    page.set_content("<!doctype html><title>t</title>")
    page.add_script_tag(content=units_script())
    page.add_script_tag(content=shipped_script("base.js"))
    chance = random.Random(7)
    values = [k / 8 for k in range(-2000, 2000)] + [chance.uniform(-1e4, 1e4) for _ in range(2000)]
    assert page.evaluate("v => v.map(x => fettlebook.written(x, 2))", values) == [written(v, 2) for v in values]
    assert page.evaluate("v => v.map(x => fettlebook.significant(x, 3))", values) == [significant(v, 3) for v in values]
