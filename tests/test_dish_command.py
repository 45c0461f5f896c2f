"""`suntrack dish` and `dishes` as a cook calls them, with dishes of their own."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path

import pytest

from suntrack.cli import main

ROOT = Path(__file__).parents[1]
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs a command in a home of its own."""
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    monkeypatch.delenv("SUNTRACK_CONFIG", raising=False)
    monkeypatch.chdir(tmp_path)

    def command(*words: str) -> tuple[int, str, str]:
        status = main(words)
        told = capsys.readouterr()
        return status, told.out, told.err

    return command


def put_own(home: Path, text: str) -> Path:
    (home / "dishes").mkdir(exist_ok=True)
    path = home / "dishes" / "mine.toml"
    path.write_text(text, encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "words", [["chicken-pieces"], ["CHICKEN-PIECES"], ["Chicken", "pieces", "in", "sauce"],
              ["chicken pieces"]],
)  # fmt: skip
def test_a_dish_is_found_by_name_in_any_case(run: Run, words: list[str]) -> None:
    status, told, _ = run("dish", *words)
    assert status == 0
    assert told.startswith("Chicken pieces in sauce (chicken-pieces), 1.5 kg")


@pytest.mark.parametrize(
    ("said", "meant"),
    [("lentil", "lentil-soup"), ("chiken peices", "chicken-pieces"), ("beans", "kidney-beans")],
)
def test_an_unknown_name_brings_the_near_ones(run: Run, said: str, meant: str) -> None:
    status, told, problems = run("dish", said)
    assert (status, told) == (2, "")
    assert meant in problems
    assert repr(said) in problems


def test_json_has_the_reasons(run: Run) -> None:
    _, told, _ = run("dish", "beef-stew", "--json")
    data = json.loads(told)
    assert data["safe"]["minimum_c"] == 62.8
    assert data["safe"]["rest_min"] == 3.0
    assert {why["group"] for why in data["why"]} == {"done", "safe", "heat"}
    # ISA and IAPWS: 96.62 C at the example's 1010 m, written to a tenth.
    assert data["boils_at_c"] == pytest.approx(96.62, abs=0.1)


def test_own_dishes_are_listed_and_shown(run: Run, tmp_path: Path) -> None:
    text = (ROOT / "config" / "dishes" / "morogo.toml").read_text(encoding="utf-8")
    path = put_own(tmp_path, text)
    _, listed, _ = run("dishes")
    assert "Morogo with tomato (your own)" in listed
    assert "Samp and sugar beans (your own, asks for your word)" in listed
    _, shown, _ = run("dish", "morogo", "with", "tomato")
    assert str(path) in shown
    assert "Worked out from the recipe: boiled for 30 min." in shown


def test_bad_own_dishes_stop_every_command_with_file_and_line(run: Run, tmp_path: Path) -> None:
    path = put_own(tmp_path, '[hen]\nname = "Hen"\nmass_kg = "1 kg"\ncontains = ["vegetables"]\n')
    for words in (["dishes"], ["dish", "lentil-soup"], ["now"]):
        status, told, problems = run(*words)
        assert (status, told) == (2, "")
        assert f"{path}:3: hen.mass_kg: found '1 kg'" in problems
        assert "'hen' in the name" in problems
        assert "Traceback" not in problems


def test_a_cook_in_the_states_reads_fahrenheit_and_inches(run: Run, tmp_path: Path) -> None:
    config = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    for metric, imperial in (('"C"   ', '"F"   '), ('"cm"  ', '"in"  '), ('"kg"  ', '"lb"  ')):
        assert metric in config
        config = config.replace(metric, imperial)
    (tmp_path / "suntrack.toml").write_text(config, encoding="utf-8")
    _, told, _ = run("dish", "chicken-pieces")
    assert "165 °F" in told
    assert "1 3/8 in" in told
    assert "°C" not in told.split("Take care")[0]
    assert "mm" not in told


def test_an_own_dish_is_planned_like_any_other(run: Run, tmp_path: Path) -> None:
    config = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    (tmp_path / "suntrack.toml").write_text(
        config.replace('dish = "lentil-soup"', 'dish = "morogo"'), encoding="utf-8"
    )
    put_own(tmp_path, (ROOT / "config" / "dishes" / "morogo.toml").read_text(encoding="utf-8"))
    status, told, _ = run("today", "--at", "2026-11-25T05:00+02:00", "--json")
    assert status == 0
    plan = json.loads(told)
    morogo = next(dish for dish in plan["dishes"] if dish["key"] == "morogo")
    assert morogo["status"] == "ready"
    assert morogo["load_at"] < morogo["safe_at"] <= morogo["pull_at"]
    prepared = [step["detail"] for step in plan["steps"] if step["dish"] == "morogo"]
    assert "Wash the leaves in three waters." in prepared
    status, told, _ = run("note", "loaded", "morogo", "--at", "2025-11-25T11:00+02:00")
    assert (status, "Morogo with tomato went in" in told) == (0, True)
