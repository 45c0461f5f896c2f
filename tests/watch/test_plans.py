"""When plans are made, and that one which fails costs nobody their calls."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest

from suntrack.plan.records import DayPlan, DishPlan, SkyNote, Step, TurnChoice, Verdict, Window
from suntrack.store.journal import Entry, Journal
from suntrack.watch.ledger import Ledger
from suntrack.watch.plans import Plans, StillPlanningError

DAY = date(2026, 11, 25)
NOON = datetime(2026, 11, 25, 12, 0, tzinfo=UTC)
HOUR = timedelta(hours=1)
CHOICE = TurnChoice(name="fewest turns", turns=(), light_kept=0.97)


def plan_of(on: date, *steps: Step) -> DayPlan:
    noon_at = datetime(on.year, on.month, on.day, 12, 0, tzinfo=UTC)
    return DayPlan(
        date=on, site_name="courtyard", made_at=noon_at, sunrise_at=None, sunset_at=None,
        solar_noon_at=noon_at, declination_deg=0.0,
        verdict=Verdict(cook=True, chance=None, reason="clear"),
        window=Window(opens_at=None, closes_at=None, threshold_c=100.0, peak_c=140.0,
                      peak_at=noon_at),
        turns=CHOICE, turn_choices=(CHOICE,), box=(), dishes=(), steps=steps, cautions=(),
        sky=SkyNote(source="clear sky", issued_at=None),
    )  # fmt: skip


TODAY = plan_of(DAY, Step(key="turn-1", kind="turn", at=NOON + 2 * HOUR))
SOAK = Step(key="prepare-1-beans", kind="prepare", at=NOON + 8 * HOUR, detail="Soak.")
TOMORROW = plan_of(
    DAY + timedelta(days=1), SOAK, Step(key="turn-1", kind="turn", at=NOON + 24 * HOUR)
)


@pytest.fixture
def ledger() -> Ledger:
    return Ledger(Journal.in_memory())


def test_tomorrow_is_planned_from_noon_on_and_only_for_this_evening(ledger: Ledger) -> None:
    asked: list[datetime] = []

    def tomorrow(now: datetime) -> DayPlan:
        asked.append(now)
        return TOMORROW

    plans = Plans(lambda now: TODAY, tomorrow=tomorrow)
    plans.refresh(NOON - HOUR, ledger)
    assert (asked, plans.tomorrow) == ([], None)
    plans.refresh(NOON, ledger)
    assert plans.tomorrow is TOMORROW
    assert [alert.kind for alert in plans.alerts[TOMORROW.date]] == ["evening before"]
    assert [alert.kind for alert in plans.alerts[DAY]] == ["turn"]


def test_a_tomorrow_that_cannot_be_planned_costs_today_nothing(
    ledger: Ledger, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(now: datetime) -> DayPlan:
        raise ValueError("no sun data for tomorrow")

    plans = Plans(lambda now: TODAY, tomorrow=broken)
    assert plans.refresh(NOON, ledger)
    assert [alert.kind for alert in plans.alerts[DAY]] == ["turn"]
    assert "Tomorrow could not be planned" in (plans.trouble or "")
    assert "no sun data" in caplog.text


def test_what_was_planned_for_tomorrow_stays_when_it_fails_later(
    ledger: Ledger, caplog: pytest.LogCaptureFixture
) -> None:
    """The beans still have to be soaked this evening."""
    broken: list[bool] = []

    def tomorrow(now: datetime) -> DayPlan:
        if broken:
            raise ValueError("no sun data")
        return TOMORROW

    plans = Plans(lambda now: TODAY, tomorrow=tomorrow)
    plans.refresh(NOON, ledger)
    broken.append(True)
    plans.refresh(NOON + HOUR, ledger)
    assert [alert.kind for alert in plans.alerts[TOMORROW.date]] == ["evening before"]


def test_a_plan_that_takes_its_time_is_asked_for_again_at_every_look(ledger: Ledger) -> None:
    """The looks go on, and the old plan's alerts stay in force until the new one is there."""
    looks: list[datetime] = []

    def slow(now: datetime) -> DayPlan:
        looks.append(now)
        if len(looks) % 3:
            raise StillPlanningError
        return TODAY

    plans = Plans(slow, tomorrow=None)
    second = timedelta(seconds=1)
    assert [plans.refresh(NOON + i * second, ledger) for i in range(3)] == [False, False, True]
    assert plans.trouble is None
    assert not plans.refresh(NOON + 5 * second, ledger), "it is asked once more, for new notes"
    assert [alert.kind for alert in plans.alerts[DAY]] == ["turn"]


