"""The config kept: the same as the one read, and never older than its files."""

from __future__ import annotations

import pickle
import shutil
import stat
import sys
from pathlib import Path

import pytest

from suntrack.config import kept as config_kept
from suntrack.config.kept import read_config
from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError

ROOT = Path(__file__).parents[2]
OWN = (ROOT / "config" / "dishes" / "morogo.toml").read_text(encoding="utf-8")


class Kitchen:
    """A config with its pieces, a folder of dishes, and a cache."""

    def __init__(self, folder: Path) -> None:
        shutil.copytree(ROOT / "config", folder / "config")
        self.main = folder / "config" / "suntrack.toml"
        # The place in a file of its own, as a cook with two places has it.
        head, _, rest = self.main.read_text(encoding="utf-8").partition("[site]")
        place, _, tail = rest.partition("[box]")
        self.piece = folder / "config" / "here.toml"
        self.piece.write_text("[site]" + place, encoding="utf-8")
        include = '[include]\nsite = "here.toml"\n'
        self.main.write_text(head + include + "[box]" + tail, encoding="utf-8")
        self.dishes = folder / "dishes"
        self.dishes.mkdir()
        self.cache = folder / "cache"

    def read(self) -> Config:
        return read_config(self.main, dishes_dir=self.dishes, cache=self.cache)

    def read_anew(self) -> Config:
        return load_config(self.main, dishes_dir=self.dishes)

    @property
    def kept(self) -> Path:
        (path,) = self.cache.glob("config-*")
        return path


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen(tmp_path)


@pytest.fixture
def no_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    """Make reading a file an error."""
    monkeypatch.setitem(sys.modules, "suntrack.config.reader", None)


def test_what_is_kept_is_what_was_read(kitchen: Kitchen) -> None:
    (kitchen.dishes / "mine.toml").write_text(OWN.replace("[morogo", "[garden-greens"))
    anew = kitchen.read_anew()
    assert kitchen.read() == anew
    assert kitchen.read() == anew
    assert "garden-greens" in anew.library


def test_it_is_read_back_without_the_reading(
    kitchen: Kitchen, request: pytest.FixtureRequest
) -> None:
    made = kitchen.read()
    request.getfixturevalue("no_reading")
    assert kitchen.read() == made


def _edited(kitchen: Kitchen) -> None:
    text = kitchen.main.read_text(encoding="utf-8")
    kitchen.main.write_text(text + "\n# later\n", encoding="utf-8")


def _piece_edited(kitchen: Kitchen) -> None:
    path = kitchen.piece
    path.write_text(path.read_text(encoding="utf-8") + "\n# later\n", encoding="utf-8")


def _dish_added(kitchen: Kitchen) -> None:
    (kitchen.dishes / "mine.toml").write_text(OWN.replace("[morogo", "[garden-greens"))


@pytest.mark.parametrize("change", [_edited, _piece_edited, _dish_added])
def test_a_changed_file_is_read_anew(kitchen: Kitchen, change: object) -> None:
    before = kitchen.read()
    assert callable(change)
    change(kitchen)
    assert kitchen.read().fingerprint != before.fingerprint
    assert kitchen.read() == kitchen.read_anew()


def test_a_dish_taken_away_is_gone(kitchen: Kitchen) -> None:
    _dish_added(kitchen)
    assert "garden-greens" in kitchen.read().library
    (kitchen.dishes / "mine.toml").unlink()
    assert "garden-greens" not in kitchen.read().library


def test_a_mistake_is_told_although_the_last_good_one_is_kept(kitchen: Kitchen) -> None:
    kitchen.read()
    text = kitchen.main.read_text(encoding="utf-8")
    kitchen.main.write_text(text + "\n[boks]\n", encoding="utf-8")
    with pytest.raises(InputError, match="boks"):
        kitchen.read()


@pytest.mark.parametrize("content", [b"", b"\n", b"\x80\x05", b"nonsense"])
def test_a_damaged_file_is_read_anew(kitchen: Kitchen, content: bytes) -> None:
    made = kitchen.read()
    head = kitchen.kept.read_bytes().partition(b"\n")[0]
    for damaged in (content, head + b"\n" + content, head + b"\n" + pickle.dumps(3)):
        kitchen.kept.write_bytes(damaged)
        assert kitchen.read() == made


def test_another_source_does_not_count(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    kitchen.read()
    monkeypatch.setattr(config_kept, "_stamp", lambda: "another")
    request.getfixturevalue("no_reading")
    with pytest.raises(ImportError):
        kitchen.read()


class _Evil:
    """What a hostile file would ask for: Python's own documentation warns of it."""

    def __init__(self, target: Path) -> None:
        self.target = target

    def __reduce__(self) -> tuple[object, ...]:
        return (Path.touch, (self.target,))


def test_a_hostile_file_can_do_nothing(kitchen: Kitchen, tmp_path: Path) -> None:
    made = kitchen.read()
    head = kitchen.kept.read_bytes().partition(b"\n")[0]
    target = tmp_path / "touched"
    pickle.loads(pickle.dumps(_Evil(target)))
    assert target.exists(), "else this proves nothing"
    target.unlink()
    kitchen.kept.write_bytes(head + b"\n" + pickle.dumps(_Evil(target)))
    assert kitchen.read() == made
    assert not target.exists()


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such modes")
def test_only_its_owner_can_read_it(kitchen: Kitchen) -> None:
    """A config may hold addresses to be called at."""
    kitchen.read()
    assert stat.S_IMODE(kitchen.kept.stat().st_mode) == 0o600


def test_a_folder_that_cannot_be_written_is_no_reason_to_stop(kitchen: Kitchen) -> None:
    kitchen.cache.touch()
    assert kitchen.read() == kitchen.read_anew()
