"""The ways out and the quiet hours, from the config's tables to `suntrack.config.ways`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.alerts.quiet import Quiet
from suntrack.config.text import Complaint
from suntrack.config.times import DAY_MIN, read_stretch
from suntrack.config.ways import Calls, FarWay

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from zoneinfo import ZoneInfo

    from suntrack.config import model
    from suntrack.config.pieces import Pieces


ALL_DAY_REMEDY = "For peace all day, take the ways out of [notify] instead."


def build_calls(file: model.File, *, folder: Path, zone: ZoneInfo) -> Calls:
    """Return how the cook is called, from tables that have been checked."""
    notify = file.notify
    secrets = None if notify.secrets is None else folder / Path(notify.secrets).expanduser()
    return Calls(
        terminal=notify.terminal,
        desktop=notify.desktop,
        bell=notify.bell,
        player=tuple(notify.player),
        secrets=secrets,
        far=tuple(FarWay(name=w.name, address=w.url, backup=w.backup) for w in file.way),
        quiet=Quiet(
            stretches=tuple(read_stretch(stretch) for stretch in file.quiet.hours),
            tells=frozenset(file.quiet.tells),
            zone=zone,
        ),
    )


def check_calls(pieces: Pieces) -> Iterator[Complaint]:
    """Yield what is wrong between the keys of these tables."""
    names = pieces.way_names
    for i, name in enumerate(names):
        if name is not None and name in names[:i]:
            yield Complaint(
                path=("way", i, "name"),
                found=f'a second "{name}"',
                allowed="a name of its own for each way",
                remedy="Rename one of them.",
            )
    yield from _check_quiet(pieces.quiet.hours if pieces.quiet else ())


def _check_quiet(hours: Sequence[str]) -> Iterator[Complaint]:
    """Yield the quiet hours that have no end, each by itself or all together."""
    minutes: set[int] = set()
    for i, stretch in enumerate(hours):
        starts, ends = read_stretch(stretch)
        if starts == ends:
            yield Complaint(
                path=("quiet", "hours", i),
                found=f'"{stretch}"',
                allowed="a stretch with an end other than its start; it may go over midnight",
                remedy=ALL_DAY_REMEDY,
            )
        first, last = (at.hour * 60 + at.minute for at in (starts, ends))
        minutes |= {minute % DAY_MIN for minute in range(first, last + DAY_MIN * (last < first))}
    if len(minutes) == DAY_MIN:
        yield Complaint(
            path=("quiet", "hours"),
            found="hours that cover the whole day",
            allowed="hours that leave some time of the day",
            remedy=ALL_DAY_REMEDY,
        )
