"""The reader of the fonts' cmap against fontTools, a library made for it."""

import pytest
from fontTools.ttLib import TTFont

from fettlebook.handout.glyphs import FONTS, _code_points, missing


@pytest.mark.parametrize("path", sorted(FONTS.glob("*.ttf")), ids=lambda path: path.stem)
def test_code_points_are_those_that_fonttools_reads(path):
    known = set(TTFont(path).getBestCmap())
    assert _code_points(path.read_bytes()) == known


def test_what_the_shop_writes_is_there_and_a_box_is_not():
    assert missing({"a": ["° × − ½ ⅜ ≤ √ Ø"]}) == ""
    assert missing({"a": "<svg><text x='1'>ok &amp; ➊</text></svg>"}) == "➊"
