"""Rules between keys: what cannot be built is refused, what can just be built is not."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from suntrack.config.reader import load_config
from suntrack.errors import InputError
from suntrack.food.dishes import builtin_dishes

EXAMPLE = (Path(__file__).parents[2] / "config" / "suntrack.toml").read_text(encoding="utf-8")
POTS = EXAMPLE[EXAMPLE.index("[[pot]]") : EXAMPLE.index("# --- The cook")]
DISHES = EXAMPLE[EXAMPLE.index("[[dish]]") : EXAMPLE.index("# --- How it is shown")]
MIRROR = EXAMPLE[EXAMPLE.index("[box.mirror]") : EXAMPLE.index("[box.lining]")]
WALLS = EXAMPLE[EXAMPLE.index("[[box.wall]]") : EXAMPLE.index("# --- The pots")]


def report(folder: Path, *changes: tuple[str, str]) -> list[str]:
    """Return what is wrong with the example after some changes; each old text has to be there."""
    text = EXAMPLE
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    path = folder / "mine.toml"
    path.write_text(text, encoding="utf-8")
    try:
        load_config(path)
    except InputError as error:
        return [re.sub(r"^.*mine\.toml(:\d+)?: ", "", str(problem)) for problem in error.problems]
    return []


def mirror(**angles: int) -> tuple[str, str]:
    """Return the change that gives the mirror these angles and no others."""
    lines = "".join(f'{name}_angle = "{deg} deg"\n' for name, deg in angles.items())
    return MIRROR, f'[box.mirror]\nlength = "44 cm"\nwidth = "60 cm"\n{lines}\n'


@pytest.mark.parametrize(
    "change",
    [
        ("latitude = -24.65", "latitude = -90"),
        ("latitude = -24.65", "latitude = 90.0"),
        ("longitude = 25.91", "longitude = 85"),
        ('elevation = "1010 m"', 'elevation = "-430 m"'),
        ('elevation = "1010 m"', 'elevation = "6000 m"'),
        ('thickness = "4 mm"', 'thickness = "12 mm"'),
        ('height = "13 cm"', 'height = "26.9 cm"'),
        ('diameter = "25 cm"', 'diameter = "44 cm"'),
        ('top_frame = "1 cm"', 'top_frame = "19 cm"'),
        ('azimuth = "70 deg"', 'azimuth = "0 deg"'),
        ('azimuth = "285 deg"', 'azimuth = "360 deg"'),
        ('free = ["6:30-20:30"]', 'free = ["9:00-20:30", "6:30-9:00"]'),
        ('free = ["6:30-20:30"]', 'free = ["0:00-24:00"]'),
        ('free = ["6:30-20:30"]', "free = []"),
        (DISHES, ""),
        (POTS + DISHES, ""),
        (MIRROR, ""),
        mirror(fixed=50),
        mirror(fixed=140),
        mirror(fixed=130, highest=130),
        mirror(fixed=90, lowest=90, highest=91),
        mirror(lowest=89, highest=90),
    ],
    ids=lambda change: change[1][:40] or "left out",
)
def test_what_can_just_be_built_is_taken(tmp_path: Path, change: tuple[str, str]) -> None:
    changes = [change]
    if change[0].startswith("[[pot]]"):
        changes = [(POTS, ""), (DISHES, "")]
    assert report(tmp_path, *changes) == []


@pytest.mark.parametrize(
    ("change", "where", "said"),
    [
        (mirror(fixed=50, lowest=60), "box.mirror.fixed_angle", "outside 60 to 130"),
        (mirror(fixed=140, highest=130), "box.mirror.fixed_angle", "outside 60 to 130"),
        (mirror(fixed=20), "box.mirror.fixed_angle", "30 to 170"),
        (mirror(lowest=90, highest=90), "box.mirror.lowest_angle", "under the highest"),
        (('gap = "12 mm"', 'gap = "0 mm"'), "box.front.gap", "more than 0"),
        (('top_frame = "1 cm"', 'top_frame = "20 cm"'), "box.top_frame", "leaves glass"),
        (('height = "13 cm"', 'height = "27 cm"'), "pot.1.height", "a pot lower than the box"),
        (('diameter = "25 cm"', 'diameter = "45 cm"'), "pot.1.diameter", "stands on the floor"),
        (('azimuth = "285 deg"', 'azimuth = "270 deg"'), "site.skyline.7.azimuth", "once"),
        ((WALLS, ""), "box.wall", "Add the key"),
        ((POTS, ""), "dish", "at least one [[pot]]"),
        (('high = ["32 C"', 'high = ["12 C"'), "site.air.high", "in month 1"),
        (('free = ["6:30-20:30"]', 'free = ["9:00-9:00"]'), "cook.free.1", "ends after it starts"),
    ],
)
def test_what_cannot_be_built_is_refused_once(
    tmp_path: Path, change: tuple[str, str], where: str, said: str
) -> None:
    (problem,) = report(tmp_path, change)
    assert problem.startswith(f"{where}: ")
    assert said in problem


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (('height = "13 cm"', 'height = "12 in"'), "30 cm (12.0 in), in a box"),
        (('diameter = "25 cm"', 'diameter = "20 in"'), "51 cm (20.0 in), on a floor of"),
        (('top_frame = "1 cm"', 'top_frame = "20 cm"'), "20 cm (7.9 in) on every side"),
        (('high = ["32 C"', 'high = ["50 F"'), "a high of 10 C (50 F) under"),
    ],
)
def test_sizes_that_clash_are_told_in_either_unit(
    tmp_path: Path, change: tuple[str, str], said: str
) -> None:
    """An inch is 2.54 cm, and 50 F are 10 C (NIST SP 811, memory)."""
    (problem,) = report(tmp_path, change)
    assert said in problem


@pytest.mark.parametrize("old", ['amount = "1.8 kg"', 'mass = "1.3 kg"'])
def test_a_mass_out_of_range_is_answered_for_either_scale(tmp_path: Path, old: str) -> None:
    (problem,) = report(tmp_path, (old, f'{old.split(" = ")[0]} = "200 lb"'))
    assert " kg" in problem
    assert ' lb"' in problem.partition("allowed")[2]


def test_more_dishes_than_a_day_holds_are_refused(tmp_path: Path) -> None:
    nine = list(builtin_dishes())[:9]
    rows = "".join(f'[[dish]]\ndish = "{key}"\nserve = "18:00"\n\n' for key in nine)
    assert any(problem.startswith("dish: found 9") for problem in report(tmp_path, (DISHES, rows)))


def test_every_clash_of_names_is_told(tmp_path: Path) -> None:
    found = report(
        tmp_path,
        ('name = "small pot"', 'name = "wide pot"'),
        ('name = "baking tin"', 'name = "wide pot"'),
        ('pot = "small pot"', 'pot = "wide pot"'),
        ('pot = "baking tin"', ""),
    )
    assert [problem.split(":")[0] for problem in found] == ["pot.2.name", "pot.3.name"]


def test_a_pot_whose_name_is_wrong_is_not_missed_by_its_dish(tmp_path: Path) -> None:
    """One mistake, one problem: the dish names the pot that was meant."""
    found = report(tmp_path, ('name = "small pot"', 'name = "small\\npot"'))
    assert [problem.split(":")[0] for problem in found] == ["pot.2.name"]


def test_a_height_is_held_against_the_box_though_its_width_is_wrong(tmp_path: Path) -> None:
    found = report(
        tmp_path, ('width = "58 cm"', 'width = "58"'), ('height = "13 cm"', 'height = "30 cm"')
    )
    assert [problem.split(":")[0] for problem in found] == ["box.width", "pot.1.height"]
