"""The ways out in words: how the cook is called, and how a trial of each went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import stamp

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from datetime import datetime
    from zoneinfo import ZoneInfo

    from suntrack.alerts.quiet import Quiet
    from suntrack.alerts.report import Reported
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
REPORT_KEYS: Mapping[str, str] = {
    "date": "the day of the calls",
    "calls[].key": "key of a call",
    "calls[].state": "what became of it, one word for all ways; see the life of an alert",
    "calls[].due_at": "when it was due; null when it was answered before",
    "calls[].sent_at": "when it was first handed over; null for never",
    "calls[].late_s": "how long after it was due that was",
    "calls[].tries": "how often it was handed over, on all ways together",
    "calls[].ways[].name": "a way",
    "calls[].ways[].state": "what became of it on that way",
    "calls[].answered_at": "when the cook answered it or noted it as done; null for not",
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


def result_line(name: str, outcome: str, reason: str) -> str:
    """Return how the trial of one way went, such as `phone: NOT taken. It said no.`"""
    said = f" {reason[0].upper()}{reason[1:].rstrip('.')}." if reason else ""
    return f"{name}: {RESULTS[outcome]}.{said}"


def answer_line(keys: Sequence[str], *, again: str | None) -> str:
    """Return which calls were answered; `again` is when they come again, None for done."""
    if not keys:
        return "There is no call that waits for an answer."
    names = ", ".join(call_name(key) for key in keys)
    return f"Again at {again}: {names}." if again else f"Done: {names}."


def call_json(call: Reported, zone: ZoneInfo) -> dict[str, Any]:
    """Return one call of a report for programs."""
    return {
        "key": call.key,
        "state": call.state,
        "due_at": _stamp(call.due_at, zone),
        "sent_at": _stamp(call.sent_at, zone),
        "late_s": None if call.late is None else round(call.late.total_seconds(), 1),
        "tries": call.tries,
        "ways": [{"name": way, "state": state} for way, state in call.ways.items()],
        "answered_at": _stamp(call.answered_at, zone),
    }


def report_lines(calls: Sequence[Reported], *, units: Units, zone: ZoneInfo) -> tuple[str, ...]:
    """Return what became of the calls of a day, a line to a call."""
    if not calls:
        return ("Nothing was called on that day.",)
    return tuple(_report_line(call, units=units, zone=zone) for call in calls)


def _report_line(call: Reported, *, units: Units, zone: ZoneInfo) -> str:
    """Return one call: `13:00 pull lentil soup: told 13:00 by terminal; answered 13:04.`"""
    due = units.time_text(call.due_at, zone) if call.due_at else "not due"
    parts = []
    if call.sent_at is None:
        parts.append("never told")
    else:
        ways = ", ".join(f"{way} ({state})" for way, state in call.ways.items())
        often = f", {call.tries} times in all" if call.tries > len(call.ways) else ""
        parts.append(f"told {units.time_text(call.sent_at, zone)} by {ways}{often}")
    if call.answered_at:
        parts.append(f"answered {units.time_text(call.answered_at, zone)}")
    elif call.state in ("lapsed", "replaced", "snoozed"):
        parts.append(call.state)
    return f"{due} {call_name(call.key)}: {'; '.join(parts)}."


def call_name(key: str) -> str:
    """Return a call's key as a name, such as `pull lentil soup`."""
    return key.partition("/")[2].replace("-", " ")


def _stamp(at: datetime | None, zone: ZoneInfo) -> str | None:
    return stamp(at.astimezone(zone) if at else None)


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
