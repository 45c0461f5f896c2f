"""Dishes of the cook's own: read, reported with their lines, and never looser than the rules."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError
from suntrack.food.dishes import builtin_dishes
from suntrack.food.kinds import rule_of
from suntrack.food.refused import refusal

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "config" / "suntrack.toml"
SOUP = """
[pumpkin-soup]
name = "Pumpkin soup"
mass_kg = 1.5
made_of = "squash"
contains = ["vegetables"]
start_c = 20
recipe = { method = "boil", minutes = 25 }
hold_min = 120
"""


def load(folder: Path, *texts: str) -> Config:
    """Load the example config with these files as the cook's own dishes."""
    for i, text in enumerate(texts):
        (folder / f"{i}.toml").write_text(text, encoding="utf-8")
    return load_config(EXAMPLE, dishes_dir=folder)


def problems_of(folder: Path, *texts: str) -> str:
    with pytest.raises(InputError) as caught:
        load(folder, *texts)
    return str(caught.value)


def own(folder: Path, old: str, new: str) -> str:
    assert old in SOUP
    return problems_of(folder, SOUP.replace(old, new))


def test_an_own_dish_stands_beside_the_library(tmp_path: Path) -> None:
    config = load(tmp_path, SOUP)
    assert config.library["pumpkin-soup"].name == "Pumpkin soup"
    assert config.library["pumpkin-soup"].own == str(tmp_path / "0.toml")
    assert set(builtin_dishes()) < set(config.library)


def test_without_a_folder_there_is_the_library(tmp_path: Path) -> None:
    assert set(load_config(EXAMPLE, dishes_dir=tmp_path / "none").library) == set(builtin_dishes())


def test_the_example_reads_and_can_be_planned(tmp_path: Path) -> None:
    shutil.copy(ROOT / "config" / "dishes" / "morogo.toml", tmp_path)
    library = load_config(EXAMPLE, dishes_dir=tmp_path).library
    assert refusal(library["morogo"], confirmed=False) is None
    assert refusal(library["samp-and-beans"], confirmed=False) is not None, "its beans"
    assert "for 40 minutes" in library["samp-and-beans"].advance[-1].text, "at 1010 m"


def test_the_day_may_ask_for_an_own_dish_of_a_named_folder(tmp_path: Path) -> None:
    main = tmp_path / "suntrack.toml"
    text = EXAMPLE.read_text(encoding="utf-8").replace("lentil-soup", "pumpkin-soup")
    main.write_text(text + '\n[include]\ndishes = "mine"\n', encoding="utf-8")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "soups.toml").write_text(SOUP, encoding="utf-8")
    config = load_config(main)
    assert config.dishes[0].dish == "pumpkin-soup"
    before = config.fingerprint
    (tmp_path / "mine" / "soups.toml").write_text(SOUP.replace("25", "30"), encoding="utf-8")
    assert load_config(main).fingerprint != before, "a plan of the old dish must not be shown"


def test_the_named_folder_counts_before_the_users(tmp_path: Path) -> None:
    users, named, main = tmp_path / "users", tmp_path / "named", tmp_path / "suntrack.toml"
    for folder, name in ((users, "Of the user"), (named, "Of the config")):
        folder.mkdir()
        (folder / "a.toml").write_text(SOUP.replace("Pumpkin soup", name), encoding="utf-8")
    text = EXAMPLE.read_text(encoding="utf-8")
    main.write_text(text + '\n[include]\ndishes = "named"\n', encoding="utf-8")
    assert load_config(main, dishes_dir=users).library["pumpkin-soup"].name == "Of the config"


def test_a_folder_that_is_not_there_is_named_with_its_line(tmp_path: Path) -> None:
    main = tmp_path / "suntrack.toml"
    text = EXAMPLE.read_text(encoding="utf-8")
    main.write_text(text + '\n[include]\ndishes = "nowhere"\n', encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_config(main)
    lines = text.count("\n") + 3
    assert f"suntrack.toml:{lines}: include.dishes" in str(caught.value)
    assert "nowhere" in str(caught.value)


def test_all_mistakes_of_all_files_are_told_with_file_and_line(tmp_path: Path) -> None:
    told = problems_of(
        tmp_path,
        SOUP.replace("mass_kg = 1.5", "mass_kg = -1"),
        SOUP.replace("pumpkin-soup", "thin-soup").replace('"squash"', '"sqash"'),
        "[broken\n",
    )
    assert f"{tmp_path / '0.toml'}:4: pumpkin-soup.mass_kg: found -1" in told
    assert f"{tmp_path / '1.toml'}:5: thin-soup.made_of" in told
    assert f"{tmp_path / '2.toml'}:1" in told
    assert len(told.splitlines()) == 3


def test_mistakes_of_the_config_are_told_together_with_those_of_dishes(tmp_path: Path) -> None:
    main = tmp_path / "suntrack.toml"
    text = EXAMPLE.read_text(encoding="utf-8").replace('elevation = "1010 m"', "elevation = 3")
    main.write_text(text, encoding="utf-8")
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "a.toml").write_text(SOUP.replace("1.5", "0"), encoding="utf-8")
    with pytest.raises(InputError) as caught:
        load_config(main, dishes_dir=tmp_path / "mine")
    assert "site.elevation" in str(caught.value)
    assert "pumpkin-soup.mass_kg" in str(caught.value)


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("[pumpkin-soup]", '["Pumpkin soup"]', "small letters"),
        ('name = "Pumpkin soup"', 'name = "Pumpkin\\u001b[31m soup"', "on one line"),
        ("hold_min = 120", f'hold_min = 120\nadvice = ["{"x" * 500}"]', "up to 400 letters"),
        ("minutes = 25", "minutes = 0", "a number from 1 to 900"),
        ('method = "boil"', 'method = "fry"', "boil, oven"),
        ("minutes = 25", "minuts = 25", "Did you mean minutes?"),
        ("recipe = {", "cook_min = 5\nrecipe = {", "exactly one of"),
        ('contains = ["vegetables"]\n', "", "a list of what is in it"),
        ('["vegetables"]', '[]\nsafety = "none"', "a list of what is in it"),
        ('["vegetables"]', '["vegtables"]', "Did you mean vegetables?"),
        ("start_c = 20", "start_c = 20\nliquid_start_c = 60", "pieces in liquid"),
    ],
)
def test_a_mistake_says_what_is_allowed(tmp_path: Path, old: str, new: str, where: str) -> None:
    assert where in own(tmp_path, old, new)


