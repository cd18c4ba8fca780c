"""Films, eyes and glows against exact optics, the CIE, and an open-source colour library."""

import warnings
from pathlib import Path

import pytest
import yaml

from fettlebook.tables import film, heat_colours
from fettlebook.tables.colorimetry import (
    chromaticity,
    encoded,
    linear_srgb,
    observer,
    xyz_by_emission,
    xyz_by_reflection,
)
from fettlebook.tables.definition import BadValue

CASES = yaml.safe_load((Path(__file__).parent.parent / "published" / "colours.yml").read_text(encoding="utf-8"))


def channels(colour):
    return [int(colour[n : n + 2], 16) for n in (1, 3, 5)]


def far_apart(one, other):
    return max(abs(a - b) for a, b in zip(channels(one), channels(other), strict=True))


@pytest.fixture(scope="module")
def library():
    """colour-science, which warns at import of libraries that it can do without."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour

        yield colour


@pytest.mark.parametrize("case", CASES["film"], ids=lambda case: case["what"])
def test_reflectance_of_a_film(case):
    known = film.indices(case["wavelength_nm"])
    top, under = (
        complex(case[k][0], -case[k][1]) if k in case else i for k, i in zip(("film", "under"), known, strict=True)
    )
    assert film.reflectance(case["film_nm"], case["wavelength_nm"], top, under) == pytest.approx(
        case["expect"], abs=case["tolerance"]
    )


# colour-science 0.4.7, thin_film_tmm, which writes an absorbing index n + ik: the same reflectance to rounding.
@pytest.mark.parametrize("film_nm", [0, 7, 26, 40, 57, 95, 150])
def test_reflectance_agrees_with_the_transfer_matrix_of_a_colour_library(library, film_nm):
    for wavelength in (380, 450, 550, 650, 780):
        top, under = film.indices(wavelength)
        reflected, _ = library.phenomena.thin_film_tmm(
            [1, top.conjugate(), under.conjugate()], float(film_nm), float(wavelength), 0
        )
        ours = film.reflectance(film_nm, wavelength, top, under)
        assert ours == pytest.approx(float(reflected.ravel()[0]), abs=1e-12)


def test_a_film_of_no_thickness_is_bare_iron():
    top, under = film.indices(550)
    assert film.reflectance(0, 550, top, under) == pytest.approx(abs((1 - under) / (1 + under)) ** 2, rel=1e-12)


def test_indices_lie_on_straight_lines_between_the_points_read():
    oxide, iron = film.indices(565)
    between = (565 - 549) / (582 - 549)
    assert iron.real == pytest.approx(2.95 + between * (2.94 - 2.95)) and -iron.imag == pytest.approx(
        2.93 + between * 0.06
    )
    assert oxide.real == pytest.approx(2.342) and -oxide.imag == pytest.approx((0.112 + 0.118) / 2 + 0.3)
    assert film.indices(380)[0] == pytest.approx(2.459 - 0.396j)


# colour-science 0.4.7: its tables of the observer and of D65 are the same, and its sums and sRGB give the same values.
def test_tables_and_sums_agree_with_a_colour_library(library):
    cmfs = library.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(library.SpectralShape(380, 780, 10))
    d65 = library.SDS_ILLUMINANTS["D65"].copy().align(library.SpectralShape(380, 780, 10))
    for nm, x, y, z, power in observer():
        assert (x, y, z) == pytest.approx(tuple(cmfs[nm]), abs=1e-9) and power == pytest.approx(float(d65[nm]))
    for film_nm in (0, 20, 42, 60, 90):
        spectrum = {nm: film.reflectance(film_nm, nm, *film.indices(nm)) for nm, *_ in observer()}
        xyz = library.sd_to_XYZ(
            library.SpectralDistribution(spectrum),
            cmfs,
            d65,
            method="Integration",
            shape=library.SpectralShape(380, 780, 10),
        )
        assert film.film_xyz(film_nm) == pytest.approx(tuple(xyz / 100), abs=1e-6)
        theirs = library.XYZ_to_sRGB(xyz / 100, apply_cctf_encoding=False)
        assert linear_srgb(film.film_xyz(film_nm)) == pytest.approx(tuple(theirs), abs=1e-6)
        for linear in linear_srgb(film.film_xyz(film_nm)):
            assert encoded(linear) == pytest.approx(
                float(library.cctf_encoding(max(0, linear), function="sRGB")), abs=1e-6
            )


def test_a_perfect_white_in_daylight_is_white():
    assert xyz_by_reflection(lambda nm: 1.0)[1] == pytest.approx(1, abs=1e-12)
    # CIE 15: D65 has x 0.3127, y 0.3290; sums over 10 nm instead of 1 nm move them by 0.0001.
    assert chromaticity(xyz_by_reflection(lambda nm: 1.0)) == pytest.approx((0.3127, 0.3290), abs=0.0002)


@pytest.mark.parametrize("case", CASES["film_colours"], ids=lambda case: f"{case['film_nm']} nm")
def test_colour_of_a_film(case):
    assert far_apart(film.film_srgb(float(case["film_nm"])), case["expect"]) <= case["tolerance"]


@pytest.mark.parametrize("case", CASES["growth"], ids=lambda case: f"{case['temperature_c']} degC")
def test_growth_of_the_film(case):
    assert film.grown_nm(case["temperature_c"], case["minutes"]) == pytest.approx(case["expect"], abs=case["tolerance"])


@pytest.mark.parametrize("minutes", [1, 5, 45, 240])
@pytest.mark.parametrize("film_nm", [11, 42, 90])
def test_the_law_turned_round_gives_the_film_back(film_nm, minutes):
    assert film.grown_nm(film.temperature_for(film_nm, minutes), minutes) == pytest.approx(film_nm, rel=1e-12)


@pytest.mark.parametrize("other", [1, 30, 240])
def test_the_same_colour_at_another_time_is_the_same_film(other):
    assert film.grown_nm(film.same_colour_c(277, 5, other), other) == pytest.approx(film.grown_nm(277, 5), rel=1e-12)


@pytest.mark.parametrize("minutes", [0, -5])
def test_no_time_is_refused(minutes):
    with pytest.raises(BadValue, match="no time in which a film could grow"):
        film.grown_nm(277, minutes)


@pytest.mark.parametrize("case", CASES["black_body"], ids=lambda case: case["what"])
def test_black_body(case):
    xyz = xyz_by_emission(lambda nm: heat_colours.radiance(case["kelvin"], nm))
    assert chromaticity(xyz) == pytest.approx((case["x"], case["y"]), abs=case["tolerance"])
    if "luminance" in case:
        assert xyz[1] == pytest.approx(case["luminance"], rel=0.02)


# colour-science 0.4.7, planck_law, with the same constants but for their last digits.
@pytest.mark.parametrize("kelvin", [773.15, 1073.15, 1573.15])
def test_radiance_agrees_with_a_colour_library(library, kelvin):
    for nm in (380, 550, 780):
        assert heat_colours.radiance(kelvin, nm) == pytest.approx(
            float(library.colorimetry.planck_law(nm * 1e-9, kelvin)), rel=1e-3
        )


@pytest.mark.parametrize("case", CASES["glow"], ids=lambda case: f"{case['temperature_c']} degC")
def test_swatch_of_a_glow(case):
    assert far_apart(heat_colours.glow_srgb(float(case["temperature_c"])), case["expect"]) <= 2


@pytest.mark.parametrize("temperature", [399.0, 1501.0, -300.0])
def test_a_glow_outside_the_range_is_refused_with_the_range_named(temperature):
    with pytest.raises(BadValue, match="is outside the 400 to 1500 °C"):
        heat_colours.glow_srgb(temperature)