def test_a_note_made_while_the_plan_was_being_made_gets_a_plan_of_its_own() -> None:
    with Journal.in_memory() as journal:
        ledger, made, waits = Ledger(journal), [], [False]

        def source(now: datetime) -> DayPlan:
            if waits[0]:
                raise StillPlanningError
            made.append(now)
            return TODAY

        plans = Plans(source, tomorrow=None)
        plans.refresh(NOON, ledger)
        second = timedelta(seconds=1)
        waits[0] = True
        plans.hurry()
        plans.refresh(NOON + second, ledger)
        journal.append(Entry(at=NOON, kind="turned", day=DAY))
        waits[0] = False
        assert plans.refresh(NOON + 2 * second, ledger)
        assert plans.refresh(NOON + 3 * second, ledger), "the note is in this one"
        assert not plans.refresh(NOON + 4 * second, ledger)
        assert len(made) == 3


def test_a_plan_asked_for_while_another_is_made_is_made_after_it(ledger: Ledger) -> None:
    """The clock jumped meanwhile: the plan that was begun before that is not the last word."""
    made, waits = [], [True]

    def source(now: datetime) -> DayPlan:
        if waits[0]:
            raise StillPlanningError
        made.append(now)
        return TODAY

    plans = Plans(source, tomorrow=None)
    plans.refresh(NOON, ledger)
    plans.hurry()
    waits[0] = False
    for second in range(1, 6):
        plans.refresh(NOON + timedelta(seconds=second), ledger)
    assert len(made) == 2


def test_a_note_is_planned_for_though_tomorrow_cannot_be(caplog: pytest.LogCaptureFixture) -> None:
    def broken(now: datetime) -> DayPlan:
        raise ValueError("no sun data for tomorrow")

    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        plans = Plans(lambda now: TODAY, tomorrow=broken)
        plans.refresh(NOON, ledger)
        journal.append(Entry(at=NOON, kind="turned", day=DAY))
        assert plans.refresh(NOON + timedelta(seconds=1), ledger)


def soup(pull_at: datetime) -> DishPlan:
    return DishPlan(
        key="lentil-soup", name="Lentil soup", pot=None, serve_at=pull_at,
        load_at=NOON - HOUR, done_at=pull_at, safe_at=pull_at, pull_at=pull_at,
        pull_by=pull_at, stove_by=None, status="ready", notes=(),
    )  # fmt: skip


@pytest.mark.parametrize("reason", ["slower", "cloud"])
def test_a_plan_that_comes_later_is_told_once_and_says_why(reason: str) -> None:
    """After a note it is the box; after a newer forecast it is the sky."""
    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        plan = replace(TODAY, dishes=(soup(NOON + 3 * HOUR),))
        current = [plan]
        plans = Plans(lambda now: current[0], tomorrow=None)
        plans.refresh(NOON, ledger)
        current[0] = replace(plan, dishes=(soup(NOON + 4 * HOUR),))
        if reason == "slower":
            journal.append(Entry(at=NOON, kind="reading", day=DAY, data={"box_c": 90.0}))
        else:
            current[0] = replace(current[0], sky=SkyNote(source="a forecast", issued_at=NOON))
            plans.hurry()
        for second in range(5):
            plans.refresh(NOON + timedelta(seconds=second), ledger)
        (alert,) = [a for a in plans.alerts[DAY] if a.kind in ("slower", "cloud")]
        assert alert.kind == reason


def test_small_steps_add_up_to_a_change_worth_telling() -> None:
    """Ten minutes later each time: told when it is a quarter of an hour since the last word."""
    with Journal.in_memory() as journal:
        ledger = Ledger(journal)
        current = [replace(TODAY, dishes=(soup(NOON + 3 * HOUR),))]
        plans = Plans(lambda now: current[0], tomorrow=None)
        plans.refresh(NOON, ledger)
        for step in range(1, 5):
            journal.append(Entry(at=NOON, kind="reading", day=DAY, data={"box_c": 90.0}))
            pull_at = NOON + 3 * HOUR + step * timedelta(minutes=10)
            current[0] = replace(TODAY, dishes=(soup(pull_at),))
            plans.refresh(NOON + timedelta(minutes=step), ledger)
        told = [a for a in plans.alerts[DAY] if a.kind == "slower"]
        assert len(told) == 2


@pytest.mark.promise("Nothing to plan from for six hours")
def test_nothing_to_plan_from_for_six_hours_is_borne(
    ledger: Ledger, caplog: pytest.LogCaptureFixture
) -> None:
    """The old plan calls on; it is tried again, but seldom; the log has it once."""
    tries: list[datetime] = []
    is_down = [False]

    def source(now: datetime) -> DayPlan:
        tries.append(now)
        if is_down[0]:
            raise OSError("the forecast cannot be fetched")
        return TODAY

    plans = Plans(source, tomorrow=None)
    plans.refresh(NOON, ledger)
    tries.clear()
    is_down[0] = True
    plans.hurry()
    for second in range(0, 6 * 3600, 5):
        plans.refresh(NOON + timedelta(seconds=second), ledger)
        assert [alert.kind for alert in plans.alerts[DAY]] == ["turn"]
    assert "cannot be fetched" in (plans.trouble or "")
    assert 10 <= len(tries) <= 30
    assert caplog.text.count("Traceback") == 1
    is_down[0] = False
    plans.refresh(NOON + 7 * HOUR, ledger)
    assert plans.trouble is None
