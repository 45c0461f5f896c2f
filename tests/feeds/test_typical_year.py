"""A year as EPW is the year it was made from.

The file is built here from a typical year that pvlib ships, field by field as the weather
format's own document has it: EnergyPlus, "Auxiliary Programs", chapter "Weather Converter
Program", sections "EnergyPlus Weather File (EPW) Data Dictionary" and "EPW CSV Format" (eight
header records; then year, month, day, hour 1 to 24, minute, flags, dry bulb {C}, dew point,
humidity, pressure, extraterrestrial horizontal and direct, infrared, global horizontal, direct
normal, diffuse horizontal {Wh/m2}, four of illumination, wind direction, wind speed {m/s}, sky
cover and what else was seen; hour 1 is the hour after midnight).
"""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError
from suntrack.feeds.season_sky import asked_year
from suntrack.feeds.typical_year import read_typical
from suntrack.year.meal_pots import Meal, cookbook
from suntrack.year.season import Season, season

ROOT = Path(__file__).parents[2]
CAROLINA = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
HEAD = (
    "LOCATION,Greensboro Piedmont Triad Int,NC,USA,TMY3,723170,36.10,-79.95,-5.0,273.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,made for a test",
    "COMMENTS 2,",
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31",
)
MISSING = "99.9,99.9,999,999999,9999,9999,9999,9999,9999,9999"
"""Dry bulb to diffuse light as the data dictionary writes what is not known."""


def row(place: int, values: str, wind_m_s: str) -> str:
    """Return one of the 8760 records."""
    on = date(2001, 1, 1) + timedelta(hours=place)
    hour = place % 24 + 1
    flags = "?9?9?9?9E0?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9"
    seen = "5,5,16.0,77777,9,999999999,10,0.0970,0,88,0.180,0.0,1.0"
    return (
        f"2001,{on.month},{on.day},{hour},0,{flags},{values},"
        f"999900,999900,999900,9999,180,{wind_m_s},{seen}"
    )


