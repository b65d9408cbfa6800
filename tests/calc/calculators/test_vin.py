"""Vehicle identification numbers: check digit and model year."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baycalc import api
from baycalc.vehicle.identification import check_digit, model_years

CHARACTERS = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"


# Numbers that explain the check digit in public text-books and pages; the middle one is the
# number of ones, whose weights add up to 89 = 8 x 11 + 1.
@pytest.mark.parametrize("number", ["1M8GDM9AXKP042788", "11111111111111111", "5GZCZ43D13S812715"])
def test_published_numbers_fit(compute: Any, number: str) -> None:
    assert compute(number=number)["check_fits"] is True


# 49 CFR 565.15, Table VII: A 1980 (2010), H 1987, J 1988, Y 2000, 1 2001, 9 2009; the seventh
# character of a light vehicle is a letter from 2010 on.
@pytest.mark.parametrize(
    ("seventh", "code", "year"),
    [
        ("1", "B", 1981), ("1", "H", 1987), ("1", "J", 1988), ("1", "Y", 2000), ("1", "1", 2001),
        ("1", "9", 2009), ("A", "A", 2010), ("A", "L", 2020), ("A", "R", 2024), ("A", "1", 2031),
    ],
)  # fmt: skip
def test_model_year(seventh: str, code: str, year: int) -> None:
    number = f"1ABCDE{seventh}8X{code}A123456"
    assert model_years(number)[0] == year


@pytest.mark.parametrize("code", ["0", "U", "Z"])
def test_no_model_year(compute: Any, code: str) -> None:
    found = compute(number=f"WABCDE18X{code}A123456"[:17], market="other")
    assert found["model_year"] == "none: place 10 holds no year"


@given(st.text(CHARACTERS, min_size=17, max_size=17), st.integers(0, 16), st.data())
def test_one_wrong_character_is_mostly_found(number: str, place: int, data: Any) -> None:
    """49 CFR 565.15, Table III: the values of the letters; a change of value by 11 cannot be."""
    whole = number[:8] + check_digit(number) + number[9:]
    other = data.draw(st.sampled_from(CHARACTERS))
    wrong = whole[:place] + other + whole[place + 1 :]
    values = {each: value for value, row in enumerate(
        ("0", "1AJ", "2BKS", "3CLT", "4DMU", "5ENV", "6FW", "7GPX", "8HY", "9RZ")
    ) for each in row}  # fmt: skip
    if place != 8:
        same = values[other] == values[whole[place]]
        assert (check_digit(wrong) == wrong[8]) == same


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("1M8GDM9AXKPO42788", "O cannot be in it: 1 and 0 are digits, and I, O and Q are never "
         "used."),
        ("1M8GDM9AXKP04278", "It has 17 characters from model year 1981 on; this has 16."),
        ("1M8GDM9AXKP04278?", "? cannot be in it: only digits and capitals without I, O and Q."),
        ("", "It has 17 characters from model year 1981 on; this has 0."),
    ],
)  # fmt: skip
def test_what_is_no_number(number: str, told: str) -> None:
    assert api.run("vin", {"number": number})["errors"] == {"number": told}


def test_a_number_is_read_as_people_write_it(compute: Any) -> None:
    assert compute(number=" 1m8 gdm9a-x kp042788 ")["written"] == "1M8 GDM9A X K P 042788"


def test_a_number_that_was_misread(run: Any) -> None:
    answer = run(number="1M8GDM9AXKP042789")
    assert answer["results"]["check_fits"]["us"] == "no"
    assert answer["headline"]["outcome"] == "fail"
    assert answer["notes"][0]["signal"] == "notice"


def test_elsewhere_no_check_digit_is_asked_for(run: Any) -> None:
    answer = run(number="WABZZZ12ZXA123456", market="other")
    assert "check_fits" not in answer["results"]
    assert answer["results"]["finding"]["us"].startswith("It has no check digit")
    assert answer["headline"] is None


@pytest.mark.parametrize(
    ("first", "place"),
    [("1", "North America"), ("J", "Asia"), ("W", "Europe"), ("9", "South America"),
     ("6", "Oceania"), ("A", "Africa"), ("0", "not given")],
)  # fmt: skip
def test_place_of_the_maker(compute: Any, first: str, place: str) -> None:
    """ISO 3780, first characters."""
    assert compute(number=f"{first}ABZZZ12ZXA123456", market="other")["place"] == place
