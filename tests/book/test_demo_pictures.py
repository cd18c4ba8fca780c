"""The demo's picture goes the whole way: beside its procedure, on the page in two sizes, into the lone file, and on paper."""

import base64
import io
import re

import pytest
from PIL import Image

from fettlebook.book.load import load
from fettlebook.book.pictures import WIDTHS, clean_copies, paper_copy, picture_path
from fettlebook.handout.pictures import figure_picture
from fettlebook.handout.words import Words
from fettlebook.pages.drawings import picture_files
from fettlebook.pages.procedure_page import procedure_page
from fettlebook.pages.single import single_page
from fettlebook.pages.site import files

WELD = "mend-a-bad-weld"


@pytest.fixture(scope="module")
def book(root):
    return load(root)[0]


@pytest.fixture(scope="module")
def figure(book):
    (found,) = [s.figure for s in book.procedures[WELD].steps if s.figure and s.figure.image]
    return found


def test_the_demo_has_a_picture_whose_words_say_each_fault_and_that_it_is_invented(figure):
    assert all(word in figure.alt for word in ("pores", "undercut", "crack", "without fusing"))
    assert "invented" in figure.caption.plain


def test_every_size_is_a_plain_picture_without_a_word_from_a_camera(book, figure):
    copies = clean_copies(picture_path(book, figure))
    assert tuple(sorted(copies)) == WIDTHS
    for width, (_, content) in copies.items():
        with Image.open(io.BytesIO(content)) as copy:
            assert copy.size == (width, width * 1000 // 1600) and copy.format == "JPEG"
            assert dict(copy.getexif()) == {} and not {"exif", "comment", "icc_profile"} & set(copy.info)
    assert len(copies[800][1]) < 150_000 and len(copies[1600][1]) < 400_000


def test_the_page_offers_both_sizes_and_the_site_has_them(book, figure):
    html = procedure_page(book, book.procedures[WELD]).html
    (tag,) = re.findall(r"<img src=\"\.\./pictures/[^>]*>", html)
    assert f'alt="{figure.alt}"' in tag and 'loading="lazy"' in tag
    named = {f"pictures/{name}" for name in re.findall(r"bad-weld-\d+-[0-9a-f]{8}\.jpg", tag)}
    assert len(named) == 2 and named <= set(picture_files(book))


def test_the_lone_file_and_the_sheet_hold_the_picture_itself(book, figure):
    known = files(book)
    lone = single_page(procedure_page(book, book.procedures[WELD]), "shop", "Shop", known)
    small = next(content for uri, content in known.items() if uri.startswith("pictures/bad-weld-800"))
    held = re.findall(r"data:image/jpeg;base64,([A-Za-z0-9+/=]+)", lone)
    assert [len(one) for one in held] == [(len(small) + 2) // 3 * 4]
    assert "../pictures/" not in lone
    sheet = figure_picture(book, Words(book, {}), figure)
    content, ending, wide, _ = paper_copy(picture_path(book, figure))
    assert base64.b64encode(content).decode() in sheet["svg"] and ending == "jpg" and sheet["alt"] == figure.alt
    assert wide == 150 and 'width="150.00mm"' in sheet["svg"]
