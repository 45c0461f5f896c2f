"""The dashboard as an app: keys, sizes, colours; driven by Textual's Pilot, without a terminal."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, Sequence

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot
from textual.strip import Strip
from textual.widgets import Static

from suntrack.errors import InputError, JournalError, Problem
from suntrack.plan.records import DayPlan
from suntrack.screen.charset import Charset
from suntrack.screen.dashboard.app import Look, WatchApp
from suntrack.screen.dashboard.view import Call, Dashboard, DashboardView
from suntrack.screen.moment import NowView
from suntrack.units import Units

MOST_LOOKS = 500
Play = Callable[["WatchApp", Pilot[None]], Awaitable[None]]


class Seen:
    """A watch that is seen in one way, until a test says otherwise."""

    def __init__(self, look: Look) -> None:
        self.now = look

    def look(self) -> Look:
        return self.now


class Observations:
    """Hands that remember what they were asked to do."""

    def __init__(self, *, full: bool = False) -> None:
        self.did: list[str] = []
        self._full = full

    def done(self) -> str:
        return self._do("done")

    def later(self) -> str:
        return self._do("later")

    def note(self, *said: str) -> str:
        if said[-1] == "hot":
            raise InputError(
                Problem(where="note", found="'hot'", allowed="a number", remedy="Write it so.")
            )
        return self._do(" ".join(said))

    def turned_question(self) -> str:
        return "Turned?"

    def dishes(self, kind: str) -> Sequence[tuple[str, str]]:
        return (("lentil-soup", "Lentil soup"), ("squash", "Squash"))

    def _do(self, what: str) -> str:
        if self._full:
            raise JournalError("the disk is full")
        self.did.append(what)
        return f"It did: {what}."


@pytest.fixture
def look(plan: DayPlan, view: NowView) -> Look:
    call = Call(at=view.at, title="Lentil soup goes in", state="sent", waits=True)
    shown = DashboardView(plan=plan, now=view, calls=(call,))
    return Look(dashboard=Dashboard(shown, units=Units()))


def play(
    look: Look, hands: Observations | None, *keys: str, size: tuple[int, int] = (80, 24), then: Play
) -> WatchApp:
    """Run the app, press keys, and look at what came of it."""
    app = WatchApp(Seen(look), hands, units=Units(), ink=Charset())

    async def act() -> None:
        async with app.run_test(size=size) as pilot:
            await pilot.press(*keys)
            await pilot.pause()
            await then(app, pilot)

    asyncio.run(act())
    return app


async def nothing(app: WatchApp, pilot: Pilot[None]) -> None:
    """Look at nothing more."""


async def until(pilot: Pilot[None], is_so: Callable[[], bool]) -> None:
    """Let the app go on until something is so."""
    for _ in range(MOST_LOOKS):
        if is_so():
            return
        await pilot.pause()
    raise AssertionError("it never came")


def text_of(app: WatchApp) -> str:
    """Return what stands on the screen."""
    return "\n".join(strip.text for strip in strips(app))


def strips(app: WatchApp) -> list[Strip]:
    """Return the lines of the screen as they are drawn, a panel over it included."""
    return app.screen._compositor.render_strips()


@pytest.mark.parametrize(
    ("keys", "did"),
    [
        ("d", ["done"]),
        ("s", ["later"]),
        ("t enter", ["turned"]),
        ("t 1", ["turned"]),
        ("t 2", []),
        ("t escape", []),
        ("t t t escape", []),
        ("l enter", ["loaded lentil-soup"]),
        ("l down enter", ["loaded squash"]),
        ("p 2", ["pulled squash"]),
        ("p 3 r i c e enter", ["pulled rice"]),
        ("r 2 4 5 F enter", ["reading 245F"]),
        ("r 2 4 5 escape", []),
        ("question_mark d escape d", ["done"]),
        ("x y z", []),
    ],
)
def test_each_key_does_one_thing_and_says_so(look: Look, keys: str, did: list[str]) -> None:
    hands = Observations()
    app = play(look, hands, *keys.split(), then=nothing)
    assert hands.did == did
    if did:
        assert app.said == f"It did: {did[-1]}."
    elif "escape" in keys or keys == "t 2":
        assert app.said == "Nothing was written down."


def test_what_a_key_did_stands_on_the_screen(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until(pilot, lambda: "It did: done." in text_of(app))

    play(look, Observations(), "d", then=then)


def test_a_wrong_reading_gets_the_parser_s_message_and_can_be_put_right(look: Look) -> None:
    hands = Observations()

    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until(pilot, lambda: "found 'hot'; allowed: a number. Write it so." in text_of(app))
        assert hands.did == []
        await pilot.press("backspace", "backspace", "backspace", "9", "0", "C", "enter")
        await until(pilot, lambda: "It did: reading 90C." in text_of(app))

    play(look, hands, "r", "h", "o", "t", "enter", then=then)


def test_a_journal_that_cannot_be_written_is_said_and_ends_nothing(look: Look) -> None:
    app = play(look, Observations(full=True), "d", then=nothing)
    assert app.said == "Nothing was written down. the disk is full"
    assert not app.return_code


@pytest.mark.parametrize("width", [40, 60, 80, 120, 200])
@pytest.mark.parametrize("height", [12, 24, 50])
def test_every_key_and_the_next_step_are_in_sight(look: Look, width: int, height: int) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        said = text_of(app)
        for key in app.offered():
            assert f"{key.key} {key.label}" in said
        assert "Next, 10:40" in said

    play(look, Observations(), size=(width, height), then=then)


def test_every_key_in_sight_is_bound(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        names = {"?": "question_mark"}
        bound = set(app.active_bindings)
        assert [k.key for k in app.offered() if names.get(k.key, k.key) not in bound] == []

    play(look, Observations(), then=then)


def test_what_does_not_fit_is_said_and_scrolls_while_the_next_step_stays(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        await until(pilot, lambda: "(more: Page Down)" in text_of(app))
        assert "Chicken stew with sweet potatoes (" not in text_of(app)
        rest = app.query_one("#rest", VerticalScroll)
        while rest.scroll_offset.y < rest.max_scroll_y:
            before = rest.scroll_offset.y
            await pilot.press("pagedown")
            await until(pilot, lambda before=before: rest.scroll_offset.y > before)  # type: ignore[misc]
            await until(pilot, lambda: not app.animator.is_being_animated(rest, "scroll_y"))
        app.draw()
        await until(pilot, lambda: "(more: Page Down)" not in text_of(app))
        assert "Next, 10:40" in text_of(app)
        assert "Cook it on the kitchen stove today." in text_of(app), "the last line of all"

    play(look, Observations(), size=(80, 24), then=then)


def test_another_size_is_drawn_anew(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        for width, height in ((200, 60), (40, 12), (100, 30)):
            await pilot.resize_terminal(width, height)
            await until(pilot, lambda: "Next, 10:40" in text_of(app))
            lines = text_of(app).splitlines()
            assert (len(lines), {len(line) for line in lines}) == (height, {width})

    play(look, Observations(), then=then)


def test_before_there_is_a_plan_lines_stand_in_its_place() -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        assert "The plan for today is being made." in text_of(app)
        assert not app.query_one("#top", Static).display

    play(
        Look(dashboard=None, lines=("The plan for today is being made.",)),
        Observations(),
        then=then,
    )


def test_a_day_run_through_has_no_key_that_notes_anything(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        assert [key.key for key in app.offered()] == ["?", "q"]
        assert "nothing is written down" in text_of(app)

    app = play(look, None, "d", "s", "t", "l", "p", "r", then=then)
    assert not app.return_code


@pytest.mark.parametrize("keys", ["q", "ctrl+c", "ctrl+q"])
def test_it_can_be_left(look: Look, keys: str) -> None:
    app = play(look, Observations(), keys, then=nothing)
    assert not app.is_running
    assert not app.return_code


def test_it_ends_when_the_watch_does(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        seen = app._source
        assert isinstance(seen, Seen)
        seen.now = Look(dashboard=None, is_over=True)
        app.draw()
        await until(pilot, lambda: app._exit)

    assert play(look, Observations(), then=then).return_code == 0


@pytest.mark.parametrize("keys", ["", "t", "r", "question_mark"])
def test_no_background_is_painted_so_that_light_and_dark_terminals_keep_theirs(
    look: Look, keys: str
) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        backgrounds = {
            segment.style.bgcolor.name
            for strip in strips(app)
            for segment in strip
            if segment.style and segment.style.bgcolor
        }
        assert backgrounds <= {"default"}

    play(look, Observations(), *keys.split(), then=then)


def test_only_the_terminal_s_own_sixteen_colours_are_used_and_none_with_no_color(
    look: Look, monkeypatch: pytest.MonkeyPatch
) -> None:
    """https://no-color.org: set and not empty, there is no colour; bold and reverse stay."""
    colours: list[set[str]] = []

    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        drawn = [segment.style for line in strips(app) for segment in line if segment.style]
        colours.append({s.color.type.name for s in drawn if s.color})
        assert any(style.reverse for style in drawn)

    play(look, Observations(), then=then)
    monkeypatch.setenv("NO_COLOR", "1")
    play(look, Observations(), then=then)
    assert colours[0] == {"DEFAULT", "STANDARD"}
    assert colours[1] == {"DEFAULT"}


def test_help_can_be_read_to_its_end_on_a_small_terminal(look: Look) -> None:
    async def then(app: WatchApp, pilot: Pilot[None]) -> None:
        assert "Escape goes back" in text_of(app)
        assert "oven gloves" not in text_of(app)
        await pilot.press("end")
        await until(pilot, lambda: "away from your face." in text_of(app))

    play(look, Observations(), "question_mark", size=(40, 12), then=then)
