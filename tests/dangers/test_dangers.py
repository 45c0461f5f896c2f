"""A danger once seen is not talked away: notes and readings in, what every screen says out.

Each row is a day at the example box: what the cook noted through the real commands, and what
`now`, `today`, `sheet` and JSON must and must not say afterwards.  The limits are official
consumer advice (USDA FSIS: two hours between 40 and 140 F, one above 90 F; 165 F for poultry;
never keep partly cooked meat; throw away what is doubtful, do not taste it), from memory where
`suntrack.food.official` says so.
"""

from __future__ import annotations

import io
import json
import os
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from suntrack.cli import main

ROOT = Path(__file__).parents[2]
DAY, NEXT = "2026-11-25", "2026-11-26"
THROW = "hrow it away"
GOOD = ("ready in time", "done and safe in time", "hot by plan; measure it", "comes out, due")
CHICKEN = "chicken-pieces"
COLD_BOX = (
    ("11:00", f"loaded {CHICKEN}"), ("11:30", "reading 50C"), ("12:00", "reading 45C"),
    ("12:30", "reading 42C"), ("13:00", "reading 41C"), ("13:15", "reading 41C"),
)  # fmt: skip


@dataclass(frozen=True)
class Danger:
    """One row: notes of a day, the moment of asking, what must and must not be said."""

    name: str
    notes: tuple[tuple[str, str], ...]
    at: str
    says: tuple[str, ...]
    not_says: tuple[str, ...] = GOOD
    day: str = DAY
    dish: str = "Chicken"


DANGERS = (
    Danger("two hours lukewarm", COLD_BOX, "13:20", (THROW,)),
    Danger("a hot reading later changes nothing", (*COLD_BOX, ("14:00", "reading 95C")), "14:05",
           (THROW,)),
    Danger("nor does a hotter one at its meal", (*COLD_BOX, ("17:00", "reading 140C")), "17:55",
           (THROW,)),
    Danger("nor does the cook's word", (*COLD_BOX, ("15:00", f"good {CHICKEN}")), "15:05",
           (THROW,)),
    Danger("nor a hot middle after the clock ran out",
           (*COLD_BOX, ("14:30", f"core {CHICKEN} 85C")), "14:35", (THROW,)),
    Danger("nor a turn", (*COLD_BOX, ("13:30", "turned")), "16:00", (THROW,)),
    Danger("taken out of the cold box it is still thrown away",
           (*COLD_BOX, ("14:00", f"pulled {CHICKEN}")), "14:05", (THROW,)),
    Danger("half cooked and out",
           (("14:20", f"loaded {CHICKEN}"), ("14:50", f"pulled {CHICKEN}")), "14:55",
           ("kitchen stove", "throw it away")),
    Danger("cooked, forgotten, out at half past ten",
           (("13:00", f"loaded {CHICKEN}"), ("22:31", f"pulled {CHICKEN}")), "22:35", (THROW,)),
    Danger("a middle that a probe finds cold",
           (("13:00", f"loaded {CHICKEN}"), ("15:10", f"core {CHICKEN} 48C")), "15:15", (THROW,)),
    Danger("a probe that says hot after one that said cold too long",
           (("13:00", f"loaded {CHICKEN}"), ("15:10", f"core {CHICKEN} 48C"),
            ("15:40", f"core {CHICKEN} 90C")), "15:45", (THROW,)),
    Danger("in since the evening before", ((f"{DAY} 20:00", f"loaded {CHICKEN}"),), "7:00",
           ("since yesterday", "throw it away"), ("comes out, due",), day=NEXT),
    Danger("in since the evening before, asked at noon",
           ((f"{DAY} 19:00", f"loaded {CHICKEN}"),), "12:00",
           ("since yesterday", "throw it away"), ("comes out, due",), day=NEXT),
    Danger("soup too, overnight", ((f"{DAY} 20:00", "loaded lentil-soup"),), "7:00",
           ("since yesterday", "throw it away"), ("comes out, due",), day=NEXT, dish="Lentil"),
    Danger("a whole bird that nobody may put in", (("10:00", "loaded whole-chicken"),), "10:05",
           ("take it out now",), ("ready in time: Whole",), dish="Whole"),
    Danger("beans without their boil", (("9:00", "loaded kidney-beans"),), "9:05",
           ("take it out now",), (), dish="Kidney"),
)  # fmt: skip


@dataclass(frozen=True)
class Household:
    """One cook's home, spoken to through the command line."""

    home: Path

    def say(self, day: str, at: str, *words: str) -> str:
        """Return what a command prints at a moment; it must not fail."""
        hour = at.rjust(5, "0")
        out = io.StringIO()
        os.environ["SUNTRACK_HOME"] = str(self.home)
        with redirect_stdout(out), redirect_stderr(io.StringIO()):
            status = main([*words, "--config", str(ROOT / "config" / "suntrack.toml"),
                           "--at", f"{day}T{hour}+02:00"])  # fmt: skip
        assert status == 0, (words, out.getvalue())
        return out.getvalue()

    def note(self, when: str, words: str, *, day: str) -> str:
        """Note something at `11:00`, or at `2026-11-25 20:00`."""
        on, _, at = when.rpartition(" ")
        return self.say(on or day, at, "note", *words.split())

    def screens(self, day: str, at: str) -> dict[str, str]:
        """Return what each screen says at a moment."""
        return {
            "now": self.say(day, at, "now", "--plain"),
            "today": self.say(day, at, "today", "--plain"),
            "json": json.dumps(json.loads(self.say(day, at, "today", "--json"))),
        }


