"""Lengths typed by people: read as meant, or refused; never misread."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from clothwise.errors import LengthError
from clothwise.units import Unit, format_length, parse_length

CM = Fraction(254, 100)  # to an inch, by definition


@pytest.mark.parametrize(
    ("text", "cm"),
    [
        ("67.3", 67.3),
        ("67,3", 67.3),
        ("67,3 cm", 67.3),
        ("67,3cm", 67.3),
        ("  67.3  CM ", 67.3),
        ("67\u00a0cm", 67),
        ("67\u202fcm", 67),
        ("673 mm", 67.3),
        ("673mm", 67.3),
        ("1.5 m", 150),
        ("1,5 m", 150),
        ("1.234 m", 123.4),
        ("1 m 20", 120),
        ("1m20", 120),
        ("1 m 05", 105),
        ("1 m 5 cm", 105),
        ("67 cm 3 mm", 67.3),
        ("2 metres", 200),
        ("26 1/2 in", 67.31),
        ("26½ in", 67.31),
        ("26 ½ in", 67.31),
        ('26½"', 67.31),
        ("26½″", 67.31),
        ('26-1/2"', 67.31),
        ("26\u20111/2 in", 67.31),
        ("26 1⁄2 in.", 67.31),
        ("26 1 / 2 inches", 67.31),
        ("⅜ in", 0.9525),
        ("3/8 in", 0.9525),
        (".5 in", 1.27),
        ("0,125 in", 0.3175),
        ("2.375 in", 6.0325),
        ("5 1/2", 5.5),
        ("2 ft 3", 68.58),
        ("2 ft 3 in", 68.58),
        ("2 ft 3 1/2 in", 69.85),
        ("2'3\"", 68.58),
        ("2' 3 1/2\"", 69.85),
        ("2'3½''", 69.85),
        ("2’3”", 68.58),
        ("2'", 60.96),
        ("6 feet", 182.88),
        ("1 1/2 yd", 137.16),
        ("2 yards", 182.88),
        ("1 yd 18 in", 137.16),
        ("0", 0),
    ],
)
def test_reads_what_people_type(text: str, cm: float) -> None:
    assert parse_length(text) == pytest.approx(cm, abs=1e-9)


@pytest.mark.parametrize(
    ("unit", "cm"), [("cm", 26.5), ("in", 67.31), ("mm", 2.65), ("m", 2650), ("yd", 2423.16)]
)
def test_a_bare_number_is_in_the_chosen_unit(unit: Unit, cm: float) -> None:
    assert parse_length("26 1/2", unit=unit) == pytest.approx(cm, abs=1e-9)
    assert parse_length("26,5", unit=unit) == pytest.approx(cm, abs=1e-9)


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "1,234",  # one, or one thousand?
        "1,234 mm",
        "1.234,5",
        "1 234",
        "26 1/0",
        "1/0",
        "26 5/2",
        "26 2/2 in",
        "26.5 1/2",
        "12..5",
        "12.5.3",
        "5.",
        "--3",
        "- -3",
        "-3",
        "−3 cm",
        "-1/2",
        "+3",
        "3 4",
        "26 -1/2",
        "26 - 1/2",
        "1/2/3",
        "½½",
        "½ 26",
        "2 3/8 1/2",
        "nan",
        "inf",
        "1e3",
        "1_000",
        "0x10",
        "٣",
        "６７",
        "sixty",
        "cm",
        "cm 67",
        "67 cm cm",
        "67 km",
        "67 pt",
        "67 c m",
        "2.5 ft 3",
        "2 ft 15",
        "2 ft 12 in",
        "2 ft 3 cm",
        "3 in 2 ft",
        "26 in 1/2",
        "1 m 2",  # 102 or 120?
        "1 m 3 in",
        "1 m 120 cm",
        "67 cm 3",  # mm, or forgotten comma?
        "67 cm 12 mm",
        "1 yd 6",
        "2'3'",
        '2"3',
        "67.3 cm extra",
        "67\n3",
        "9" * 41,
    ],
)
def test_refuses_rather_than_guess(text: str) -> None:
    with pytest.raises(LengthError) as refusal:
        parse_length(text)
    assert refusal.value.what.endswith(".")
    assert refusal.value.where
    assert refusal.value.mend


def test_names_both_readings_of_an_ambiguous_number() -> None:
    with pytest.raises(LengthError, match=r"Type 1234 or 1\.234\."):
        parse_length("1,234")


def test_a_change_may_be_negative_when_asked_for() -> None:
    assert parse_length("-2 ft 3", allow_negative=True) == pytest.approx(-68.58)
    assert parse_length("−1½ in", allow_negative=True) == pytest.approx(-3.81)
    with pytest.raises(LengthError):
        parse_length("--3", allow_negative=True)


@given(
    whole=st.integers(0, 400),
    top=st.integers(1, 63),
    bottom=st.sampled_from([2, 3, 4, 5, 8, 16, 32, 64]),
    join=st.sampled_from([" ", "-", "\u00a0"]),
    mark=st.sampled_from(['"', " in", "in", " inches", "″", " INCH"]),
)
def test_any_mixed_number_of_inches(whole: int, top: int, bottom: int, join: str, mark: str) -> None:
    top = 1 + top % (bottom - 1)  # below one whole
    exact = (whole + Fraction(top, bottom)) * CM
    assert parse_length(f"{whole}{join}{top}/{bottom}{mark}") == float(exact)


@given(feet=st.integers(0, 20), inches=st.integers(0, 11), eighths=st.integers(1, 7))
def test_any_feet_and_inches(feet: int, inches: int, eighths: int) -> None:
    exact = float((feet * 12 + inches + Fraction(eighths, 8)) * CM)
    spelled = (
        f"{feet} ft {inches} {eighths}/8",
        f"{feet}'{inches} {eighths}/8\"",
        f"{feet}' {inches}-{eighths}/8 in",
    )
    assert [parse_length(text, unit="in") for text in spelled] == [exact] * 3


@given(st.decimals(0, 500, places=2, allow_nan=False, allow_infinity=False))
def test_point_and_comma_mean_the_same(number: object) -> None:
    assert parse_length(f"{number} cm") == parse_length(f"{number} cm".replace(".", ",")) == float(str(number))


@given(cm=st.floats(-500, 500), unit=st.sampled_from(["mm", "cm", "m", "in", "ft", "yd"]))
def test_what_is_written_is_read_back(cm: float, unit: Unit) -> None:
    half_step = {"mm": 0.05, "cm": 0.05, "m": 0.5}.get(unit, 2.54 / 16)
    read = parse_length(format_length(cm, unit), allow_negative=True)
    assert abs(read - cm) <= half_step + 1e-9
    assert format_length(read, unit) == format_length(cm, unit)


@given(st.text(max_size=45))
def test_no_text_at_all_brings_another_error(text: str) -> None:
    with suppress(LengthError):
        assert parse_length(text) >= 0


@given(st.text(alphabet="0123456789 /.,-'\"½ftincmyd", max_size=12))
def test_a_length_is_read_the_same_with_more_space_around_it(text: str) -> None:
    try:
        read = parse_length(text)
    except LengthError:
        with pytest.raises(LengthError):
            parse_length(f" {text} ")
    else:
        assert parse_length(f" {text} ") == read


@pytest.mark.parametrize(
    ("cm", "unit", "written"),
    [
        (67.31, "in", "26 1/2 in"),
        (67.3, "in", "26 1/2 in"),
        (0.9525, "in", "3/8 in"),
        (2.54, "in", "1 in"),
        (2.5, "in", "1 in"),
        (0, "in", "0 in"),
        (-3.81, "in", "-1 1/2 in"),
        (-0.01, "in", "0 in"),
        (182.88, "ft", "72 in"),
        (67.25, "cm", "67.3 cm"),
        (67, "cm", "67.0 cm"),
        (-0.04, "cm", "0.0 cm"),
        (67.35, "mm", "674 mm"),
        (120, "m", "1.20 m"),
    ],
)
def test_writes_lengths_as_on_the_tape(cm: float, unit: Unit, written: str) -> None:
    assert format_length(cm, unit) == written
    assert format_length(cm, unit, with_unit=False) == written.rsplit(" ", 1)[0]


def test_will_not_write_what_is_no_length() -> None:
    with pytest.raises(ValueError, match="no length"):
        format_length(float("nan"))
