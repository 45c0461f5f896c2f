"""The weather service of the config: its settings, and what it has to know of the cook."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.config.feed_settings import FeedSettings
from suntrack.config.feed_terms import FEEDS
from suntrack.config.text import Complaint

if TYPE_CHECKING:
    from collections.abc import Iterator

    from suntrack.config import model
    from suntrack.config.pieces import Pieces


def build_feed(table: model.FeedTable) -> FeedSettings:
    """Return the settings, from a table that has been checked."""
    return FeedSettings(use=table.use, contact=table.contact, base_url=table.base_url)


def check_feed(pieces: Pieces) -> Iterator[Complaint]:
    """Yield what is missing for the service that is turned on."""
    feed = pieces.feed
    if feed is None or feed.use == "none" or feed.contact is not None:
        return
    if FEEDS[feed.use].needs_contact:
        yield Complaint(
            path=("feed", "use"),
            found=f'"{feed.use}" without a contact',
            allowed="this service together with contact = your e-mail address or web page",
            remedy="Its terms ask whom to write to when the program misbehaves; add the line.",
        )
