import re
from pathlib import Path
from xml.etree import ElementTree

import pytest

from fettlebook import data
from fettlebook.draw.pictograms import PICTOGRAMS
from fettlebook.draw.signs import sign, signs
from fettlebook.tables.definition import BadValue

SVG = "{http://www.w3.org/2000/svg}"

# ISO 7010, English titles as read in two open lists that agree (typsium-iso-7010; iso-safety-signs).
TITLES = {
    "W001": "General warning sign", "W011": "Slippery surface", "W012": "Electricity", "W015": "Overhead load", "W017": "Hot surface",
    "W022": "Sharp element", "W024": "Crushing of hands", "W028": "Oxidizing substance", "W029": "Pressurized cylinder", "W035": "Falling objects",
    "M001": "General mandatory action sign", "M002": "Refer to instruction manual/booklet", "M003": "Wear ear protection",
    "M004": "Wear eye protection", "M008": "Wear safety footwear", "M021": "Disconnect before carrying out maintenance or repair",
    "P001": "General prohibition sign", "P003": "No open flame; Fire, open ignition source and smoking prohibited", "P010": "Do not touch",
    "P011": "Do not extinguish with water", "P028": "Do not wear gloves", "P031": "Do not alter the state of the switch",
}  # fmt: skip


@pytest.mark.parametrize(("number", "title"), TITLES.items())
def test_titles_are_those_of_iso_7010(number, title):
    assert signs()[number]["title"] == title


# Numbers that lists get wrong: the apron is M026 and not M025, gloves are P028 and not P026, a mask is not respiratory protection.
def test_the_known_traps():
    by_title = {s["title"]: number for number, s in signs().items()}
    assert by_title["Use protective apron"] == "M026" and "M025" not in signs() and "P026" not in signs()
    assert (by_title["Wear a mask"], by_title["Wear respiratory protection"]) == ("M016", "M017")
    assert (
        by_title["Forklift trucks and other industrial vehicles"] == "W014" and by_title["Automatic start-up"] == "W018"
    )


def test_every_sign_has_a_picture_of_its_own_and_every_picture_a_sign():
    assert set(PICTOGRAMS) == set(signs()) - {"P001"}
    assert len(set(PICTOGRAMS.values())) == len(PICTOGRAMS)
    assert list(signs()) == [row["number"] for row in data.rows("signs")] and len(signs()) > 50


# ISO 3864-1: yellow triangle with black edge and picture; blue disc with a white picture; red ring and bar on white, picture black.
@pytest.mark.parametrize("number", list(signs()))
def test_a_sign_has_the_shape_and_colours_of_its_kind(number):
    root = ElementTree.fromstring(sign(number))
    assert root.get("role") == "img" and root.find(f"{SVG}title").text == f"{number} {signs()[number]['title']}"
    colours = set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', sign(number)))
    palette = {
        "W": {"#000000", "#f9a800"},
        "M": {"#000000", "#005387", "#ffffff"},
        "P": {"#000000", "#9b2423", "#ffffff"},
    }
    assert colours == palette[number[0]]
    assert "INK" not in sign(number) and "GROUND" not in sign(number) and 'id="' not in sign(number)
    assert {"W": "warning", "M": "mandatory", "P": "prohibition"}[number[0]] == signs()[number]["kind"]


def light(colour):
    """Relative luminance of sRGB (WCAG 2)."""
    parts = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
    r, g, b = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


# WCAG 2.2, 1.4.11: graphics need 3 to 1; grey print keeps luminance, so the contrast survives it.
@pytest.mark.parametrize(("dark", "bright"), [("#000000", "#f9a800"), ("#005387", "#ffffff"), ("#9b2423", "#ffffff")])
def test_pictures_keep_their_contrast_in_grey(dark, bright):
    assert (light(bright) + 0.05) / (light(dark) + 0.05) > 6


def test_an_unknown_sign_is_refused():
    with pytest.raises(BadValue, match='there is no sign "M025" here'):
        sign("M025")


def test_every_sign_that_the_shop_uses_is_there():
    root = Path(__file__).parent.parent.parent / "procedures"
    used = set()
    for path in root.rglob("*.yml"):
        used |= set(re.findall(r"sign: ([WMP]\d{3})", path.read_text(encoding="utf-8")))
    assert used <= set(signs())


def test_sources_of_the_signs_are_known():
    known = data.sources()
    assert all(cite["cite"] in known for cite in data.read("signs")["sources"])
