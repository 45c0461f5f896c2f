"""The record of chances: hand-counted days, and widths known beforehand."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path
from statistics import NormalDist
from zoneinfo import ZoneInfo

import numpy as np
import pytest

from suntrack.day.score import DayNotes, ShownChance, scored, what_came
from suntrack.edge.journal import Entry, Journal
from suntrack.edge.past import chances_of
from suntrack.screen.page import page_lines
from suntrack.screen.record_words import record_json, record_page, record_schema_text
from suntrack.sky.own_width import own_width

ZONE = ZoneInfo("Africa/Gaborone")
DAY = date(2026, 11, 20)
ONE_PM = datetime(2026, 11, 20, 13, 0, tzinfo=ZONE)
SOUP = ShownChance(on=DAY, dish="lentil-soup", chance=0.8, threshold_c=100.0, serve_at=ONE_PM)
BOX = ShownChance(on=DAY, dish=None, chance=0.7, threshold_c=100.0)


@pytest.mark.parametrize(
    ("shown", "notes", "fate"),
    [
        (SOUP, DayNotes(pulled={"lentil-soup": ONE_PM}), "came"),
        (SOUP, DayNotes(pulled={"lentil-soup": ONE_PM + timedelta(hours=1)}), "did not"),
        (SOUP, DayNotes(loaded=("lentil-soup",)), "unknown"),
        (SOUP, DayNotes(pulled={"lentil-soup": ONE_PM}, skipped=True), "unknown"),
        (BOX, DayNotes(readings_c=(80.0, 100.0)), "came"),
        (BOX, DayNotes(readings_c=(80.0, 99.0)), "did not"),
        (BOX, DayNotes(readings_c=(80.0, 99.0), loaded=("lentil-soup",)), "unknown"),
        (BOX, DayNotes(), "unknown"),
    ],
)
def test_what_came_is_what_was_noted(shown: ShownChance, notes: DayNotes, fate: str) -> None:
    assert what_came(shown, notes) == fate


def test_the_score_of_two_days_by_hand() -> None:
    """((0.7 - 1)^2 + (0.7 - 0)^2) / 2 = 0.29; always a half: 0.25 (Brier 1950, by hand)."""
    good, bad = DayNotes(readings_c=(105.0,)), DayNotes(readings_c=(90.0,))
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
        data = {"chances": {"box": None, "threshold_c": 100.0, "dishes": dishes}}
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


def test_the_keys_are_told() -> None:
    developers = Path(__file__).parents[2] / "DEVELOPERS.md"
    assert record_schema_text() in developers.read_text(encoding="utf-8")
