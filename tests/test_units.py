"""Units as cooks write them: what is read, what is refused, and both agree."""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack import units as u


@pytest.mark.parametrize(
    ("parse", "text", "expected"),
    [
        # Exact by definition: 1 in = 25.4 mm, 1 lb = 0.45359237 kg (International Yard and
        # Pound Agreement 1959); NIST Handbook 44, appendix C, for the rest.
        (u.parse_length_m, "12 in", 0.3048),
        (u.parse_length_m, "1 1/2 in", 0.0381),
        (u.parse_length_m, '18"', 0.4572),
        (u.parse_length_m, "2 ft", 0.6096),
        (u.parse_length_m, "30cm", 0.30),
        (u.parse_length_m, "4 mm", 0.004),
        (u.parse_length_m, "12 IN", 0.3048),
        (u.parse_length_m, ".5 m", 0.5),
        (u.parse_mass_kg, "5 lb", 2.26796185),
        (u.parse_mass_kg, "16 oz", 0.45359237),
        (u.parse_mass_kg, "800 g", 0.8),
        (u.parse_volume_l, "4 qt", 3.785411784),
        (u.parse_volume_l, "4 L", 4.0),
        (u.parse_temperature_c, "250 F", 121.1111111),
        (u.parse_temperature_c, "245F", 118.3333333),
        (u.parse_temperature_c, "121 °C", 121.0),
        (u.parse_temperature_c, "-40 f", -40.0),
        (u.parse_speed_m_s, "36 km/h", 10.0),
        (u.parse_speed_m_s, "10 mph", 4.4704),
        (u.parse_speed_m_s, "9 kn", 4.63),
        (u.parse_duration_min, "1 h 30 min", 90.0),
        (u.parse_duration_min, "1:30", 90.0),
        (u.parse_duration_min, "45 min", 45.0),
        (u.parse_duration_min, "2 H", 120.0),
        (u.parse_duration_min, "1 1/2 h", 90.0),
        # ISO 80000-5: a difference of 1.8 degrees Fahrenheit is 1 kelvin (from memory).
        (u.parse_temperature_difference_k, "18 F", 10.0),
        (u.parse_temperature_difference_k, "10 °C", 10.0),
        (u.parse_temperature_difference_k, "10 K", 10.0),
        (u.parse_angle_deg, "15", 15.0),
        (u.parse_angle_deg, "15 deg", 15.0),
        (u.parse_conductance_w_k, "0.2 W/K", 0.2),
    ],
)
def test_what_cooks_write_is_read(
    parse: Callable[[str], float], text: str, expected: float
) -> None:
    assert parse(text) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("parse", "text"),
    [
        (u.parse_length_m, "30"), (u.parse_length_m, "0,5 m"), (u.parse_length_m, "30 kg"),
        (u.parse_length_m, "1/0 in"), (u.parse_length_m, ""), (u.parse_length_m, "cm"),
        (u.parse_length_m, "1 2 in"), (u.parse_mass_kg, "2"), (u.parse_mass_kg, "2 cm"),
        (u.parse_temperature_c, "250"), (u.parse_temperature_c, "250 K"),
        (u.parse_temperature_c, "-600 F"), (u.parse_temperature_c, "warm"),
        (u.parse_duration_min, "1:75"), (u.parse_duration_min, "soon"),
        (u.parse_duration_min, "5"), (u.parse_speed_m_s, "5 knots/h"),
        (u.parse_duration_min, "-5 min"), (u.parse_duration_min, "1 h - 5 min"),
        (u.parse_duration_min, "1.5.5 h"), (u.parse_duration_min, "2h 30"),
        (u.parse_temperature_difference_k, "10"), (u.parse_temperature_difference_k, "10 cm"),
        # Too long for a float, and digits that are not the ten of ASCII.
        (u.parse_length_m, "9" * 400 + " cm"), (u.parse_temperature_c, "1/" + "9" * 5000 + " C"),
        (u.parse_length_m, "\u0663 m"), (u.parse_mass_kg, "1\u00bd kg"),
        (u.parse_mass_kg, "nan kg"), (u.parse_mass_kg, "inf kg"), (u.parse_mass_kg, "1e3 kg"),
    ],
)  # fmt: skip
def test_what_could_be_misread_is_refused_with_what_is_allowed(
    parse: Callable[[str], float], text: str
) -> None:
    with pytest.raises(ValueError, match="such as"):
        parse(text)


