"""The index holds every word of a page where a script finds it again by its first letter."""

import json

from fettlebook.pages.page import Findable
from fettlebook.pages.search_index import search_index

PAGES = [
    ("z.html", "Zinc, then oil", Findable("page", (("title", "Zinc, then oil"), ("symptom", "it\tdrips\nslowly")), "oil oil way")),
    ("a.html", "Æ 𝔘 <b>", Findable("table", (("title", "Æ 𝔘 <b>"), ("row", "M10x1.5 ｆｕｌｌ")), "")),
]  # fmt: skip


def read_back(script):
    """(uri, title) by page number, and (page, strength) by word."""
    index = json.loads(script.removeprefix("window.fettlebookIndex=").rstrip(";\n"))
    pages = [line.split("\t") for line in index["pages"].split("\n")]
    found = {}
    for letter, written in index["words"].items():
        words, *places = written.split("\n")
        assert all(word.startswith(letter) for word in words.split(" "))
        for word, place in zip(words.split(" "), places, strict=True):
            at, total = [], 0
            for step in place.split(" "):
                total += int(step, 36)
                at.append(divmod(total, 4))
            found[word] = at
    return pages, found


def test_every_word_is_found_in_its_strongest_place():
    pages, found = read_back(search_index(PAGES, ()))
    number = {page[1]: n for n, page in enumerate(pages)}
    z, a = number["z.html"], number["a.html"]
    assert found["oil"] == [(z, 3)] and found["way"] == [(z, 0)] and found["drips"] == [(z, 2)]
    assert found["m10x1.5"] == [(a, 2)] and found["full"] == [(a, 1)]


def test_pages_stand_in_order_of_title_with_the_words_that_are_shown():
    pages, _ = read_back(search_index(PAGES, ()))
    assert [page[2] for page in pages] == ["Zinc, then oil", "Æ 𝔘 <b>"]
    assert pages[0] == ["page", "z.html", "Zinc, then oil", "symptom", "it drips slowly"]
    assert pages[1] == ["table", "a.html", "Æ 𝔘 <b>"]


def test_the_script_is_plain_ascii_and_cannot_end_the_one_it_stands_in():
    script = search_index(PAGES, ())
    assert script.isascii() and "<" not in script


def test_words_stand_in_the_order_in_which_scripts_compare():
    """U+10000 and above are written with two units from U+D800 on, which come before U+E000 to U+FFFF."""
    signs = ["a\U00020000", "a\uff66", "ab"]
    pages = [(f"{n}.html", "t", Findable("page", (), sign)) for n, sign in enumerate(signs)]
    index = json.loads(search_index(pages, ()).removeprefix("window.fettlebookIndex=").rstrip(";\n"))
    words = index["words"]["a"].split("\n")[0].split(" ")
    assert words == sorted(words, key=lambda word: word.encode("utf-16-be"))
    assert len(words) == 3
