"""The ways out in words: how the cook is called, and how a trial of each went."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.screen.asjson import keys_table

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.alerts.quiet import Quiet
    from suntrack.units import Units

TEST_TITLE = "suntrack: a test"
TEST_BODY = "If you can read this, you will be called this way. There is nothing to do."
NO_WAYS = "No way to call you is set up: see [notify] and [[way]] in the config."
NOTIFY_KEYS: Mapping[str, str] = {
    "ways[].name": "name of a way, as the journal calls it",
    "ways[].backup": "true for one that is only used when those above it fail",
    "quiet.hours[].from": "when peace begins, local time",
    "quiet.hours[].to": "when it ends; before `from` means the next day",
    "quiet.tells[]": "how urgent a call has to be to come all the same",
}
TEST_KEYS: Mapping[str, str] = {
    "ways[].name": "name of a way",
    "ways[].outcome": "accepted, refused or unknown",
    "ways[].reason": "why not accepted, in words; null when it was",
}
ANSWER_KEYS: Mapping[str, str] = {
    "answered[]": "key of a call that was answered",
    "until": "when it is told again; null for done",
}
SERVICE_KEYS: Mapping[str, str] = {
    "systemd.path": "where the user unit belongs",
    "systemd.text": "what is in it",
    "systemd.commands[]": "what to run then",
    "launchd.path": "where the job belongs",
    "launchd.text": "what is in it",
    "launchd.commands[]": "what to run then",
}
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


def calling_schema() -> str:
    """Return what `notify --json` and `service --json` print, for DEVELOPERS.md."""
    tables = {
        "notify --json": NOTIFY_KEYS,
        "notify --test --json": TEST_KEYS,
        "notify --done --json": ANSWER_KEYS,
        "service --json": SERVICE_KEYS,
    }
    return "\n\n".join(keys_table(title, keys) for title, keys in tables.items())


def result_line(name: str, outcome: str, reason: str) -> str:
    """Return how the trial of one way went, such as `phone: NOT taken. It said no.`"""
    said = f" {reason[0].upper()}{reason[1:].rstrip('.')}." if reason else ""
    return f"{name}: {RESULTS[outcome]}.{said}"


def answer_line(keys: Sequence[str], *, again: str | None) -> str:
    """Return which calls were answered; `again` is when they come again, None for done."""
    if not keys:
        return "There is no call that waits for an answer."
    names = ", ".join(key.partition("/")[2].replace("-", " ") for key in keys)
    return f"Again at {again}: {names}." if again else f"Done: {names}."


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