def test_a_dish_in_two_files_of_a_folder_is_a_mistake(tmp_path: Path) -> None:
    assert "stands in 0.toml too" in problems_of(tmp_path, SOUP, SOUP)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        # The name gives away what the list leaves out.
        ("Pumpkin soup", "Chicken soup"),
        ("Pumpkin soup", "Red bean soup"),
        ("Pumpkin soup", "Pumpkin in jars"),
        ("[pumpkin-soup]", "[half-cooked-roast]"),
        # A rule of the chart cannot be talked down.
        ('["vegetables"]', '["egg"]\nsafety = "hold hot"'),
        ('["vegetables"]', '["minced poultry"]\nsafety = "ground meat"'),
        # Pieces have a middle, and raw meat comes from the refrigerator (40 F, USDA FSIS).
        ('["vegetables"]', '["poultry"]'),
        ('["vegetables"]', '["minced meat"]'),
        ('["vegetables"]', '["cooked food"]'),
    ],
)
def test_a_dish_that_says_less_than_is_in_it_is_a_mistake(
    tmp_path: Path, old: str, new: str
) -> None:
    assert own(tmp_path, old, new)


STEW = """
[my-stew]
name = "My stew"
mass_kg = 2.0
shape = "sphere"
pieces_mm = 30
piece_share = 0.5
made_of = "beef"
in_liquid = "broth"
contains = ["meat"]
pieces_start_c = 5
liquid_start_c = 80
recipe = { method = "boil", minutes = 150 }
moist_small_pieces = true
hold_min = 120
"""


@pytest.mark.parametrize(
    ("old", "new", "word"),
    [
        # USDA FSIS (found copies): slow and dry in an oven under 163 C, frozen, stuffed.
        ("moist_small_pieces = true\n", "", "163 C"),
        ("pieces_mm = 30", "pieces_mm = 60", "163 C"),
        ("pieces_start_c = 5", "pieces_start_c = -10", "thawed"),
        ('["meat"]', '["meat", "stuffed bird"]', "stuffing"),
        ('["meat"]', '["meat", "sealed jars"]', "Canning"),
        ('["meat"]', '["meat", "kidney beans"]', "40 minutes"),
    ],
)
def test_the_gates_hold_for_own_dishes(tmp_path: Path, old: str, new: str, word: str) -> None:
    assert refusal(load(tmp_path, STEW).library["my-stew"], confirmed=False) is None
    dish = load(tmp_path, STEW.replace(old, new)).library["my-stew"]
    found = refusal(dish, confirmed=False)
    assert found is not None
    assert word in found


def test_every_ingredient_brings_its_rule(tmp_path: Path) -> None:
    """FoodSafety.gov (found copies): poultry 165 F; meat 145 F for three minutes; both count."""
    both = STEW.replace('["meat"]', '["meat", "poultry"]').replace("My stew", "My own stew")
    rule = rule_of(load(tmp_path, both).library["my-stew"])
    assert rule.minimum_c == pytest.approx((165 - 32) / 1.8, abs=0.05)
    assert (rule.rest_s, rule.clock, rule.warm_clock, rule.hold_hot_c) == (180.0, True, True, 60.0)


def test_canning_stays_refused_under_its_own_name(tmp_path: Path) -> None:
    """National Center for Home Food Preservation (found): no canning by the sun."""
    text = SOUP.replace("pumpkin-soup", "canning").replace(
        '["vegetables"]', '["fruit", "sealed jars"]'
    )
    assert refusal(load(tmp_path, text).library["canning"], confirmed=True) is not None
    assert refusal(load(tmp_path, text).library["half-cooked"], confirmed=True) is not None


def test_an_editors_notes_beside_a_file_are_passed_over(tmp_path: Path) -> None:
    (tmp_path / ".#soup.toml").symlink_to(tmp_path / "nowhere")
    (tmp_path / ".soup.toml").write_text("[[[", encoding="utf-8")
    assert "pumpkin-soup" in load(tmp_path, SOUP).library


def test_a_file_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    (tmp_path / "soup.toml").mkdir()
    (tmp_path / "latin.toml").write_bytes(b'[soup]\nname = "Cr\xe8me"\n')
    told = problems_of(tmp_path)
    assert "soup.toml" in told
    assert "latin.toml" in told
    assert "UTF-8" in told
