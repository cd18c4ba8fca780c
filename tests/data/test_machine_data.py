"""The data files on the machine itself are read as they were meant: no stray keys, order kept, every source known."""

import pytest

from fettlebook import data

FILES = ("oils", "viscosity-index", "seals", "o-rings", "alignment-limits", "moving", "supply", "climate")


@pytest.mark.parametrize("name", FILES)
def test_the_head_of_a_file_is_read_as_it_was_meant(name):
    head = data.read(name)
    assert head["about"] and head["how_known"] in {"read", "computed", "memory"}
    for source in head["sources"]:
        assert set(source) == {"cite", "at", "took"}
        assert source["cite"] in data.sources()


def test_l_and_h_rise_with_viscosity_and_h_stays_below_l():
    rows = data.read("viscosity-index")["rows"]
    for (v0, l0, h0), (v1, l1, h1) in zip(rows, rows[1:], strict=False):
        assert v0 < v1 and l0 < l1 and h0 < h1 and h1 < l1


def test_the_table_runs_into_the_quadratics_above_it():
    index = data.read("viscosity-index")
    v, low, high = index["rows"][-1]
    for printed, (a, b, c) in ((low, index["above_70"]["L"]), (high, index["above_70"]["H"])):
        assert (a * v + b) * v + c == pytest.approx(printed, rel=1e-3)


def test_grades_stand_thinnest_first_and_agma_names_real_grades():
    iso = [row["mid"] for row in data.rows("oils", "iso")]
    assert iso == sorted(iso) and len(iso) == 20
    assert {row["iso"] for row in data.rows("oils", "agma")} <= {row["number"] for row in data.rows("oils", "iso")}


def test_rings_have_positive_sizes_and_single_names():
    rows = data.read("o-rings")["rows"]
    assert len({row[0] for row in rows}) == len(rows) == 349
    assert all(min(row[1:]) > 0 for row in rows)


def test_humidity_bands_meet():
    bands = data.rows("climate", "rust")
    assert bands[0]["from"] == 0 and bands[-1]["to"] == 100
    assert all(a["to"] == b["from"] for a, b in zip(bands, bands[1:], strict=False))
