"""What the journal means for the plan: notes first, then the plan that was shown."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest

from suntrack.plan.records import SkyNote, Wish
from suntrack.store.journal import Entry, EntryKind
from suntrack.store.observations import day_so_far, news_since

DAY = date(2026, 11, 25)
DAWN = datetime(2026, 11, 25, 5, 0, tzinfo=UTC)
WISH = Wish(dish="lentil-soup", serve_at=DAWN + timedelta(hours=8))
SHOWN: dict[str, Any] = {
    "aims": [
        {"at": (DAWN + timedelta(hours=h)).isoformat(), "face_true_deg": 90.0, "mirror_deg": 80.0}
        for h in (1, 4)
    ],
    "loads": {"lentil-soup": (DAWN + timedelta(hours=3)).isoformat()},
}


def entry(hours: float, kind: EntryKind, subject: str | None = None, **data: Any) -> Entry:
    return Entry(at=DAWN + timedelta(hours=hours), kind=kind, day=DAY, subject=subject, data=data)


def heard(*entries: Entry, hours: float) -> Any:
    return day_so_far(entries, [WISH], now=DAWN + timedelta(hours=hours))


def test_an_empty_journal_knows_nothing() -> None:
    found = heard(hours=6)
    assert found.heard.aims == ()
    assert found.wishes == (WISH,)


@pytest.mark.parametrize(("hours", "aims", "loaded"), [(2, 1, False), (3.5, 1, True), (5, 2, True)])
def test_a_plan_that_was_shown_is_taken_as_followed(hours: float, aims: int, loaded: bool) -> None:
    found = heard(entry(0, "plan", **SHOWN), hours=hours)
    assert len(found.heard.aims) == aims
    (wish,) = found.wishes
    assert (wish.loaded_at is not None) is loaded
    assert wish.loaded_as_planned is loaded


def test_a_note_counts_more_than_the_plan() -> None:
    found = heard(entry(0, "plan", **SHOWN), entry(2.5, "loaded", "lentil-soup"), hours=5)
    (wish,) = found.wishes
    assert wish.loaded_at == DAWN + timedelta(hours=2.5)
    assert not wish.loaded_as_planned


def test_the_last_word_on_a_load_counts() -> None:
    found = heard(entry(2.5, "loaded", "lentil-soup"), entry(2.0, "loaded", "lentil-soup"), hours=5)
    assert found.wishes[0].loaded_at == DAWN + timedelta(hours=2.0)


def test_a_noted_turn_takes_the_place_of_the_planned_one_near_it() -> None:
    noted = entry(4.2, "turned", face_true_deg=70.0, mirror_deg=85.0)
    found = heard(entry(0, "plan", **SHOWN), noted, hours=5)
    assert [aim.face_true_deg for aim in found.heard.aims] == [90.0, 70.0]


def test_noting_one_turn_leaves_the_others_as_planned() -> None:
    noted = entry(2.5, "turned", face_true_deg=70.0, mirror_deg=85.0)
    found = heard(entry(0, "plan", **SHOWN), noted, hours=5)
    assert [aim.face_true_deg for aim in found.heard.aims] == [90.0, 70.0, 90.0]


def test_a_plan_shown_too_late_was_not_followed() -> None:
    """Steps that were already past when the plan was first shown have not been taken."""
    found = heard(entry(4.5, "plan", **SHOWN), hours=5)
    assert found.heard.aims == ()
    assert found.wishes[0].loaded_at is None


def test_readings_come_in_order_of_time_and_the_future_is_not_heard() -> None:
    entries = [entry(4, "reading", box_c=120.0), entry(3, "reading", box_c=110.0)]
    found = heard(*entries, entry(9, "reading", box_c=60.0), hours=5)
    assert [reading.box_c for reading in found.heard.readings] == [110.0, 120.0]


def test_skipping_and_pulling_are_heard() -> None:
    found = heard(entry(1, "skipped"), entry(4, "pulled", "lentil-soup"), hours=5)
    assert found.heard.skipped
    assert found.wishes[0].pulled_at == DAWN + timedelta(hours=4)


def test_a_plan_for_another_box_was_not_followed_here() -> None:
    """One folder, two configs: the aims of the one are not taken as done with the other."""
    shown = entry(0, "plan", **SHOWN, place="there")
    for place, aims in (("there", 1), ("here", 0)):
        found = day_so_far([shown], [WISH], now=DAWN + timedelta(hours=2), place=place)
        assert len(found.heard.aims) == aims
        assert (found.earlier is not None) == (place == "there")


@pytest.mark.parametrize(
    ("later", "cause"),
    [((), "time"), (("reading",), "reading"), (("turned", "reading"), "reading"),
     (("loaded",), "note")],
)  # fmt: skip
def test_a_change_is_put_down_to_what_was_written_since(
    later: tuple[EntryKind, ...], cause: str
) -> None:
    """A reading for ten o'clock that is written at noon is news at noon."""
    data: dict[str, Any] = {
        "reading": {"box_c": 80.0},
        "turned": {"face_true_deg": 90.0, "mirror_deg": None},
    }
    known = [entry(2, "plan", **SHOWN)]
    known += [entry(1.5, kind, "lentil-soup", **data.get(kind, {})) for kind in later]
    found = day_so_far(known, [WISH], now=DAWN + timedelta(hours=5))
    assert found.earlier is not None
    assert found.earlier.cause == cause


def test_config_and_sky_are_causes_too() -> None:
    clear = SkyNote(source="clear sky", issued_at=None)
    fetched = SkyNote(source="a feed", issued_at=None, fetched_at=DAWN)
    shown = [entry(0, "plan", **SHOWN, config="one", sky=["clear sky", None, None])]
    assert news_since(shown, config="one", sky=clear) is None
    assert news_since(shown, config="two", sky=clear) == "config"
    assert news_since(shown, config="one", sky=fetched) == "forecast"
    later = [entry(0, "plan", **SHOWN, config="one", sky=["a feed", None, DAWN.isoformat()])]
    assert news_since(later, config="one", sky=clear) == "no forecast"
    assert news_since([], config="one", sky=clear) is None
