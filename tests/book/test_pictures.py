"""A photograph goes into the book upright, small enough, and without what the camera wrote into it."""

import io
from dataclasses import replace

import pytest
from PIL import Image

from fettlebook.book import pictures
from fettlebook.book.pictures import clean_copies, picture_path
from fettlebook.book.places import Place
from fettlebook.book.procedure import Figure

GPS_IFD = 0x8825
ORIENTATION = 0x0112


@pytest.fixture
def photograph(tmp_path):
    """2400 x 1200 pixels, left half red, turned by the camera's own mark, with the place where it was taken."""
    picture = Image.new("RGB", (2400, 1200), "blue")
    picture.paste((255, 0, 0), (0, 0, 1200, 1200))
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # the camera was held upright: turn a quarter clockwise (Exif 2.3, tag 274)
    exif.get_ifd(GPS_IFD)[2] = (51.0, 30.0, 0.0)
    path = tmp_path / "Plug.JPG"
    picture.save(path, "JPEG", exif=exif)
    with Image.open(path) as saved:
        assert saved.getexif().get_ifd(GPS_IFD)
    return path


def test_copies_are_upright_small_and_bare(photograph):
    copies = clean_copies(photograph)
    assert sorted(copies) == [800, 1200]
    for width, (name, content) in copies.items():
        with Image.open(io.BytesIO(content)) as copy:
            assert copy.size == (width, width * 2)
            assert dict(copy.getexif()) == {}
            assert b"Exif" not in content
            top = copy.getpixel((width // 2, 10))
            assert top[0] > 200 and top[2] < 60, "the red half is at the top once it is turned"
        assert name.startswith(f"plug-{width}-") and name.endswith(".jpg")


def test_same_picture_same_bytes(photograph):
    first = dict(clean_copies(photograph))
    pictures._clean_copies.cache_clear()
    assert dict(clean_copies(photograph)) == first


@pytest.mark.parametrize("content", [b"", b"not a picture", b"\x89PNG\r\n\x1a\nbroken", b"\xff\xd8\xff\xe0cut"])
def test_what_is_no_picture_gives_nothing(tmp_path, content):
    path = tmp_path / "x.png"
    path.write_bytes(content)
    assert clean_copies(path) == {}


@pytest.mark.parametrize("name", ["../../secret.png", "/etc/hostname", "missing.png", "", "a\0b.png"])
def test_nothing_outside_the_book_is_read(root, tmp_path, name):
    from fettlebook.book.load import load

    (tmp_path / "secret.png").write_bytes(b"x")
    (tmp_path / "procedures" / "deep").mkdir(parents=True)
    book = replace(load(root)[0], root=tmp_path)
    figure = Figure("words", None, image=name, place=Place("procedures/deep/p.yml", 1, 1))
    assert picture_path(book, figure) is None
