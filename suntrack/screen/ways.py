"""The ways out in words: how the cook is called, and how a trial of each went."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.alerts.quiet import Quiet
    from suntrack.units import Units

TEST_TITLE = "suntrack: a test"
TEST_BODY = "If you can read this, you will be called this way. There is nothing to do."
NO_WAYS = "No way to call you is set up: see [notify] and [[way]] in the config."
RESULTS = {
    "accepted": "taken",
    "refused": "NOT taken",
    "unknown": "no receipt; look whether it is there",
}
NAMES = {
    "terminal": "on the screen of `suntrack watch`",
    "desktop": "notices of the desktop",
    "sound": "your player",
}


def result_line(name: str, outcome: str, reason: str) -> str:
    """Return how the trial of one way went, such as `phone: NOT taken. It said no.`"""
    said = f" {reason[0].upper()}{reason[1:].rstrip('.')}." if reason else ""
    return f"{name}: {RESULTS[outcome]}.{said}"


def way_lines(
    ways: Sequence[str], *, backups: frozenset[str], quiet: Quiet, units: Units
) -> tuple[str, ...]:
    """Return how the cook is called, a line to a way, and when it is quiet."""
    lines = [_way(name, is_backup=name in backups) for name in ways] or [NO_WAYS]
    return (*lines, quiet_line(quiet, units))


def quiet_line(quiet: Quiet, units: Units) -> str:
    """Return when the cook wants peace, and what breaks through."""
    if not quiet.stretches:
        return "No quiet hours."
    hours = " and ".join(
        f"{units.clock_text(starts)} to {units.clock_text(ends)}"
        for starts, ends in quiet.stretches
    )
    told = [name for name in ("urgent", "normal", "low") if name in quiet.tells]
    if not told:
        return f"Quiet from {hours}; nothing breaks through, not even food to take out."
    return f"Quiet from {hours}; {' and '.join(told)} calls come all the same."


def service_lines(path: str, commands: Sequence[str]) -> tuple[str, ...]:
    """Return what to do with a service file."""
    return (
        f"Save this as {path} and run:",
        *(f"  {command}" for command in commands),
        "A service does not see the variables of your terminal: put passwords into the file",
        "that notify.secrets names.",
    )


def _way(name: str, *, is_backup: bool) -> str:
    what = NAMES.get(name, "an address of yours")
    return f"{name}: {what}{', when the ways above it fail' if is_backup else ''}"
