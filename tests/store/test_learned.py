"""The learned factors on disk, and a logger's file."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from suntrack.box.build import Learned
from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError
from suntrack.logger.readings import read_log
from suntrack.store.learned import FILE, Kept, keep, kept_for, take_back, with_learned

ROOT = Path(__file__).parents[2]
KEPT = Kept(learned=Learned(loss=1.2, light=0.9, store=1.0), days=3)


@pytest.fixture(scope="module")
def config() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


def log(folder: Path, text: str) -> Path:
    path = folder / "log.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_what_is_kept_is_read_back_and_changes_the_plan_s_name(
    config: Config, tmp_path: Path
) -> None:
    keep(tmp_path, config.box, KEPT)
    assert kept_for(tmp_path, config.box) == KEPT
    used = with_learned(config, tmp_path)
    assert used.box.learned == KEPT.learned
    assert used.fingerprint != config.fingerprint
    assert kept_for(tmp_path, used.box) == KEPT, "what was learned does not make another box"


def test_another_box_does_not_get_them(config: Config, tmp_path: Path) -> None:
    keep(tmp_path, config.box, KEPT)
    assert kept_for(tmp_path, replace(config.box, depth_m=0.5)) is None
    assert kept_for(tmp_path, replace(config.box, name="renamed")) == KEPT


def test_they_are_taken_back(config: Config, tmp_path: Path) -> None:
    keep(tmp_path, config.box, KEPT)
    assert take_back(tmp_path)
    assert not take_back(tmp_path)
    assert with_learned(config, tmp_path) is config


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"box": 3}', "\x00", '{"loss": "x"}'])
def test_a_damaged_file_is_none(config: Config, tmp_path: Path, text: str) -> None:
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    assert kept_for(tmp_path, config.box) is None


def test_a_factor_of_a_hundred_is_not_ours(config: Config, tmp_path: Path) -> None:
    keep(tmp_path, config.box, Kept(learned=Learned(loss=100.0), days=3))
    assert kept_for(tmp_path, config.box) is None


@pytest.mark.parametrize(
    "text",
    [
        "2026-11-25T10:30,118 C\n2026-11-25T11:00,248F\n",
        "time,oven (F)\n2026-11-25 10:30,244.4\n2026-11-25 11:00,248\n",
        "date;time;temp_c\n2026-11-25;10:30;118\n2026-11-25;11:00;120\n",
        "when\tbattery\toven [°C]\n2026-11-25 10:30:00\t3.1\t118\n2026-11-25 11:00:00\t3.0\t120\n",
        "\ufefftime,Celsius\n2026-11-25T11:00+02:00,120\n2026-11-25T10:30+02:00,118\n\n",
    ],
)
def test_logs_of_many_forms_say_the_same(config: Config, tmp_path: Path, text: str) -> None:
    """244.4 F are 118 C and 248 F are 120 C, by the definition of the scale."""
    readings = read_log(log(tmp_path, text), zone=config.site.zone)
    assert [reading.at for reading in readings] == [
        datetime(2026, 11, 25, 10, 30, tzinfo=config.site.zone),
        datetime(2026, 11, 25, 11, 0, tzinfo=config.site.zone),
    ]
    assert [reading.box_c for reading in readings] == pytest.approx([118.0, 120.0], abs=0.01)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("", "log.csv"),
        ("time,oven\n2026-11-25 10:30,118\n", "log.csv:2"),
        ("time,oven (C)\n2026-11-25 10:30,118\nlater,119\n", "log.csv:3"),
        ("time,oven (C)\n2026-11-25 10:30,1180\n", "log.csv:2"),
        ("time,oven (C)\n2026-11-25 10:30\n", "log.csv:2"),
    ],
)
def test_logs_that_cannot_be_read_name_their_row(
    config: Config, tmp_path: Path, text: str, where: str
) -> None:
    with pytest.raises(InputError) as caught:
        read_log(log(tmp_path, text), zone=config.site.zone)
    assert where in str(caught.value)


def test_a_file_that_is_not_there_is_one_message(config: Config, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="gone"):
        read_log(tmp_path / "gone.csv", zone=config.site.zone)
