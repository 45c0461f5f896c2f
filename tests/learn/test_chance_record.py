"""The record of chances: hand-counted days, and widths known beforehand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from statistics import NormalDist
from typing import Any
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from suntrack.learn.chance_record import DayNotes, ShownChance, scored, what_came
from suntrack.plan.inputs import ObservedReading
from suntrack.screen.page import page_lines
from suntrack.screen.text.record import record_json, record_page
from suntrack.sky.spread_calibration import own_width
from suntrack.store.forecast_record import chances_of, chances_on
from suntrack.store.journal import Entry, Journal

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 20)
ONE_PM = datetime(2026, 11, 20, 13, 0, tzinfo=ZONE)
SOUP = ShownChance(on=DAY, dish="lentil-soup", chance=0.8, threshold_c=100.0, serve_at=ONE_PM)
BOX = ShownChance(on=DAY, dish=None, chance=0.7, threshold_c=100.0)


HOT = replace(BOX, hot=(ONE_PM - timedelta(hours=3), ONE_PM + timedelta(hours=3)))
HOUR = timedelta(hours=1)


def read(box_c: float, at: datetime = ONE_PM) -> tuple[ObservedReading, ...]:
    return (ObservedReading(at=at, box_c=box_c),)


def out(at: datetime = ONE_PM, *, ready_at: datetime | None = ONE_PM, **more: Any) -> DayNotes:
    """Return the notes of a day on which the soup came out."""
    ready = {} if ready_at is None else {"lentil-soup": ready_at}
    return DayNotes(pulled={"lentil-soup": at}, ready_at=ready, **more)


@pytest.mark.parametrize(
    ("notes", "fate"),
    [
        (out(), "came"),
        (out(ONE_PM + HOUR), "did not"),
        (out(ONE_PM - HOUR), "unknown"),
        (out(ONE_PM - HOUR, ready_at=ONE_PM - HOUR), "came"),
        (out(ready_at=None), "unknown"),
        (out(cooler=frozenset({"lentil-soup"})), "unknown"),
        (out(skipped=True), "unknown"),
        (DayNotes(first_load_at=ONE_PM - HOUR), "unknown"),
        # The cook's own word counts before all else, but for the meal's time.
        (out(ONE_PM - HOUR, said={"lentil-soup": True}), "came"),
        (out(said={"lentil-soup": False}), "did not"),
        (DayNotes(said={"lentil-soup": True}), "came"),
        (DayNotes(said={"lentil-soup": False}), "did not"),
        (out(ONE_PM + HOUR, said={"lentil-soup": True}), "did not"),
        (DayNotes(said={"other-dish": True}), "unknown"),
    ],
)
def test_what_came_of_a_dish_is_what_the_notes_leave_no_doubt_of(
    notes: DayNotes, fate: str
) -> None:
    assert what_came(SOUP, notes) == fate


@pytest.mark.parametrize(
    ("notes", "fate"),
    [
        (DayNotes(readings=read(100.0)), "came"),
        (DayNotes(readings=read(99.0)), "did not"),
        (DayNotes(readings=read(99.0, ONE_PM - 5 * HOUR)), "unknown"),
        (DayNotes(readings=read(99.0), first_load_at=ONE_PM - HOUR), "unknown"),
        (DayNotes(readings=read(99.0), first_load_at=ONE_PM + HOUR), "did not"),
        (DayNotes(), "unknown"),
    ],
)
def test_what_came_of_the_box_is_what_it_read_in_its_hot_hours(notes: DayNotes, fate: str) -> None:
    assert what_came(HOT, notes) == fate


def test_the_hours_of_heat_that_an_old_version_did_not_keep_are_all_hours() -> None:
    assert what_came(BOX, DayNotes(readings=read(99.0, ONE_PM - 5 * HOUR))) == "did not"


def test_the_score_of_two_days_by_hand() -> None:
    """((0.7 - 1)^2 + (0.7 - 0)^2) / 2 = 0.29; always a half: 0.25 (Brier 1950, by hand)."""
    good, bad = DayNotes(readings=read(105.0)), DayNotes(readings=read(90.0))
    found = scored([(BOX, good), (BOX, bad), (BOX, DayNotes())])
    assert found.brier == pytest.approx(0.29)
    assert found.brier_of_mean == pytest.approx(0.25)
    assert (found.counted, found.unknown) == (2, 1)
    assert not found.enough
    assert found.width == 1.0


def test_nothing_noted_is_no_score() -> None:
    found = scored([(BOX, DayNotes())])
    assert found.brier is None
    assert "Nothing to count yet" in " ".join(
        page_lines(record_page({"box": found}, site_name="x"))
    )


def foretold(
    rng: np.random.Generator, days: int, *, true_width: float
) -> tuple[list[float], list[bool]]:
    """Return chances of a forecaster whose spread is 1, and what came with another spread."""
    centre = rng.normal(0.0, 1.0, days)
    chance = [NormalDist().cdf(float(one)) for one in centre]
    came = centre + true_width * rng.normal(0.0, 1.0, days) > 0.0
    return chance, [bool(one) for one in came]


def test_the_width_is_left_alone_until_there_are_enough_days() -> None:
    chance, came = foretold(np.random.default_rng(1), 59, true_width=3.0)
    assert own_width(chance, came) == 1.0


@pytest.mark.parametrize("true_width", [0.8, 1.0, 1.5])
def test_the_width_finds_the_true_spread(true_width: float) -> None:
    """Normal errors, closed form: P(came) = Phi(z / w); 2000 days leave 10 %."""
    chance, came = foretold(np.random.default_rng(2), 2000, true_width=true_width)
    assert own_width(chance, came) == pytest.approx(true_width, rel=0.12)


def test_chances_over_skies_that_were_widened_before_ask_for_the_same_width() -> None:
    """Over skies 1.5 wide a chance Phi(z) is Phi(z / 1.5): nothing is learned twice."""
    chance, came = foretold(np.random.default_rng(2), 2000, true_width=1.5)
    normal = NormalDist()
    widened = [normal.cdf(normal.inv_cdf(one) / 1.5) for one in np.clip(chance, 0.005, 0.995)]
    again = own_width(widened, came, dressed=1.5)
    assert again == pytest.approx(own_width(chance, came), rel=0.03)


def test_sixty_days_move_it_only_a_part_of_the_way() -> None:
    widths = [
        own_width(*foretold(np.random.default_rng(seed), 60, true_width=1.0)) for seed in range(40)
    ]
    assert 0.9 < np.median(widths) < 1.12
    assert max(widths) < 1.8


def test_the_first_shown_chance_of_a_day_counts(tmp_path: Path) -> None:
    def plan(at: datetime, chance: float) -> Entry:
        dishes = {"lentil-soup": {"chance": chance, "serve_at": ONE_PM.isoformat()}}
        data = {
            "chances": {"box": None, "threshold_c": 100.0, "dishes": dishes},
            "pulls": {"lentil-soup": (ONE_PM - HOUR).isoformat()},
        }
        return Entry(at=at, kind="plan", day=DAY, data=data)

    with Journal.open(tmp_path / "journal.db") as journal:
        journal.append(plan(ONE_PM - timedelta(hours=6), 0.6))
        journal.append(plan(ONE_PM - timedelta(hours=1), 0.99))
        journal.append(Entry(at=ONE_PM, kind="pulled", day=DAY, subject="lentil-soup"))
        # A plan of an older version, without chances.
        journal.append(Entry(at=ONE_PM, kind="plan", day=DAY - timedelta(days=1), data={}))
        days = chances_of(journal, before=DAY + timedelta(days=1))
        assert chances_of(journal, before=DAY) == ()
    assert [shown.chance for shown, _ in days] == [0.6]
    found = scored(days)
    assert found.brier == pytest.approx(0.16)
    assert record_json({"dishes": found})["kinds"][0]["bins"] == [
        {"count": 1, "foretold": 0.6, "came": 1.0}
    ]


Happened = tuple[str, datetime, dict[str, Any]]


def journal_day(*entries: Happened) -> tuple[str, ...]:
    """Return what came of the chances of a day, from its entries in order."""
    dishes = {"lentil-soup": {"chance": 0.6, "serve_at": ONE_PM.isoformat()}}
    plan = {
        "chances": {"box": None, "threshold_c": 100.0, "dishes": dishes},
        "ready": {"lentil-soup": (ONE_PM - HOUR).isoformat()},
        "low_c": [[(ONE_PM + i * HOUR).isoformat(), 90.0] for i in (-4, -3, -2, -1, 0)],
    }
    dish = {"loaded", "pulled", "good", "failed"}
    kept = [
        Entry(
            at=at,
            kind=kind,  # type: ignore[arg-type]
            day=DAY,
            subject="lentil-soup" if kind in dish else None,
            data=plan | data if kind == "plan" else data,
        )
        for kind, at, data in entries
    ]
    return tuple(what_came(*one) for one in chances_on(DAY, kept))


MORNING: Happened = ("plan", ONE_PM - 5 * HOUR, {})


def test_a_dish_pulled_early_to_save_it_on_the_stove_is_not_known() -> None:
    assert journal_day(MORNING, ("pulled", ONE_PM - 2 * HOUR, {})) == ("unknown",)
    assert journal_day(MORNING, ("pulled", ONE_PM, {})) == ("came",)


def test_the_last_plan_shown_before_it_came_out_says_when_it_was_ready() -> None:
    later: Happened = (
        "plan",
        ONE_PM - 3 * HOUR,
        {"ready": {"lentil-soup": (ONE_PM + HOUR).isoformat()}},
    )
    never: Happened = ("plan", ONE_PM - 3 * HOUR, {"ready": {}})
    assert journal_day(MORNING, later, ("pulled", ONE_PM, {})) == ("unknown",)
    assert journal_day(MORNING, never, ("pulled", ONE_PM, {})) == ("unknown",)
    after: Happened = ("plan", ONE_PM + HOUR, {"ready": {}})
    assert journal_day(MORNING, ("pulled", ONE_PM, {}), after) == ("came",)


@pytest.mark.parametrize(("box_c", "fate"), [(86.0, "unknown"), (88.0, "came"), (95.0, "came")])
def test_a_box_read_below_the_band_leaves_its_dish_in_doubt(box_c: float, fate: str) -> None:
    """The band's lower edge is 90 C, less 3 K for the thermometer."""
    cool: Happened = ("reading", ONE_PM - 2.5 * HOUR, {"box_c": box_c})
    assert journal_day(MORNING, cool, ("pulled", ONE_PM, {})) == (fate,)
    # A plan that was made after the reading knows of it.
    anew: Happened = ("plan", ONE_PM - 2 * HOUR, {})
    assert journal_day(MORNING, cool, anew, ("pulled", ONE_PM, {})) == ("came",)


def test_the_cook_has_the_last_word() -> None:
    early: Happened = ("pulled", ONE_PM - 2 * HOUR, {})
    assert journal_day(MORNING, early, ("good", ONE_PM, {})) == ("came",)
    assert journal_day(MORNING, early, ("good", ONE_PM, {}), ("failed", ONE_PM, {})) == ("did not",)
