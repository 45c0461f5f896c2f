"""The year of a box on typical years that others measured: the files that pvlib ships.

NREL's TMY3 of Sand Point AK (703165) and Greensboro NC (723170) and TMY2 of Miami (12839).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import numpy as np
import pandas as pd
import pvlib
import pytest
from planned_days import meals_in

from suntrack.bench.water_load import standard_pot
from suntrack.config.reader import Config
from suntrack.errors import InputError
from suntrack.feeds.season_sky import BETWEEN, AskedYear, asked_year
from suntrack.feeds.typical_year import read_typical
from suntrack.screen.json.season import SEASON_KEYS, season_json
from suntrack.screen.page import Page, page_lines
from suntrack.screen.text.season import season_page
from suntrack.sky.clear_sky import extraterrestrial_w_m2
from suntrack.sky.year import clear_year
from suntrack.units import Units
from suntrack.year.meal_pots import Meal, cookbook
from suntrack.year.season import Season, season, year_run

DATA = Path(pvlib.__file__).parent / "data"
ALASKA, CAROLINA, MIAMI = "703165TY.csv", "723170TYA.CSV", "12839.tm2"


def file_year(config: Config, name: str) -> AskedYear:
    return asked_year(config, str(DATA / name), year=2026, usual="clear")


def year_of(config: Config, name: str, *, every: int = 1, meals: Sequence[Meal] = ()) -> Season:
    asked = file_year(config, name)
    sky, site = asked.sky, asked.site
    pot = standard_pot(config.pots, box=config.box, elevation_m=site.elevation_m)
    book = cookbook(meals, box=config.box, pots=config.pots, site=site) if meals else None
    return season(
        config.box,
        site,
        sky.every(every),
        pot=pot,
        threshold_c=100.0,
        hours=2.0,
        book=book,
        free=config.free,
    )


@pytest.fixture(scope="module")
def years(config: Config) -> dict[str, Season]:
    """Return the three years with the example's meals, one day in six."""
    meals = meals_in(config)
    return {name: year_of(config, name, every=6, meals=meals) for name in (ALASKA, CAROLINA, MIAMI)}


def page_of(found: Season, units: Units | None = None) -> Page:
    return season_page(
        found,
        units or Units(temperature="F", length="in", clock="12"),
        box_name="the box",
        away_km=100.0,
        solid="#",
        empty=".",
    )


@pytest.mark.parametrize("name", [ALASKA, CAROLINA, MIAMI])
def test_the_fine_year_has_the_light_of_the_file(config: Config, name: str) -> None:
    """Means of the year within 1 %: an hour's shift would put light where there is no sun."""
    hours = read_typical(DATA / name)
    sky = file_year(config, name).sky
    for field in ("beam_normal_w_m2", "diffuse_horizontal_w_m2", "global_horizontal_w_m2"):
        mine, theirs = getattr(sky, field).mean(), getattr(hours, field).mean()
        assert mine == pytest.approx(theirs, rel=0.015), field
    assert sky.air_c.mean() == pytest.approx(hours.air_c.mean(), abs=0.02)


@pytest.mark.parametrize("name", [ALASKA, CAROLINA])
def test_the_sun_of_each_hour_is_the_one_the_file_reckoned(config: Config, name: str) -> None:
    """The files' own column of light on level ground outside the air, hour by hour."""
    theirs = pd.read_csv(DATA / name, skiprows=1)["ETR (W/m^2)"].to_numpy(float)
    sky = file_year(config, name).sky
    height = np.maximum(np.sin(np.radians(sky.elevation_deg)), 0.0)
    mine = (extraterrestrial_w_m2(sky.at_s) * height).reshape(-1, 12).mean(axis=1)
    assert np.corrcoef(mine, theirs)[0, 1] > 0.999
    assert mine.mean() == pytest.approx(theirs.mean(), rel=0.01)
    for shift in (-1, 1):
        assert np.corrcoef(np.roll(mine, shift), theirs)[0, 1] < 0.99


