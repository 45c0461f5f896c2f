"""What the commands that write a file print with `--json`: where it is, and what is in it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.numbers import stamp

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence
    from pathlib import Path

    from suntrack.plan.records import DayPlan

_PLAN_FILE = {
    "path": "where the file is",
    "date": "the day of the plan, at the site",
    "site": "name of the site",
    "made_at": "when the plan was made",
}
SHEET_KEYS: Mapping[str, str] = {
    **_PLAN_FILE,
    "kind": "html for the page, svg or png for charts alone",
    "charts[]": "which charts are in it: box, sun, light",
}
CALENDAR_KEYS: Mapping[str, str] = {**_PLAN_FILE, "steps": "how many steps are in it"}
SETUP_KEYS: Mapping[str, str] = {
    "path": "where the config is",
    "usual[]": "what nobody was asked and was taken as usual, in words",
    "doubts[]": "what to look at, in sentences: a height nobody said, a zone far from the sun",
}

COMPLETION_KEYS: Mapping[str, str] = {"shell": "bash, zsh or fish", "script": "what it reads"}


def sheet_json(plan: DayPlan, path: Path, *, kind: str, charts: Sequence[str]) -> dict[str, Any]:
    """Return where a sheet is, and what."""
    return {**_plan_file(plan, path), "kind": kind, "charts": list(charts)}


def calendar_json(plan: DayPlan, path: Path) -> dict[str, Any]:
    """Return where a calendar file is."""
    return {**_plan_file(plan, path), "steps": len(plan.steps)}


def _plan_file(plan: DayPlan, path: Path) -> dict[str, Any]:
    return {
        "path": str(path.absolute()),
        "date": plan.date.isoformat(),
        "site": plan.site_name,
        "made_at": stamp(plan.made_at),
    }


def setup_json(path: Path, usual: Sequence[str], doubts: Sequence[str]) -> dict[str, Any]:
    """Return where a config is, and what in it was nobody's answer."""
    return {"path": str(path.absolute()), "usual": list(usual), "doubts": list(doubts)}


def completion_json(shell: str, script: str) -> dict[str, Any]:
    """Return what a shell reads."""
    return {"shell": shell, "script": script}
