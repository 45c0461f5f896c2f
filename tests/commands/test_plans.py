"""The plan a command shows, with a weather service that is off, kept, or cannot be reached."""

from __future__ import annotations

import socket
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from suntrack.cli import main
from suntrack.commands.context import Context
from suntrack.commands.plans import kept_plan, note_or_say, plan_at_hand
from suntrack.commands.week import week_plans
from suntrack.config.feed_settings import FeedSettings
from suntrack.config.reader import Config, load_config
from suntrack.feeds.heading import kept_path
from suntrack.feeds.kept import Kept, write_kept
from suntrack.sky.forecast import Forecast
from suntrack.store.sun_table import sun_data

ROOT = Path(__file__).parents[2]
DAY = date(2026, 11, 25)
DAWN = datetime(2026, 11, 25, 3, 0, tzinfo=UTC)


@pytest.fixture(scope="module")
def config() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


@pytest.fixture(scope="module")
def nobody() -> str:
    """Return an address on this computer at which nobody answers."""
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return f"http://127.0.0.1:{taken.getsockname()[1]}"


def context_of(config: Config, tmp_path: Path, *, asked_at: bool = False) -> Context:
    now = DAWN.astimezone(config.site.zone)
    return Context(config=config, now=now, asked_at=asked_at, cache=tmp_path, data=tmp_path)


def keep(config: Config, cache: Path, *, share: float, fetched_at: datetime, days: int = 1) -> None:
    """Keep a forecast of the day, due again in an hour."""
    weather = sun_data(config.site, on=DAY, cache_dir=cache).weather
    clear = np.tile(weather.global_horizontal_w_m2[0].reshape(24, -1).mean(axis=1), days)
    starts_s = weather.at_s[0] + 3600.0 * np.arange(24 * days, dtype=np.float64)
    forecast = Forecast(
        feed="open-meteo",
        kind="radiation",
        starts_at_s=starts_s,
        ends_at_s=starts_s + 3600.0,
        fetched_at=fetched_at,
        global_horizontal_w_m2=(share * clear)[None],
        attribution="Data from the weather office",
    )
    path = kept_path(cache / "feeds", "open-meteo", config.site)
    path.parent.mkdir(parents=True, exist_ok=True)
    write_kept(path, Kept(forecast=forecast, due_at=fetched_at + timedelta(hours=1)))


def without_dishes() -> str:
    """Return the example as a file without a dish: quickest to plan."""
    text = (ROOT / "config" / "suntrack.toml").read_text(encoding="utf-8")
    return text[: text.index("[[dish]]")] + text[text.index("# --- How it is shown") :]


def on(config: Config, nobody: str) -> Config:
    return replace(config, feed=FeedSettings(use="open-meteo", base_url=nobody))


def test_without_a_feed_the_plan_is_for_a_clear_sky(config: Config, tmp_path: Path) -> None:
    plan = kept_plan(context_of(config, tmp_path), DAY, fetch=True)
    assert (plan.sky.source, plan.chances, plan.sky.notes) == ("clear sky", None, ())
    assert not (tmp_path / "feeds").exists(), "the network was never thought of"


def test_a_kept_forecast_makes_chances_and_a_newer_one_other_ones(
    config: Config, nobody: str, tmp_path: Path
) -> None:
    context = context_of(on(config, nobody), tmp_path)
    keep(config, tmp_path, share=1.0, fetched_at=DAWN - timedelta(minutes=40))
    bright = kept_plan(context, DAY)
    assert bright.chances is not None
    assert bright.sky.attribution == "Data from the weather office"
    assert kept_plan(context, DAY) == bright
    keep(config, tmp_path, share=0.3, fetched_at=DAWN - timedelta(minutes=10))
    dull = kept_plan(context, DAY)
    assert dull.chances is not None
    assert dull.chances.holds < bright.chances.holds


def test_the_plan_at_hand_is_the_kept_one_while_it_counts(
    config: Config, nobody: str, tmp_path: Path
) -> None:
    for context in (context_of(config, tmp_path), context_of(on(config, nobody), tmp_path)):
        keep(config, tmp_path, share=1.0, fetched_at=DAWN - timedelta(minutes=40))
        assert plan_at_hand(context, DAY) is None
        made = kept_plan(context, DAY)
        assert plan_at_hand(context, DAY) == made
    # `context` has the feed on: a newer forecast, or one too old to be used, is another sky.
    for hours in (-0.2, -49.0):
        keep(config, tmp_path, share=0.3, fetched_at=DAWN + timedelta(hours=hours), days=2)
        assert plan_at_hand(context, DAY) is None
        assert kept_plan(context, DAY).chances != made.chances
    # Fetched too long after the moment asked about, it is as good as none.
    dull = plan_at_hand(context, DAY)
    keep(config, tmp_path, share=0.3, fetched_at=DAWN + timedelta(hours=25), days=2)
    assert dull is not None
    assert plan_at_hand(context, DAY) == dull