def test_units_of_the_three_forms_are_ours() -> None:
    """Climate normals, from memory: Miami about 24 C over the year, Greensboro 14, Sand Point 4."""
    for name, mean_c in ((MIAMI, 24.5), (CAROLINA, 14.5), (ALASKA, 4.0)):
        hours = read_typical(DATA / name)
        assert hours.air_c.mean() == pytest.approx(mean_c, abs=1.0)
        assert 2.5 < hours.wind_10m_m_s.mean() < 6.5


def test_where_there_is_less_sun_there_are_fewer_good_days(years: dict[str, Season]) -> None:
    """Mean light on level ground, by the files: Sand Point 95, Greensboro 179, Miami 205 W/m2."""
    alaska, carolina, miami = (years[name] for name in (ALASKA, CAROLINA, MIAMI))
    assert alaska.hot_days < carolina.hot_days < miami.hot_days
    meals = [year.meals.days for year in (alaska, carolina, miami) if year.meals is not None]
    assert meals == sorted(set(meals))
    assert len(meals) == 3
    june, december = carolina.months[5], carolina.months[11]
    assert june.evening_days >= december.evening_days
    for month in (*alaska.months, *carolina.months, *miami.months):
        assert month.noon_days <= month.evening_days <= month.days
        assert month.hot_days <= month.days


def test_a_mirror_is_leaned_further_back_for_a_higher_sun(years: dict[str, Season]) -> None:
    """A lid as long as the glass is best at 60 + 2a/3 (closed form, a the sun's height)."""
    months = years[CAROLINA].months
    assert months[5].mirror is not None
    assert months[11].mirror is not None
    assert months[5].mirror.mirror_deg > months[11].mirror.mirror_deg
    assert months[5].tilt_deg < months[11].tilt_deg
    assert all(month.tilt_gain >= 1.0 for month in months)


def test_a_clear_year_is_never_worse_than_a_typical_one_at_its_place(config: Config) -> None:
    asked = file_year(config, CAROLINA)
    site, typical = asked.site, asked.sky
    clear = clear_year(site, year=2026, utc_offset_h=-5.0)
    ran = [
        year_run(config.box, site, sky.every(9), pot=None, threshold_c=100.0)
        for sky in (clear, typical)
    ]
    assert np.median(ran[0].peak_c) > np.median(ran[1].peak_c)
    assert not np.isfinite(ran[0].ready_s).any()


def test_a_place_far_away_is_told_and_its_clock_is_its_own(config: Config) -> None:
    asked = file_year(config, MIAMI)
    assert asked.sky.source == "Miami"
    assert asked.away_km is not None
    # Gaborone to Miami along the great circle (haversine by hand: about 12 900 km).
    assert asked.away_km == pytest.approx(12900.0, rel=0.03)
    assert asked.site.time_zone == "Etc/GMT+5"


def test_zones_between_the_hours_keep_their_offset() -> None:
    """By the IANA zone data, in both halves of the year."""
    for offset_h, name in BETWEEN.items():
        for month in (1, 7):
            offset = datetime(2026, month, 1, tzinfo=ZoneInfo(name)).utcoffset()
            assert offset == timedelta(hours=offset_h), name


@pytest.mark.parametrize(("word", "told"), [("cler", "clear?"), ("sunny", "Give one of these")])
def test_a_sky_that_there_is_not_brings_the_near_one(config: Config, word: str, told: str) -> None:
    with pytest.raises(InputError) as caught:
        asked_year(config, word, year=2026, usual="clear")
    assert told in str(caught.value)
    assert "clear, usual, or a file" in str(caught.value)


@pytest.mark.parametrize(
    ("name", "text", "found"),
    [
        ("gone.epw", None, "no such file"),
        ("notes.txt", "a", "notes.txt"),
        ("half.csv", "a,b\n1,2\n", "cannot be read"),
        ("short.epw", "LOCATION\n", "cannot be read"),
        ("empty.tm2", "", "cannot be read"),
    ],
)
def test_strange_files_are_one_message(
    tmp_path: Path, name: str, text: str | None, found: str
) -> None:
    path = tmp_path / name
    if text is not None:
        path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError, match=found):
        read_typical(path)


