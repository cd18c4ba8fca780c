"""The demo book, and a small procedure that tests change, for the printed sheets."""

import dataclasses
import io
from pathlib import Path

import pytest
from pypdf import PdfReader

from fettlebook.book.load import load
from fettlebook.book.text import text

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(scope="session")
def book():
    return load(ROOT)[0]


@pytest.fixture(scope="session")
def read():
    """A PDF's bytes as a reader of them."""
    return lambda content: PdfReader(io.BytesIO(content))


@pytest.fixture
def long_procedure(book):
    """A demo procedure with 120 steps, and a word that no line can hold."""

    def made(steps=120, word="kettle"):
        whole = book.procedures["gibs-and-backlash"]
        one = whole.steps[0]
        many = tuple(
            dataclasses.replace(
                one, id=f"s{n}", number=f"1.{n}", do=text(f"Turn screw {n} of the {word} a flat."), cautions=()
            )
            for n in range(1, steps + 1)
        )
        return dataclasses.replace(whole, stages=(dataclasses.replace(whole.stages[0], steps=many),))

    return made
