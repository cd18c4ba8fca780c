"""Scripts are shortened without a change of what they do, and all of them together stay light."""

import re

import pytest

from fettlebook.pages.scripts import ASSETS, minify, shipped_script, shrunk
from fettlebook.pages.units_script import units_script

OWN_FORMS = ["heating-form.js", "levelling.js"]
FORMS = [*sorted(path.relative_to(ASSETS).as_posix() for path in (ASSETS / "tables").glob("*.js")), *OWN_FORMS]
"""What a table works out on the page, and the two forms made for one table alone: a page has one table's, or none."""
FRAME = sorted(path.name for path in ASSETS.glob("*.js") if path.name not in FORMS)
BUDGET = 60_000
"""Bytes before compression: for all scripts of the book outside the forms together, and for those of any one page."""
WITH_FORMS = 155_000
"""Bytes for everything that is anywhere in the book."""
SCRIPT = re.compile(r'<script src="([^"]+)"')
DATA = re.compile(r"search-index|\.data\.js$")
"""Figures and the index of words are not scripts, though a page opened from a folder must load them as such."""


def size(name):
    return len(shipped_script(name).encode())


@pytest.mark.skipif(minify is None, reason="this machine has no wheel of the shortener; its scripts are larger")
def test_the_scripts_of_the_book_stay_light():
    sizes = {name: size(name) for name in FRAME} | {"units.js": len(units_script().encode())}
    assert len(sizes) > 9 and sum(sizes.values()) < BUDGET, sizes
    forms = {name: size(name) for name in FORMS}
    assert sum(sizes.values()) + sum(forms.values()) < WITH_FORMS, forms


@pytest.mark.skipif(minify is None, reason="this machine has no wheel of the shortener; its scripts are larger")
def test_no_page_loads_more_script_than_the_budget(site):
    heaviest = {}
    for page in site.rglob("*.html"):
        found = [uri for uri in SCRIPT.findall(page.read_text(encoding="utf-8")) if not DATA.search(uri)]
        there = [site / uri.lstrip("/") if uri.startswith("/") else page.parent / uri for uri in found]
        heaviest[page.relative_to(site).as_posix()] = sum(path.stat().st_size for path in there)
    assert max(heaviest.values()) > 20_000
    assert [(uri, size) for uri, size in heaviest.items() if size >= BUDGET] == []


EXACT = ["Math.trunc(x)", "Math.abs(x)", "Math.pow(x,y)", "Math.round(x)", "Math.floor(x)"]


@pytest.mark.parametrize("call", EXACT)
def test_arithmetic_is_left_as_it_was_written(call):
    assert call in shrunk(f"answer = {call};").replace(" ", "")


def test_the_same_script_gives_the_same_bytes():
    for name in FRAME:
        assert shipped_script(name) == shipped_script(name)


NEWER = re.compile(r"\bObject\.hasOwn\(|\.replaceAll\(|\?\?=|\|\|=|&&=|\.findLast\(|\bstructuredClone\(|\.at\(-")
"""What browsers learned after 2020: an old tablet in a workshop would stop at it."""


def test_scripts_keep_to_what_a_tablet_of_2020_understands():
    paths = [*ASSETS.rglob("*.js"), ASSETS.parent / "worker.js", *(ASSETS.parents[1] / "theme").rglob("*.js")]
    assert len(paths) > 20
    assert {
        path.name: NEWER.findall(path.read_text(encoding="utf-8"))
        for path in paths
        if NEWER.search(path.read_text(encoding="utf-8"))
    } == {}
