"""Signs, signal words, cautions and the parts of a procedure against the published facts of tests/published/safety.yml."""

import json
import re
from pathlib import Path

import pytest
import yaml

import fettlebook.book
from fettlebook.book.procedure import SIGNALS
from fettlebook.draw.signs import signs

ROOT = Path(__file__).parent.parent.parent
CASES = yaml.safe_load((ROOT / "tests" / "published" / "safety.yml").read_text(encoding="utf-8"))
SHAPE = json.loads((Path(fettlebook.book.__file__).parent / "shapes" / "procedure.json").read_text(encoding="utf-8"))
CAUTIONS = yaml.safe_load((ROOT / "procedures" / "shop" / "cautions.yml").read_text(encoding="utf-8"))
by_id = {"ids": lambda case: case["id"]}


def test_every_case_names_its_source():
    cases = [case for group in CASES.values() for case in group]
    assert all(case["source"] and case["how_known"] in {"read", "memory"} for case in cases)
    assert len({case["id"] for case in cases}) == len(cases)


@pytest.mark.parametrize("case", CASES["signs"], **by_id)
def test_a_sign_has_its_registered_title(case):
    assert {number: signs()[number]["title"] for number in case["titles"]} == case["titles"]


def test_signal_words_mean_what_the_standards_mean():
    meant, of_the_series = CASES["signal"]
    described = SHAPE["$defs"]["caution"]["properties"]["signal"]
    parts = dict(part.strip(" .").split(": ") for part in described["description"].split(";"))
    assert set(parts) == set(meant["words"]) and all(meant["words"][word] in parts[word] for word in parts)
    assert list(SIGNALS) == described["enum"] == of_the_series["ansi_z535"]
    assert list(SIGNALS[:3]) == of_the_series["iso_3864_2"]  # notice has no harm to a person in it


@pytest.mark.parametrize("case", CASES["cautions"], **by_id)
def test_a_caution_says_what_the_rule_asks_in_its_order(case):
    caution = CAUTIONS[case["caution"]]
    found = [caution["avoid"].find(words) for words in case["in_order"]]
    assert -1 not in found and found == sorted(found), caution["avoid"]
    assert "sign" not in case or caution["sign"] == case["sign"]


# 50 F is a difference: 28 K, and not the temperature of 10 degC.
def test_quench_oil_is_kept_far_enough_below_its_flash_point():
    (case,) = CASES["quench_oil"]
    assert case["below_flash_f"] / 1.8 == pytest.approx(case["below_flash_k"], abs=0.5)
    said = [
        int(figure)
        for path in sorted((ROOT / "procedures").glob("*.yml"))
        for figure in re.findall(r"(\d+) °C below its flash point", path.read_text(encoding="utf-8"))
    ]
    assert said and min(said) >= case["below_flash_k"]


def properties(of):
    return SHAPE["properties"] if of == "procedure" else SHAPE["$defs"][of]["properties"]


@pytest.mark.parametrize("case", CASES["parts"], **by_id)
def test_every_part_of_an_instruction_has_its_place(case):
    known = properties(case["of"])
    for place in case.get("holds", {}).values():
        first, _, second = place.partition(".")
        assert first in known and (not second or second in known[first]["properties"]), place
    required = SHAPE["required"] if case["of"] == "procedure" else SHAPE["$defs"][case["of"]]["required"]
    assert set(case.get("must", [])) <= set(required)
    order = [list(known).index(name) for name in case.get("in_order", [])]
    assert order == sorted(order)