@pytest.mark.parametrize("name", [ALASKA, CAROLINA, MIAMI])
def test_the_meals_of_a_year_add_up(years: dict[str, Season], name: str) -> None:
    """Together is never more than the worst alone, and the year is the sum of its months."""
    found = years[name]
    meals = found.meals
    assert meals is not None
    days = [month.days for month in found.months]
    for place, whole in enumerate(days):
        alone = [dish.by_month[place] for dish in meals.dishes]
        assert meals.together[place] <= min(alone) <= max(alone) <= whole
    assert meals.days == sum(meals.together)
    assert meals.span is not None
    assert meals.best_months


def test_the_page_fits_forty_columns_and_the_keys_are_told(config: Config) -> None:
    refused = Meal(dish=config.library["stuffed-bird"], serve=time(13))
    found = year_of(config, CAROLINA, every=30, meals=[*meals_in(config), refused])
    page = page_of(found)
    drawn = [row for section in page.sections for row in section.drawn]
    assert max(len(row) for row in drawn) <= 40
    told = " ".join(page_lines(page))
    assert "°C" not in told
    assert "62 miles" in told
    assert "1: Lentil soup, 1.8 kg, 1:00 pm" in told
    assert f"Not in this box: {refused.dish.name}." in told
    assert "local food authority" in told
    assert "Two litres" not in told
    data = season_json(found, away_km=None)
    assert {re.split(r"[\[.]", key)[0] for key in SEASON_KEYS} == set(data)
    assert all(f"months[].{key}" in SEASON_KEYS for key in data["months"][0])
    assert all(f"meals.{key}" in SEASON_KEYS or key == "dishes" for key in data["meals"])
    assert all(f"meals.dishes[].{key}" in SEASON_KEYS for key in data["meals"]["dishes"][0])
    assert data["meals"]["dishes"][3]["refused"]
    assert data["meals"]["days"] == sum(month["meal_days"] for month in data["months"])


def test_without_a_dish_a_pot_of_water_stands_for_it(config: Config) -> None:
    found = year_of(config, CAROLINA, every=30)
    told = " ".join(page_lines(page_of(found)))
    assert "Two litres hot" in told
    assert "come good" not in told
    data = season_json(found, away_km=None)
    assert data["meals"] is None
    assert data["months"][0]["meal_days"] is None


def test_one_dish_has_no_column_of_its_own(config: Config) -> None:
    found = year_of(config, CAROLINA, every=30, meals=meals_in(config)[:1])
    titles = [section.title for section in page_of(found).sections]
    assert "Days good for Lentil soup" in titles
    assert "Days good for each alone" not in titles


def test_more_dishes_than_fit_beside_each_other_stand_below(config: Config) -> None:
    keys = ("lentil-soup", "cabbage", "white-rice", "chickpeas", "beetroot", "egg-bake", "chilli")
    meals = [Meal(dish=config.library[key], serve=time(18)) for key in keys]
    page = page_of(year_of(config, MIAMI, every=60, meals=meals))
    table = next(one for one in page.sections if one.title == "Days good for each alone")
    assert max(len(row) for row in table.drawn) <= 40
    heads = [row.split() for row in table.drawn if row.startswith("    ")]
    assert [number for head in heads for number in head] == list("1234567")
    told = " ".join(page_lines(page))
    assert "together they never count" in told


def test_when_every_dish_is_refused_nothing_is_counted(config: Config) -> None:
    meals = [Meal(dish=config.library["stuffed-bird"], serve=time(13))]
    found = year_of(config, CAROLINA, every=60, meals=meals)
    assert found.meals is not None
    assert found.meals.days == 0
    told = " ".join(page_lines(page_of(found)))
    assert "Not in this box" in told
    assert "Days good" not in told
    assert "Two litres hot" in told


def test_skies_that_are_not_the_site_s_own_say_so(config: Config) -> None:
    asked = asked_year(config, None, year=2026, usual="usual")
    some = season(
        config.box, asked.site, asked.sky.every(60), pot=None, threshold_c=100.0, hours=2.0
    )
    told = " ".join(page_lines(page_of(some)))
    assert "seven stations in the USA" in told
    assert asked.away_km is None


def test_without_a_pot_that_fits_nothing_is_hot(config: Config) -> None:
    small = replace(config.box, height_m=0.05)
    assert standard_pot(config.pots, box=small, elevation_m=0.0) is None
    assert standard_pot((), box=config.box, elevation_m=0.0) is None