def test_the_refusal_names_each_unit_once() -> None:
    with pytest.raises(ValueError, match=r"^a number and one of mm, cm, m, in, ft, such as 30 cm"):
        u.parse_length_m("30")


@given(celsius=st.floats(-40.0, 300.0), unit=st.sampled_from(["C", "F"]))
def test_temperature_label_and_number_agree(celsius: float, unit: str) -> None:
    """What is written is read back as the same temperature, to the degree it was written to."""
    text = u.Units(temperature=unit).temperature_text(celsius)  # type: ignore[arg-type]
    assert text.endswith(f"°{unit}")
    assert u.parse_temperature_c(text) == pytest.approx(celsius, abs=0.51)


@given(metres=st.floats(0.001, 5.0), unit=st.sampled_from(["cm", "in"]))
def test_length_label_and_number_agree(metres: float, unit: str) -> None:
    text = u.Units(length=unit).length_text(metres)  # type: ignore[arg-type]
    assert u.parse_length_m(text) == pytest.approx(metres, abs=0.0051)


@given(kilograms=st.floats(0.01, 20.0), unit=st.sampled_from(["kg", "lb"]))
def test_mass_label_and_number_agree(kilograms: float, unit: str) -> None:
    text = u.Units(mass=unit).mass_text(kilograms)  # type: ignore[arg-type]
    assert u.parse_mass_kg(text) == pytest.approx(kilograms, abs=0.051)


@given(kelvin=st.floats(0.0, 300.0), unit=st.sampled_from(["C", "F"]))
def test_difference_label_and_number_agree(kelvin: float, unit: str) -> None:
    """A difference has no zero point: 10 K is 18 °F, not 50 °F."""
    text = u.Units(temperature=unit).difference_text(kelvin)  # type: ignore[arg-type]
    assert u.parse_temperature_difference_k(text) == pytest.approx(kelvin, abs=0.51)


@given(metres_per_second=st.floats(0.0, 40.0), unit=st.sampled_from(["cm", "in"]))
def test_wind_label_and_number_agree(metres_per_second: float, unit: str) -> None:
    """Read back to half of the coarser unit: 0.5 mph is 0.2235 m/s."""
    text = u.Units(length=unit).wind_text(metres_per_second)  # type: ignore[arg-type]
    assert u.parse_speed_m_s(text) == pytest.approx(metres_per_second, abs=0.224)


PARSERS = [
    u.parse_length_m, u.parse_mass_kg, u.parse_volume_l, u.parse_speed_m_s, u.parse_angle_deg,
    u.parse_conductance_w_k, u.parse_temperature_c, u.parse_temperature_difference_k,
    u.parse_duration_min,
]  # fmt: skip


@given(
    parse=st.sampled_from(PARSERS),
    text=st.one_of(st.text(max_size=12), st.text("0123456789 /.:-+cmkgFCh°'\"", max_size=12)),
)
def test_any_text_gives_a_finite_number_or_says_what_is_allowed(
    parse: Callable[[str], float], text: str
) -> None:
    try:
        number = parse(text)
    except ValueError as error:
        assert "such as" in str(error)
    else:
        assert math.isfinite(number)


def test_no_temperature_is_minus_nought() -> None:
    assert u.Units().temperature_text(-0.2) == "0 °C"


@pytest.mark.parametrize(
    ("hour", "minute", "twelve", "twenty_four"),
    [(0, 5, "12:05 am", "0:05"), (12, 0, "12:00 pm", "12:00"), (13, 5, "1:05 pm", "13:05")],
)
def test_clock_styles(hour: int, minute: int, twelve: str, twenty_four: str) -> None:
    at = datetime(2026, 6, 1, hour, minute, tzinfo=UTC)
    assert u.Units(clock="12").time_text(at) == twelve
    assert u.Units(clock="24").time_text(at) == twenty_four
