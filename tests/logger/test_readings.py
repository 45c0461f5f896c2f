"""Loggers' files: many forms of the same two readings, and what is wrong with each that fails.

244.4 F are 118 C and 248 F are 120 C by the definition of the scale; 391.15 K are 118 C by
that of the kelvin.  1795595400 s after 1970 is 2026-11-25 08:30 UTC (ISO 8601 calendar, by
the standard library).
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.errors import InputError
from suntrack.logger.columns import rows_of
from suntrack.logger.readings import read_log
from suntrack.logger.times import is_day_first, offset_in

GABORONE = ZoneInfo("Africa/Gaborone")
BERLIN = ZoneInfo("Europe/Berlin")
EPOCH_S = int(datetime(2026, 11, 25, 8, 30, tzinfo=UTC).timestamp())


def log(folder: Path, text: str | bytes) -> Path:
    path = folder / "log.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


FORMS: dict[str, str | bytes] = {
    "semicolons, decimal commas, German": (
        "Zeit;Temperatur (°C)\n25.11.2026 10:30;118,0\n25.11.2026 11:00;120,0\n"
    ),
    "year of two digits, old Windows letters": (
        "Zeit;T °C\n25.11.26 10:30;118,0\n25.11.26 11:00;120,0\n".encode("cp1252")
    ),
    "French, date and time apart": (
        "Date;Heure;Température (°C)\n25/11/2026;10:30;118,0\n25/11/2026;11:00;120,0\n"
    ),
    "Spanish, two sensors": (
        "Fecha;Hora;Ambiente C;Horno C\n25/11/2026;10:30:00;31,0;118,0\n"
        "25/11/2026;11:00:00;32,0;120,0\n"
    ),
    "month first, morning and Fahrenheit": (
        "Date/Time,Temp (°F)\n11/25/2026 10:30 AM,244.4\n11/25/2026 11:00:00 am,248\n"
    ),
    "numbered rows under a title, offset in the head": (
        '"Plot Title: oven"\n"#","Date Time, GMT+02:00","Temp, °C"\n'
        "1,11/25/26 10:30:00 AM,118.0\n2,11/25/26 11:00:00 AM,120.0\n"
    ),
    "seconds since 1970": f"timestamp,temp_c\n{EPOCH_S},118\n{EPOCH_S + 1800},120\n",
    "milliseconds": f"timestamp,tempC\n{EPOCH_S}000,118\n{EPOCH_S + 1800}000,120\n",
    "UTC with a fraction": (
        "time,Celsius\n2026-11-25T08:30:00.000Z,118\n2026-11-25T09:00:00.000Z,120\n"
    ),
    "kelvin": "time,temp (K)\n2026-11-25 10:30,391.15\n2026-11-25 11:00,393.15\n",
    "remarks first": "# logger, 3\n# serial, 7\ntime,oven C\n2026-11-25 10:30,118\n"
    "2026-11-25 11:00,120\n",
    "blanks between": "2026-11-25 10:30 118C\n2026-11-25 11:00 120C\n",
    "a comma in quotes": 'time,"oven °C"\n2026-11-25 10:30,"118,0"\n2026-11-25 11:00,"120,0"\n',
    "UTF-16": "time\toven C\n2026-11-25 10:30\t118\n2026-11-25 11:00\t120\n".encode("utf-16"),
    "gaps": "time,oven C\n2026-11-25 10:30,118\n2026-11-25 10:40,\n2026-11-25 10:45,NaN\n"
    "2026-11-25 10:50,-127\n2026-11-25 11:00,120\n",
    "twice": "time,oven C\n2026-11-25 10:30,118\n2026-11-25 10:30,118\n2026-11-25 11:00,120\n",
    "out of order": "time,oven C\n2026-11-25 11:00,120\n2026-11-25 10:30,118\n",
}


@pytest.mark.parametrize("form", FORMS)
def test_all_these_files_say_the_same(form: str, tmp_path: Path) -> None:
    readings = read_log(log(tmp_path, FORMS[form]), zone=GABORONE)
    ten = datetime(2026, 11, 25, 10, 30, tzinfo=GABORONE)
    assert [reading.at for reading in readings] == [ten, ten + timedelta(minutes=30)]
    assert [reading.box_c for reading in readings] == pytest.approx([118.0, 120.0], abs=0.01)


WRONG: dict[str, tuple[str | bytes, str, str]] = {
    "either day or month first": ("time,C\n05/11/2026 10:30,118\n", ":2", "day/month"),
    "two thermometers, no oven": (
        "time,left (C),right (C)\n2026-11-25 10:30,118,90\n",
        "",
        "left (C), right (C)",
    ),
    "no unit": ("time,oven\n2026-11-25 10:30,118\n", ":2", "no unit"),
    "a time that is none": ("time,C\n2026-11-25 10:30,118\n2026-11-25 25:30,118\n", ":3", "25:30"),
    "a first time that is none": ("time,C\nlater,119\n2026-11-25 10:30,118\n", ":2", "later"),
    "too hot for a box": ("time,C\n2026-11-25 10:30,1180\n", ":2", "1180"),
    "a year before loggers": (
        "time,C\n0001-01-01 00:10,118\n2026-11-25 10:30,118\n",
        ":2",
        "0001",
    ),
    "a word": ("time,C\n2026-11-25 10:30,118\n2026-11-25 10:40,warm\n", ":3", "warm"),
    "two boxes": ("time,C\n2026-11-25 10:30,118\n2026-11-25 10:30,40\n", "", "118 C"),
    "gaps alone": ("time,C\n2026-11-25 10:30,\n", "", "gaps"),
    "no time at all": ("oven,C\nhot,118\n", "", "no reading"),
    "nothing": ("", "", "no reading"),
    "a picture": (b"\x89PNG\x00\x00", "", "not a text"),
}


@pytest.mark.parametrize("what", WRONG)
def test_what_is_wrong_is_said_with_its_row_and_a_remedy(what: str, tmp_path: Path) -> None:
    text, line, found = WRONG[what]
    with pytest.raises(InputError) as caught:
        read_log(log(tmp_path, text), zone=GABORONE)
    problem = caught.value.problems[0]
    assert problem.where.endswith(f"log.csv{line}")
    assert found in problem.found
    assert problem.allowed
    assert problem.remedy


def test_a_hundred_mistakes_are_five_and_a_count(tmp_path: Path) -> None:
    rows = "".join(f"2026-11-25 10:{i % 60:02d},hot\n" for i in range(100))
    with pytest.raises(InputError) as caught:
        read_log(log(tmp_path, f"time,C\n{rows}"), zone=GABORONE)
    assert len(caught.value.problems) == 6
    assert "95 more" in caught.value.problems[-1].found


def test_a_reading_a_second_becomes_one_a_minute_with_its_mean(tmp_path: Path) -> None:
    """80 000 rows; 100 C and 102 C in turn have the mean 101 C."""
    start = datetime(2026, 11, 25, 0, 0)  # noqa: DTZ001 - a logger's local time
    rows = [f"{start + timedelta(seconds=i)},{100 + 2 * (i % 2)}" for i in range(80_000)]
    readings = read_log(log(tmp_path, "\n".join(["time,oven C", *rows])), zone=GABORONE)
    assert len(readings) == -(-80_000 // 60)
    assert readings[5].box_c == pytest.approx(101.0)


def test_the_hour_that_comes_twice_in_autumn_is_told_apart_by_the_order(tmp_path: Path) -> None:
    """Berlin went back at 3:00 on 25 October 2026 (EU directive 2000/84/EC: last Sunday)."""
    clock = ("01:30", "02:00", "02:30", "02:00", "02:30", "03:00")
    text = "time,C\n" + "".join(f"2026-10-25 {one},50\n" for one in clock)
    readings = read_log(log(tmp_path, text), zone=BERLIN)
    steps = {round(b.at.timestamp() - a.at.timestamp()) for a, b in pairwise(readings)}
    assert steps == {1800}


def test_the_hour_that_spring_leaves_out_shows_a_clock_that_was_not_set(tmp_path: Path) -> None:
    """Berlin went forward at 2:00 on 29 March 2026 (the same directive)."""
    text = "time,C\n2026-03-29 01:30,50\n2026-03-29 02:30,50\n"
    with pytest.raises(InputError, match="winter time"):
        read_log(log(tmp_path, text), zone=BERLIN)
    with_offset = text.replace(":30,", ":30+01:00,")
    assert len(read_log(log(tmp_path, with_offset), zone=BERLIN)) == 2


@pytest.mark.parametrize(
    ("texts", "answer"),
    [
        (["05/11/2026 10:30", "25/11/2026 10:30"], True),
        (["05/11/2026 10:30", "11/25/2026 10:30"], False),
        (["05/11/2026 10:30"], None),
        (["05.11.2026 10:30"], True),
        (["2026-11-05 10:30"], True),
    ],
)
def test_one_number_over_twelve_tells_day_from_month(texts: list[str], answer: bool | None) -> None:
    assert is_day_first(texts) is answer


@given(st.text(max_size=200))
def test_whatever_is_in_a_file_its_rows_are_rows(text: str) -> None:
    for row in rows_of(text):
        assert any(row.cells)


@given(st.binary(max_size=120))
def test_whatever_is_in_a_file_the_answer_is_readings_or_a_report(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    path = log(tmp_path_factory.mktemp("log"), content)
    try:
        assert read_log(path, zone=GABORONE)
    except InputError as error:
        assert error.problems


@pytest.mark.parametrize("offset", ["GMT+99:00", "UTC-24", "GMT+15:00", "GMT+02:75"])
def test_an_offset_that_no_clock_has_is_one_clear_mistake(tmp_path: Path, offset: str) -> None:
    text = f'"Date Time, {offset}","oven (C)"\n2026-11-25 10:30,118\n'
    with pytest.raises(InputError, match="GMT\\+02:00") as told:
        read_log(log(tmp_path, text), zone=GABORONE)
    assert offset in str(told.value)


@pytest.mark.parametrize(
    ("offset", "minutes"),
    [("GMT+14:00", 840), ("GMT-03:30", -210), ("UTC-00:30", -30), ("GMT+05:45", 345)],
)
def test_minutes_of_an_offset_go_the_way_of_its_sign(offset: str, minutes: int) -> None:
    """ISO 8601: the sign is that of the whole offset."""
    found = offset_in(f"Date Time, {offset}")
    assert found is not None
    assert found.utcoffset(None) == timedelta(minutes=minutes)
