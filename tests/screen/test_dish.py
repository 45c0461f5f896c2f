"""One dish in words and for programs: done and safe apart, nothing called safe that is not."""

from __future__ import annotations

import json
from dataclasses import replace
from io import StringIO
from typing import Any

import pytest
from rich.console import Console

from suntrack.food.dish import CookValue
from suntrack.food.dishes import builtin_dishes
from suntrack.food.kinds import is_meat
from suntrack.food.refused import refusal
from suntrack.food.why import reasons
from suntrack.screen.charset import Charset
from suntrack.screen.dish_block import dish_block, dish_lines
from suntrack.screen.json.dish import DISH_KEYS, dish_json
from suntrack.screen.text.dish import DishSheet, dish_parts, why_words
from suntrack.units import Units

METRIC = Units()
IMPERIAL = Units(temperature="F", length="in", mass="lb", clock="12")
BOIL_C = 96.6
DISHES = builtin_dishes(boiling_c=BOIL_C)


def sheet(key: str, **changes: Any) -> DishSheet:
    dish = replace(DISHES[key], **changes)
    return DishSheet(
        dish=dish,
        boiling_c=BOIL_C,
        least_pot_l=dish.mass_kg / 0.9,
        pots=("wide pot",),
        refused=refusal(dish, confirmed=False),
        refused_even_confirmed=refusal(dish, confirmed=True) is not None,
        reasons=reasons(dish, boiling_c=BOIL_C),
    )


def parts(key: str, units: Units = METRIC, *, why: bool = False) -> dict[str, str]:
    return {part.title: " ".join(part.lines) for part in dish_parts(sheet(key), units, why=why)}


def test_done_and_safe_are_two_things() -> None:
    chicken = parts("chicken-pieces")
    assert "73.9 °C" in chicken["Safe"]
    assert "73.9 °C" not in chicken["Done"]
    assert "safe" not in chicken["Done"].lower()
    # Minutes at the boil are not a matter of safety.
    assert "at 97 °C" in chicken["Done"]
    assert "at 97 °C" not in chicken["Safe"]


def test_a_cook_value_is_told_in_minutes_a_cook_knows() -> None:
    """75 minutes at 100 C take 252 at 90 C with z 19 (Quast and da Silva 1977)."""
    dish = replace(DISHES["chickpeas"], doneness=CookValue(minutes=75.0, z_c=19.0, floor_c=80.0))
    told = " ".join(
        line
        for part in dish_parts(replace(sheet("chickpeas"), dish=dish), METRIC, why=False)
        for line in part.lines
    )
    assert "4 h 12 min at 90 °C" in told


@pytest.mark.parametrize("key", sorted(DISHES))
def test_what_is_never_planned_is_never_called_safe(key: str) -> None:
    if refusal(DISHES[key], confirmed=True) is None:
        assert "Done" in parts(key)
        assert "Not for this box" not in parts(key)
        return
    told = parts(key)
    assert "never called safe" in told["Safe"]
    assert not {"Done", "What goes in", "Waiting"} & set(told)
    if is_meat(DISHES[key]):
        # USDA FSIS, How Temperatures Affect Food (found copy): 325 F.
        assert "163 °C" in told["Safe"]


def test_beans_ask_for_the_cooks_word_with_the_sites_minutes() -> None:
    beans = parts("kidney-beans")
    assert "40 minutes" in beans["Asks for your word"]
    assert "40 minutes" in beans["Beforehand"]
    assert "confirmed = true" in beans["Beforehand"]
    assert "The evening before: Soak" in beans["Beforehand"]


def test_raw_meat_brings_its_cautions() -> None:
    for key in ("beef-stew", "fish-fillets", "egg-bake", "leftovers"):
        assert "wash hands" in parts(key)["Take care"], key
    assert "wash hands" not in parts("lentil-soup")["Take care"]
    for key in DISHES:
        if refusal(DISHES[key], confirmed=True) is None:
            assert "local food authority" in parts(key)["Take care"]


def test_what_is_left_is_chilled_and_heated_through() -> None:
    """USDA FSIS: within two hours, one above 90 F; 165 F again (found copies)."""
    waiting = parts("beef-stew")["Waiting"]
    assert "refrigerator within two hours, one above 32 °C" in waiting
    assert "73.9 °C within two hours" in waiting
    # Heating again does not make old rice safe.
    assert "Heat what is left" not in parts("white-rice")["Waiting"]


@pytest.mark.parametrize("key", sorted(DISHES))
def test_every_reason_has_its_source_and_how_sure_it_is(key: str) -> None:
    found = sheet(key).reasons
    assert {why.group for why in found} == {"done", "safe", "heat"}
    sure = {
        "published", "published, read in a copy", "handbook", "kitchen judgement", "from memory",
    }  # fmt: skip
    for why in found:
        assert why.source
        assert why.sure in sure
        assert (why.value is None) == (why.unit == "")
        assert f"({why.sure}: {why.source})" in why_words(why, METRIC)


def test_why_keeps_doneness_and_safety_apart() -> None:
    why = parts("chicken-pieces", why=True)
    assert list(why) == [
        "Why it is done when it is", "Why it is safe when it is", "How the heat gets in",
    ]  # fmt: skip
    assert "FoodSafety.gov" in why["Why it is safe when it is"]
    assert "FoodSafety.gov" not in why["Why it is done when it is"]


def test_a_published_z_names_its_study() -> None:
    assert "Quast and da Silva 1977" in parts("lentil-soup", why=True)["Why it is done when it is"]


def test_no_own_number_is_called_published() -> None:
    """What the dish's own table does not source is kitchen judgement."""
    for key in DISHES:
        for why in sheet(key, source="kitchen judgement").reasons:
            if why.source.startswith("the dish"):
                assert why.sure == "kitchen judgement"


@pytest.mark.parametrize("width", [40, 80, 120, 200])
@pytest.mark.parametrize("why", [False, True])
@pytest.mark.parametrize("units", [METRIC, IMPERIAL], ids=["metric", "imperial"])
def test_no_line_is_too_wide(width: int, why: bool, units: Units) -> None:
    for key in ("chicken-pieces", "kidney-beans", "pot-roast", "yeast-loaf"):
        console = Console(file=StringIO(), width=width, no_color=True)
        console.print(dish_block(sheet(key), units, width, why=why, ink=Charset(ascii=True)))
        text = console.file.getvalue()  # type: ignore[attr-defined]
        assert max(len(line.rstrip()) for line in text.splitlines()) <= width
        assert text.isascii()


def test_plain_lines_say_the_same() -> None:
    lines = dish_lines(sheet("chicken-pieces"), METRIC, why=False)
    told = parts("chicken-pieces")
    assert len(lines) > 10
    for line in lines[1:]:
        title, _, said = line.partition(": ")
        assert said in told[title]


def paths(value: Any, at: str = "") -> set[str]:
    if isinstance(value, dict):
        return {p for key, each in value.items() for p in paths(each, f"{at}.{key}" if at else key)}
    if isinstance(value, list):
        return {p for each in value for p in paths(each, f"{at}[]")} or set()
    return {at}


def test_every_key_of_the_json_is_listed_with_its_meaning() -> None:
    from suntrack.food.dish import Recipe

    recipe = Recipe(method="boil", minutes=75.0, temperature_c=100.0, thickness_m=0.0)
    seen = set()
    for key in DISHES:
        seen |= paths(dish_json(sheet(key)))
    seen |= paths(dish_json(sheet("chickpeas", recipe=recipe)))
    assert seen == set(DISH_KEYS)
    assert json.loads(json.dumps(dish_json(sheet("chickpeas")), allow_nan=False))