@pytest.fixture(scope="module")
def epw(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return Greensboro's typical year as EPW."""
    table = pd.read_csv(CAROLINA, skiprows=1)
    hours = np.arange(8760)
    rows = [
        row(
            int(hours[i]),
            f"{one['Dry-bulb (C)']:.1f},{one['Dew-point (C)']:.1f},{one['RHum (%)']:.0f},98000,"
            f"{one['ETR (W/m^2)']:.0f},{one['ETRN (W/m^2)']:.0f},300,{one['GHI (W/m^2)']:.0f},"
            f"{one['DNI (W/m^2)']:.0f},{one['DHI (W/m^2)']:.0f}",
            f"{one['Wspd (m/s)']:.1f}",
        )
        for i, one in enumerate(table.to_dict("records"))
    ]
    path = tmp_path_factory.mktemp("epw") / "greensboro.epw"
    path.write_text("\n".join((*HEAD, *rows)) + "\n", encoding="ascii")
    return path


@pytest.fixture(scope="module")
def example() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


def test_it_has_the_columns_of_the_document(epw: Path) -> None:
    lines = epw.read_text(encoding="ascii").splitlines()
    assert len(lines) == 8 + 8760
    assert {len(line.split(",")) for line in lines[8:]} == {35}


def test_hour_by_hour_it_is_the_file_it_was_made_from(epw: Path) -> None:
    ours, theirs = read_typical(epw), read_typical(CAROLINA)
    for name in (
        "global_horizontal_w_m2",
        "beam_normal_w_m2",
        "diffuse_horizontal_w_m2",
        "air_c",
        "wind_10m_m_s",
    ):
        np.testing.assert_allclose(getattr(ours, name), getattr(theirs, name), atol=1e-9)
    place = ("latitude_deg", "longitude_deg", "elevation_m", "utc_offset_h")
    assert [getattr(ours, name) for name in place] == [36.10, -79.95, 273.0, -5.0]
    assert [getattr(theirs, name) for name in place] == [36.10, -79.95, 273.0, -5.0]


def year_of(config: Config, path: Path) -> Season:
    asked = asked_year(config, str(path), year=2026, usual="clear")
    meals = [
        Meal(dish=config.library[wish.dish], serve=wish.serve, mass_kg=wish.mass_kg, pot=wish.pot)
        for wish in config.dishes[:1]
    ]
    return season(
        config.box,
        asked.site,
        asked.sky.every(3),
        pot=None,
        threshold_c=100.0,
        hours=2.0,
        book=cookbook(meals, box=config.box, pots=config.pots, site=asked.site),
    )


def test_the_season_of_both_is_the_same(epw: Path, example: Config) -> None:
    ours, theirs = year_of(example, epw), year_of(example, CAROLINA)
    assert ours.months == theirs.months
    assert ours.meals == theirs.meals
    assert ours.source == theirs.source == "Greensboro Piedmont Triad Int"
    assert ours.meals is not None
    assert 0 < ours.meals.days < len(range(1, 365, 3))


def test_what_is_written_as_missing_is_a_gap(epw: Path, tmp_path: Path) -> None:
    """The dictionary's own marks; a few are closed, a year of them is refused."""
    lines = epw.read_text(encoding="ascii").splitlines()
    noon = 8 + 24 * 180 + 12
    lines[noon] = row(noon - 8, MISSING, "999.")
    path = tmp_path / "gap.epw"
    path.write_text("\n".join(lines), encoding="ascii")
    whole, closed = read_typical(epw), read_typical(path)
    here = noon - 8
    for name in ("global_horizontal_w_m2", "air_c", "wind_10m_m_s"):
        around = getattr(whole, name)[[here - 1, here + 1]]
        assert getattr(closed, name)[here] == pytest.approx(around.mean())
    lines[8:] = [row(i, MISSING, "999.") for i in range(8760)]
    path.write_text("\n".join(lines), encoding="ascii")
    with pytest.raises(InputError, match="gaps in"):
        read_typical(path)


def test_a_year_that_is_cut_short_is_refused(epw: Path, tmp_path: Path) -> None:
    path = tmp_path / "short.epw"
    path.write_text(epw.read_text(encoding="ascii")[:400_000].rsplit("\n", 1)[0], encoding="ascii")
    with pytest.raises(InputError, match="hours; allowed"):
        read_typical(path)


@pytest.mark.parametrize(("hours", "is_closed"), [(24, True), (25, False), (240, False)])
def test_a_gap_of_more_than_a_day_is_refused(
    epw: Path, tmp_path: Path, hours: int, is_closed: bool
) -> None:
    """From noon to noon a straight line would be ten days of noon sun."""
    lines = epw.read_text(encoding="ascii").splitlines()
    first = 24 * 180 + 12
    lines[8 + first : 8 + first + hours] = [
        row(i, MISSING, "999.") for i in range(first, first + hours)
    ]
    path = tmp_path / "gap.epw"
    path.write_text("\n".join(lines), encoding="ascii")
    if is_closed:
        assert read_typical(path).air_c.size == 8760
        return
    with pytest.raises(InputError, match=f"a gap of {hours} hours in global"):
        read_typical(path)


@pytest.mark.parametrize("place", [0, 8760 - 25])
def test_a_gap_at_either_end_of_the_year_counts_as_well(
    epw: Path, tmp_path: Path, place: int
) -> None:
    lines = epw.read_text(encoding="ascii").splitlines()
    lines[8 + place : 8 + place + 25] = [row(i, MISSING, "999.") for i in range(place, place + 25)]
    path = tmp_path / "end.epw"
    path.write_text("\n".join(lines), encoding="ascii")
    with pytest.raises(InputError, match="a gap of 25 hours"):
        read_typical(path)


@pytest.mark.parametrize(
    ("field", "word"),
    [(6, "199"), (6, "nan"), (7, "-181"), (8, "15"), (9, "1e9"), (9, "inf")],
)
def test_a_head_that_no_place_has_is_one_clear_mistake(
    epw: Path, tmp_path: Path, field: int, word: str
) -> None:
    """Fields of LOCATION by the data dictionary: latitude, longitude, time zone, elevation."""
    lines = epw.read_text(encoding="ascii").splitlines()
    head = lines[0].split(",")
    head[field] = word
    path = tmp_path / "head.epw"
    path.write_text("\n".join((",".join(head), *lines[1:])), encoding="ascii")
    with pytest.raises(InputError, match=r"in the head.*It has to be a number"):
        read_typical(path)


def test_a_word_among_the_numbers_is_one_clear_mistake(epw: Path, tmp_path: Path) -> None:
    lines = epw.read_text(encoding="ascii").splitlines()
    cells = lines[4000].split(",")
    cells[13] = "foo"
    lines[4000] = ",".join(cells)
    path = tmp_path / "word.epw"
    path.write_text("\n".join(lines), encoding="ascii")
    with pytest.raises(InputError, match=r"foo.* in global_horizontal"):
        read_typical(path)
