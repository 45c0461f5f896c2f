"""The screens in README.md are what the commands print; `make_screens.py` writes them anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from make_screens import README, Screen, made_anew, screens_of, shot

SHOWN = screens_of(README.read_text(encoding="utf-8"))
ADVICE = "python tests/make_screens.py writes it anew"


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("home")


@pytest.mark.skipif(not SHOWN, reason="README.md shows no screens yet")
@pytest.mark.parametrize("screen", SHOWN, ids=lambda screen: screen.command)
def test_a_screen_of_the_readme_is_what_its_command_prints(screen: Screen, home: Path) -> None:
    assert screen.shown == shot(screen.command, rows=screen.rows, home=home), ADVICE


def test_a_stale_screen_is_written_anew_and_nothing_else_is_touched(home: Path) -> None:
    before = (
        "# Title\n\n<!-- screen rows=2: suntrack dishes -->\n```text\nold\n```\n\nText.\n"
        "```text\nsuntrack today\n```\n"
    )
    after = made_anew(before, home)
    (screen,) = screens_of(after)
    assert "old" not in screen.shown
    assert screen.shown.splitlines()[-1] == "[and so on]"
    assert len(screen.shown.splitlines()) == 3
    assert after.replace(screen.shown, "old\n") == before
    assert made_anew(after, home) == after


def test_a_command_that_fails_is_no_screen(home: Path) -> None:
    with pytest.raises(RuntimeError, match="left with 2"):
        shot("suntrack tody", rows=0, home=home)


def test_no_screen_is_wider_than_it_says_or_has_colours(home: Path) -> None:
    shown = shot("suntrack today --at 2026-11-25T05:00+02:00", rows=0, home=home)
    assert "\x1b" not in shown
    assert max(len(line) for line in shown.splitlines()) <= 88
    assert "Lentil soup" in shown