def test_a_service_that_cannot_be_reached_costs_no_plan(
    config: Config, nobody: str, tmp_path: Path
) -> None:
    """The last good forecast is used, and its age is said."""
    keep(config, tmp_path, share=0.9, fetched_at=DAWN - timedelta(hours=5))
    plan = kept_plan(context_of(on(config, nobody), tmp_path), DAY, fetch=True)
    assert plan.chances is not None
    assert any("5 h old" in note for note in plan.sky.notes), plan.sky.notes


def test_after_two_days_the_usual_sky_stands_in(
    config: Config, nobody: str, tmp_path: Path
) -> None:
    keep(config, tmp_path, share=0.9, fetched_at=DAWN - timedelta(hours=49), days=2)
    plan = kept_plan(context_of(on(config, nobody), tmp_path), DAY)
    assert plan.sky.source == "typical sky"
    assert plan.chances is not None
    assert any("too long to be used" in note for note in plan.sky.notes), plan.sky.notes


def test_a_moment_asked_about_asks_no_network(config: Config, tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as server:
        server.setblocking(False)
        somebody = f"http://127.0.0.1:{server.getsockname()[1]}"
        context = context_of(on(config, somebody), tmp_path, asked_at=True)
        plan = kept_plan(context, DAY, fetch=True)
        with pytest.raises(BlockingIOError):
            server.accept()
    assert plan.sky.source == "typical sky"


@pytest.mark.parametrize("command", ["today", "sheet", "calendar"])
def test_a_home_that_cannot_be_written_costs_a_warning_and_no_plan(
    command: str,
    config: Config,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """A folder under a file can never be made, not even by root (POSIX: ENOTDIR)."""
    (tmp_path / "file").write_text("not a folder", encoding="utf-8")
    (tmp_path / "mine.toml").write_text(without_dishes(), encoding="utf-8")
    monkeypatch.setenv("SUNTRACK_HOME", str(tmp_path / "file" / "home"))
    monkeypatch.chdir(tmp_path)
    out = {"today": ["--plain"], "sheet": ["--out", "-"], "calendar": []}[command]
    assert main([command, "--config", str(tmp_path / "mine.toml"), *out]) == 0
    shown = capsys.readouterr()
    sign = {
        "today": config.site.name,
        "sheet": config.site.name,
        "calendar": "The calendar file is",
    }
    assert sign[command] in shown.out
    assert "nothing could be kept or noted" in shown.err
    assert "SUNTRACK_HOME" in shown.err


def test_a_home_that_can_be_written_gets_no_warning(
    config: Config, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    context = context_of(replace(config, dishes=()), tmp_path)
    note_or_say(context, kept_plan(context, DAY))
    assert capsys.readouterr().err == ""
    assert [entry.kind for entry in context.entries(DAY)] == ["plan"]


def test_a_week_begins_today_and_tomorrow_once_the_sun_is_down(
    config: Config, tmp_path: Path
) -> None:
    no_dishes = replace(config, dishes=())
    morning = week_plans(context_of(no_dishes, tmp_path))
    assert [plan.date for plan in morning] == [DAY + timedelta(days=n) for n in range(7)]
    late = replace(context_of(no_dishes, tmp_path), now=morning[0].made_at.replace(hour=20))
    assert [plan.date for plan in week_plans(late)] == [
        DAY + timedelta(days=n) for n in range(1, 8)
    ]


def test_a_plan_nobody_saw_is_made_anew_once_its_steps_have_passed(
    config: Config, tmp_path: Path
) -> None:
    """Made at dawn for another command; what it asked for in the morning was never told."""
    dawn = context_of(config, tmp_path)
    first = kept_plan(dawn, DAY)
    assert kept_plan(dawn, DAY) == first
    noon = replace(dawn, now=dawn.now + timedelta(hours=9, minutes=30))
    again = kept_plan(noon, DAY)
    assert again.made_at == noon.now
    assert all(dish.load_at is None or dish.load_at >= noon.now for dish in again.dishes)
