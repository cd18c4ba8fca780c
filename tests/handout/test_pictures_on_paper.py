"""Photographs and square codes on the printed sheet, taken out of the PDF again by other libraries (pypdf, Pillow, zxing-cpp)."""

import dataclasses
import io
import re
import shutil

import pytest
import zxingcpp
from PIL import Image

from fettlebook.book import pictures
from fettlebook.book.pictures import PAPER_HEIGHT_MM, PAPER_WIDTH_MM, paper_copy
from fettlebook.book.places import Place
from fettlebook.book.procedure import Figure
from fettlebook.book.text import text
from fettlebook.handout.pictures import square_code
from fettlebook.handout.sheet import handout

SECRET = b"51 deg 30 min"


@pytest.fixture
def pictured(book, root, tmp_path):
    """A procedure with a photograph at its first step: (book, procedure), made from a file of the camera."""

    def made(size=(3000, 2000), kind="JPEG", mode="RGB"):
        folder = tmp_path / "procedures"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        name = f"plug.{kind.lower().replace('jpeg', 'jpg')}"
        picture = Image.linear_gradient("L").resize(size).convert(mode)
        exif = Image.Exif()
        exif[0x010E] = SECRET.decode()
        picture.save(folder / name, kind, exif=exif)
        assert SECRET in (folder / name).read_bytes()
        figure = Figure(
            "The plug with its flat washer", text("Plug, washer."), image=name, place=Place("procedures/x.yml")
        )
        whole = book.procedures["find-a-leak"]
        first = dataclasses.replace(whole.stages[0].steps[0], figure=figure)
        stage = dataclasses.replace(whole.stages[0], steps=(first, *whole.stages[0].steps[1:]))
        return dataclasses.replace(book, root=tmp_path), dataclasses.replace(whole, stages=(stage, *whole.stages[1:]))

    return made


def images(pdf):
    return [image for page in pdf.pages for image in page.images]


@pytest.mark.parametrize("kind, mode", [("JPEG", "RGB"), ("PNG", "RGB"), ("PNG", "RGBA"), ("WEBP", "RGB")])
@pytest.mark.parametrize("reader", ["bench", "trainee"])
def test_a_photograph_is_printed_with_its_words_and_nothing_that_the_camera_wrote(pictured, read, kind, mode, reader):
    content = handout(*pictured(kind=kind, mode=mode), reader)
    found = images(read(content))
    assert len(found) == 1 and found[0].image.size == (1181, 787)  # 150 mm at 200 dots an inch
    assert SECRET not in content and b"Exif" not in content
    assert "The plug with its flat washer" in str(alternatives(read(content)))


def alternatives(pdf):
    """Every text for those who cannot see, from the structure tree."""
    found, waiting = [], [pdf.trailer["/Root"]["/StructTreeRoot"]]
    while waiting:
        one = waiting.pop().get_object()
        if "/Alt" in one:
            found.append(str(one["/Alt"]))
        children = one.get("/K", [])
        for child in children if isinstance(children, list) else [children]:
            if hasattr(child.get_object(), "keys"):
                waiting.append(child)
    return found


def test_the_same_photograph_gives_the_same_bytes(pictured):
    book, procedure = pictured()
    first = handout(book, procedure)
    pictures._paper_copy.cache_clear()
    assert handout(book, procedure) == first


@pytest.mark.parametrize("size", [(3000, 2000), (2000, 3000), (6000, 400), (300, 200), (1, 1)])
def test_a_photograph_fits_its_place_and_is_never_coarse(tmp_path, size):
    path = tmp_path / "plug.jpg"
    Image.new("RGB", size, "grey").save(path)
    content, ending, wide, high = paper_copy(path)
    with Image.open(io.BytesIO(content)) as copy:
        assert wide <= PAPER_WIDTH_MM + 0.01 and high <= PAPER_HEIGHT_MM + 0.01 and ending == "jpg"
        assert copy.width / (wide / 25.4) >= 199 and copy.width / wide == pytest.approx(copy.height / high, rel=0.05)


def test_a_picture_that_is_none_leaves_the_sheet_without_it(pictured, read):
    book, procedure = pictured()
    (book.root / "procedures" / "plug.jpg").write_bytes(b"not a picture")
    pictures._paper_copy.cache_clear()
    assert images(read(handout(book, procedure))) == []


def drawn(svg):
    """The square code of a sheet as a picture: black modules on white, ten dots each, from the path that draws it."""
    size = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    picture, x, y = Image.new("L", (size * 10, size * 10), 255), 0.0, 0.0
    for command, first, second in re.findall(
        r"([Mmh])([-\d.]+)(?:[ ,]?([-\d.]+))?", re.search(r' d="([^"]+)"', svg)[1]
    ):
        if command == "h":
            picture.paste(0, tuple(round(v * 10) for v in (x, y - 0.5, x + float(first), y + 0.5)))
            x += float(first)
        else:
            x, y = (float(first), float(second)) if command == "M" else (x + float(first), y + float(second))
    return picture


@pytest.mark.parametrize(
    "address",
    ["https://book.example.org/procedures/find-a-leak.html", "https://a.example/" + "long-" * 30 + "name.html"],
)
def test_a_telephone_reads_the_square_code(address):
    found = zxingcpp.read_barcodes(drawn(square_code(address)))
    assert [one.text for one in found] == [address]


def test_the_code_on_the_sheet_stands_on_its_first_page(book, read):
    pdf = read(handout(book, book.procedures["find-a-leak"], "bench", "a4", "https://book.example.org/"))
    assert "Square code of the page at https://book.example.org/procedures/find-a-leak.html" in alternatives(pdf)