@pytest.fixture
def household(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Household]:
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path))
    yield Household(tmp_path)


def of_dish(screen: str, dish: str) -> str:
    """Return the lines of a screen that speak of a dish, in one line."""
    return " ".join(line for line in screen.splitlines() if dish in line)


@pytest.mark.parametrize("danger", DANGERS, ids=lambda danger: danger.name)
def test_every_screen_says_so(danger: Danger, household: Household) -> None:
    for when, words in danger.notes:
        household.note(when, words, day=danger.day)
    for name, screen in household.screens(danger.day, danger.at).items():
        if name == "json":
            answer = json.loads(screen)
            assert answer["take_out"], name
            mine = [d for d in answer["dishes"] if danger.dish in d["name"]]
            for dish in mine if danger.not_says == GOOD else ():
                assert dish["status"] in ("spoiled", "not safe", "not done"), dish["status"]
            continue
        said = of_dish(screen, danger.dish)
        for words in danger.says:
            assert words.lower() in said.lower(), (name, words, said)
        for words in danger.not_says:
            assert words.lower() not in said.lower(), (name, words, said)
        assert "No step is left" not in screen, name


def test_the_note_of_a_pull_says_what_the_food_is(household: Household) -> None:
    """At the note itself, not only on the next screen."""
    household.note("14:20", f"loaded {CHICKEN}", day=DAY)
    assert "not safe yet" in household.note("14:50", f"pulled {CHICKEN}", day=DAY)


def test_a_new_load_is_a_new_dish(household: Household) -> None:
    """Thrown away and begun again: the second one is judged by itself."""
    for when, words in (*COLD_BOX, ("14:00", f"pulled {CHICKEN}"), ("14:05", "reading 120C"),
                        ("14:10", f"loaded {CHICKEN}")):  # fmt: skip
        household.note(when, words, day=DAY)
    answer = json.loads(household.say(DAY, "14:15", "today", "--json"))
    (chicken,) = (dish for dish in answer["dishes"] if dish["key"] == CHICKEN)
    assert chicken["status"] != "spoiled"


def test_yesterdays_pot_noted_out_is_gone_and_not_todays(household: Household) -> None:
    household.note(f"{DAY} 20:00", f"loaded {CHICKEN}", day=NEXT)
    household.note("6:00", f"pulled {CHICKEN}", day=NEXT)
    answer = json.loads(household.say(NEXT, "6:05", "today", "--json"))
    assert answer["take_out"] == []
    (chicken,) = (dish for dish in answer["dishes"] if dish["key"] == CHICKEN)
    assert chicken["status"] == "ready"
    assert chicken["load_at"] > f"{NEXT}T06:05"


def test_a_probe_in_the_middle_decides(household: Household) -> None:
    """165 F in the middle is safe poultry, whatever was reckoned; 131 F is not."""
    household.note("13:00", f"loaded {CHICKEN}", day=DAY)
    household.note("14:00", f"core {CHICKEN} 131F", day=DAY)
    cool = json.loads(household.say(DAY, "14:01", "today", "--json"))
    household.note("14:20", f"core {CHICKEN} 169F", day=DAY)
    hot = json.loads(household.say(DAY, "14:21", "today", "--json"))
    safe = [
        next(dish["safe_at"] for dish in answer["dishes"] if dish["key"] == CHICKEN)
        for answer in (cool, hot)
    ]
    assert safe[0] is None or safe[0] > f"{DAY}T14:01"
    assert safe[1] is not None
    assert safe[1] <= f"{DAY}T14:21"


NOTES: tuple[Callable[[float], str], ...] = (
    lambda x: f"reading {60 + 90 * x:.0f}C",
    lambda x: f"core {CHICKEN} {5 + 90 * x:.0f}C",
    lambda x: "turned",
    lambda x: f"good {CHICKEN}",
    lambda x: f"pulled {CHICKEN}",
)


@settings(max_examples=8, suppress_health_check=list(HealthCheck))
@given(later=st.lists(st.tuples(st.integers(0, len(NOTES) - 1), st.floats(0.0, 1.0)), max_size=3))
def test_no_note_calls_spoiled_food_good(
    later: list[tuple[int, float]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Property: whatever is noted after the clock ran out, until it goes in anew."""
    household = Household(tmp_path_factory.mktemp("home"))
    for when, words in COLD_BOX:
        household.note(when, words, day=DAY)
    for i, (which, x) in enumerate(later):
        household.note(f"{14 + i}:00", NOTES[which](x), day=DAY)
    answer = json.loads(household.say(DAY, "17:30", "today", "--json"))
    (chicken,) = (dish for dish in answer["dishes"] if dish["key"] == CHICKEN)
    assert chicken["status"] == "spoiled"
