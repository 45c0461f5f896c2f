"""The ways beyond the terminal and the desktop, as the config sets them up."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.errors import InputError
from suntrack.notify.local import SoundNotifier
from suntrack.notify.remote import FarNotifier, MissingWay

if TYPE_CHECKING:
    from suntrack.config.secrets import Secrets
    from suntrack.config.ways import Calls, FarWay
    from suntrack.notify.channel import Notifier


def far_ways(calls: Calls, secrets: Secrets) -> list[Notifier]:
    """Return the player and the addresses.

    One whose secret is missing does not keep the others from calling: it refuses, and
    says why.
    """
    ways: list[Notifier] = [SoundNotifier(calls.player)] if calls.player else []
    return [*ways, *(_far(way, secrets) for way in calls.far)]


def backups_in(calls: Calls) -> frozenset[str]:
    """Return the names of the ways that are only used when others fail."""
    return frozenset(way.name for way in calls.far if way.backup)


def _far(way: FarWay, secrets: Secrets) -> Notifier:
    try:
        return FarNotifier(way.name, secrets.fill(way.address, where=f"way {way.name}: url"))
    except InputError as error:
        said = "; ".join(f"{p.found}. {p.remedy}" for p in error.problems)
        return MissingWay(way.name, said)
