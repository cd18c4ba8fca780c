"""Every source stands once, says what it is and how far it was seen; every cited key is there."""

import re
from collections import Counter
from pathlib import Path

import pytest
import yaml

from fettlebook import data

SOURCES = Path(data.__file__).parent / "sources"
SEEN = {"read", "secondary", "memory", "none"}


def test_a_source_key_stands_in_one_file_only():
    keys = Counter(key for path in SOURCES.glob("*.yml") for key in yaml.safe_load(path.read_text(encoding="utf-8")))
    assert [key for key, times in keys.items() if times > 1] == []


@pytest.mark.parametrize("key", sorted(data.sources()))
def test_a_source_has_a_title_and_says_how_far_it_was_seen(key):
    source = data.sources()[key]
    assert source.get("title"), key
    assert source.get("seen") in SEEN, f"{key}: seen must be one of {sorted(SEEN)}"


def test_every_cited_key_is_a_source():
    house = Path(data.__file__).parent.parent
    cited = {
        key
        for path in house.rglob("*.py")
        for key in re.findall(r'Cite\(\s*"([^"]+)"', path.read_text(encoding="utf-8"))
    }
    cited |= {
        key
        for path in house.glob("data/*.yml")
        for key in re.findall(r"\bcite: ([a-z0-9-]+)", path.read_text(encoding="utf-8"))
    }
    assert sorted(cited - set(data.sources())) == []
