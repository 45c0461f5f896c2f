"""`suntrack note`: what was really done is written down, and what is wrong with it is said."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from suntrack.cli import main
from suntrack.commands.note import AHEAD, refuse_future
from suntrack.errors import InputError
from suntrack.screen.json.take_out import NOTE_KEYS

ROOT = Path(__file__).parents[2]
DAY = "2025-11-25T"
"""Long past, so that no clock takes it for the future."""
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs a command in a home of its own."""
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    monkeypatch.setenv("SUNTRACK_CONFIG", str(ROOT / "config" / "suntrack.toml"))

    def command(*words: str) -> tuple[int, str, str]:
        status = main(words)
        told = capsys.readouterr()
        return status, told.out, told.err

    return command


@pytest.mark.parametrize(
    ("dish", "why"),
    # The authorities that the refusals rest on: USDA FSIS, FDA Bad Bug Book.
    [("whole-chicken", "FSIS"), ("kidney-beans", "Bad Bug Book")],
)
def test_refused_food_is_written_down_and_called_out_at_once(run: Run, dish: str, why: str) -> None:
    status, told, _ = run("note", "loaded", dish, "--at", f"{DAY}15:00+02:00")
    assert (status, "went in" in told) == (0, True)
    assert "take it out now" in told
    assert why in told
    _, told, _ = run("now", "--plain", "--at", f"{DAY}15:30+02:00")
    assert "in the box since 15:00, by your note: take it out now" in told
    assert why in told
    run("note", "pulled", dish, "--at", f"{DAY}15:40+02:00")
    _, told, _ = run("now", "--plain", "--at", f"{DAY}15:45+02:00")
    assert "take it out now" not in told


def test_programs_get_every_key_and_the_warning(run: Run) -> None:
    _, told, _ = run("note", "loaded", "kidney-beans", "--json", "--at", f"{DAY}15:00+02:00")
    note = json.loads(told)
    assert {key.removesuffix("[]") for key in NOTE_KEYS} == set(note)
    (warning,) = note["warnings"]
    assert "poisonous until boiled" in warning


@pytest.mark.parametrize(
    ("words", "warned"),
    [
        (("loaded", "lentil-soup"), ()),
        (("pulled", "lentil-soup"), ("Nothing says that Lentil soup went in today",)),
        (("loaded", "baked-apples"), ("none of today's dishes",)),
        (("pulled", "baked-apples"), ("Nothing says", "none of today's dishes")),
        (("reading", "90C"), ()),
    ],
)
def test_an_unlikely_note_is_written_down_and_doubted(
    run: Run, words: tuple[str, ...], warned: tuple[str, ...]
) -> None:
    status, told, _ = run("note", *words, "--json", "--at", f"{DAY}11:00+02:00")
    warnings = json.loads(told)["warnings"]
    assert (status, len(warnings)) == (0, len(warned))
    assert all(words in warning for words, warning in zip(warned, warnings, strict=True))


def test_a_dish_that_comes_out_is_told_what_it_is_by_the_plan(run: Run) -> None:
    run("note", "loaded", "lentil-soup", "--at", f"{DAY}09:00+02:00")
    _, told, _ = run("note", "pulled", "lentil-soup", "--at", f"{DAY}12:00+02:00")
    first, second = told.splitlines()
    assert first == "Noted: 12:00, Lentil soup came out."
    assert "done and safe" in second
    assert "food thermometer" in second


def test_what_has_not_happened_cannot_be_noted(run: Run, tmp_path: Path) -> None:
    status, told, problem = run("note", "loaded", "lentil-soup", "--at", "2199-01-01T10:00+02:00")
    assert (status, told) == (2, "")
    assert "a time that has come" in problem
    assert "leave --at out" in problem
    assert not (tmp_path / "data" / "journal.db").exists()
    assert not (tmp_path / "journal.db").exists()


@pytest.mark.parametrize("seconds", [-3600, 0, 30, 59])
def test_a_minute_ahead_of_the_clock_is_now(seconds: int) -> None:
    clock = datetime(2026, 11, 25, 10, tzinfo=UTC)
    refuse_future(clock + timedelta(seconds=seconds), clock=clock)
    with pytest.raises(InputError):
        refuse_future(clock + AHEAD + timedelta(seconds=1), clock=clock)


def test_help_says_how_to_correct_a_note(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["note", "--help"])
    assert "to correct a note" in capsys.readouterr().out


def test_the_note_written_last_corrects_the_one_before(run: Run) -> None:
    """As the help promises, also when the right time is the earlier one."""
    run("note", "loaded", "whole-chicken", "--at", f"{DAY}15:00+02:00")
    run("note", "loaded", "whole-chicken", "--at", f"{DAY}14:00+02:00")
    _, told, _ = run("now", "--plain", "--at", f"{DAY}15:30+02:00")
    assert "since 14:00" in told
    assert "since 15:00" not in told


def test_chicken_in_a_cold_box_is_thrown_away_in_the_evening(run: Run) -> None:
    """Raw from 15:00 at 35 °C: past FDA's four hours between 5 and 57 °C by 20:35 (appendix 4).

    USDA FSIS: it is thrown away, never tasted (consumer advice, from memory).
    """
    run("note", "loaded", "chicken-pieces", "--at", f"{DAY}15:00+02:00")
    run("note", "reading", "35C", "--at", f"{DAY}16:00+02:00")
    for words in (("now", "--plain"), ("today", "--plain"), ("sheet", "--out", "-")):
        status, told, _ = run(*words, "--at", f"{DAY}20:35+02:00")
        assert status == 0
        assert "Chicken pieces in sauce: Throw it away. Do not taste it" in told, words
        assert "while it is hot" not in told
        chicken = [line for line in told.splitlines() if line.startswith("Chicken pieces")]
        assert not [line for line in chicken if "stove" in line], words


@pytest.mark.parametrize(("verb", "said"), [("good", "came good in time"), ("failed", "did not")])
def test_how_a_dish_was_is_for_the_record_and_changes_no_plan(
    run: Run, verb: str, said: str
) -> None:
    at = ("--at", f"{DAY}13:05+02:00")
    _, before, _ = run("now", "--plain", *at)
    status, told, _ = run("note", verb, "lentil", "soup", *at)
    assert status == 0
    assert said in told
    assert "record" in told
    _, after, _ = run("now", "--plain", *at)
    assert after == before


@pytest.mark.parametrize(
    "words", [("now",), ("note", "reading", "99C"), ("record",), ("notify", "--report")]
)
def test_a_damaged_journal_is_told_by_whichever_command_meets_it(
    run: Run, tmp_path: Path, words: tuple[str, ...]
) -> None:
    """It is put aside once; said by nobody, notes of food in the box would be lost unseen."""
    run("note", "loaded", "lentil-soup", "--at", f"{DAY}09:00+02:00")
    for side in tmp_path.glob("journal.db-*"):
        side.unlink()
    (tmp_path / "journal.db").write_bytes(b"no database" * 999)
    at = () if words[0] in ("record", "notify") else ("--at", f"{DAY}10:00+02:00")
    status, _, told = run(*words, *at)
    assert status == 0
    assert told.count("put aside") == 1
    assert "note again what lacks" in told
    _, _, told = run(*words, *at)
    assert "put aside" not in told
