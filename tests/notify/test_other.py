"""The optional library of other desktops: what it says is never a receipt."""

from __future__ import annotations

import sys
import types
from collections.abc import Callable
from typing import Any

import pytest

from suntrack.notify.channel import Notice, Refused, Unknown
from suntrack.notify.other import OtherDesktopNotifier

TURN = Notice(key="2026-11-25/turn-1", title="Turn", urgency="urgent")


@pytest.fixture
def library(monkeypatch: pytest.MonkeyPatch) -> Callable[[Exception | None], None]:
    """Put a stand-in of the library in its place: it answers an id, or raises."""

    def install(error: Exception | None) -> None:
        class DesktopNotifier:
            def __init__(self, app_name: str) -> None: ...

            async def send(self, **pieces: Any) -> str:
                if error is not None:
                    raise error
                return "an id that means nothing"

        module: Any = types.ModuleType("desktop_notifier")
        module.DesktopNotifier = DesktopNotifier
        module.Urgency = types.SimpleNamespace(Low=0, Normal=1, Critical=2)
        monkeypatch.setitem(sys.modules, "desktop_notifier", module)

    return install


def test_an_id_is_no_receipt(library: Callable[[Exception | None], None]) -> None:
    library(None)
    outcome = OtherDesktopNotifier().send(TURN)
    assert outcome == Unknown("handed over, no receipt", repeat=False)


def test_an_error_is_a_refusal(library: Callable[[Exception | None], None]) -> None:
    library(RuntimeError("not signed"))
    outcome = OtherDesktopNotifier().send(TURN)
    assert isinstance(outcome, Refused)
    assert "not signed" in outcome.reason


def test_without_the_library_the_cook_is_told_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setitem(sys.modules, "desktop_notifier", None)
    outcome = OtherDesktopNotifier().send(TURN)
    assert isinstance(outcome, Refused)
    assert "suntrack[desktop]" in outcome.reason
