"""The player: the cook's own command, run with a limit and without a shell."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from suntrack.notify.channel import Accepted, Notice, Refused, Unknown
from suntrack.notify.local import SoundNotifier

TURN = Notice(key="2026-11-25/turn-1", title="Turn; touch /tmp/never", body="$(false)")


def player(code: str, *words: str) -> tuple[str, ...]:
    return (sys.executable, "-c", code, *words)


def test_it_plays_with_the_words_of_the_config_and_no_others(tmp_path: Path) -> None:
    code = "import sys; open(sys.argv[1], 'w').write(repr(sys.argv[2:]))"
    played = tmp_path / "played"
    way = SoundNotifier(player(code, str(played), "a bell; $HOME.wav"))
    assert way.send(TURN) == Accepted()
    assert played.read_text() == "['a bell; $HOME.wav']"


def test_what_is_only_for_information_makes_no_sound() -> None:
    way = SoundNotifier(player("raise SystemExit(1)"))
    assert way.send(Notice(key="2026-11-25/x", title="x", urgency="low")) == Accepted()


def test_a_player_that_is_missing_or_fails_is_a_refusal_with_its_name(tmp_path: Path) -> None:
    gone = SoundNotifier((str(tmp_path / "no-player"),)).send(TURN)
    assert isinstance(gone, Refused)
    assert "no-player" in gone.reason
    failed = SoundNotifier(player("raise SystemExit(3)")).send(TURN)
    assert isinstance(failed, Refused)
    assert "3" in failed.reason


def test_a_player_that_does_not_end_is_cut_and_not_played_again() -> None:
    way = SoundNotifier(player("import threading; threading.Event().wait()"), limit_s=0.3)
    outcome = way.send(TURN)
    assert isinstance(outcome, Unknown)
    assert not outcome.repeat


@pytest.mark.parametrize("urgency", ["normal", "urgent"])
def test_it_plays_for_what_has_to_be_done(urgency: str) -> None:
    way = SoundNotifier(player("raise SystemExit(1)"))
    notice = Notice(key="2026-11-25/x", title="x", urgency=urgency)  # type: ignore[arg-type]
    assert isinstance(way.send(notice), Refused)
