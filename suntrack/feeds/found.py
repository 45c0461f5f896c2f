"""What a feed's module brings back, and what HTTP says of how long it is good for."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from suntrack.feeds.request import http_date

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping

    from suntrack.feeds.wire import Reply
    from suntrack.sky.forecast import Forecast


LONGEST_FRESH = timedelta(hours=6)
"""No answer is taken as fresh for longer, whatever its headers say (our choice)."""
MOST_SKEW = timedelta(minutes=10)
"""A clock further off than this is told to the cook (our choice)."""


WORDS: Mapping[str, str] = {
    "global_horizontal_w_m2": "sunlight",
    "beam_normal_w_m2": "direct sunlight",
    "diffuse_horizontal_w_m2": "diffuse sunlight",
    "cloud": "cloud",
    "cloud_low": "cloud by height",
    "air_c": "air temperature",
    "wind_m_s": "wind",
    "gust_m_s": "gusts",
    "rain_chance": "chance of rain",
}
"""What a cook calls a field of the record that may be missing."""


def missing_note(fields: Mapping[str, object], expected: Iterable[str]) -> tuple[str, ...]:
    """Return a note of the fields that a feed was asked for and did not give; none for none."""
    missing = [WORDS[name] for name in expected if name not in fields]
    return (f"The feed gives no {', no '.join(missing)} this time.",) if missing else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """An answer, read."""

    forecast: Forecast | None
    """None when the feed says that nothing has changed."""
    memory: Mapping[str, str] = field(default_factory=dict)
    """What to know the next time: when the answer was last changed, where the grid is."""
    fresh_for: timedelta | None = None
    """How long the feed asks not to be asked again; None when it does not say."""


def fresh_for(reply: Reply) -> timedelta | None:
    """Return how long an answer is good for, by its own two clocks; None when it does not say.

    `Expires` is held against the server's `Date`, so that a wrong clock here does no harm
    (RFC 9111, 4.2.1: max-age counts before Expires).
    """
    age = re.search(r"(?:^|[\s,])max-age=(\d{1,9})", reply.headers.get("cache-control", ""))
    if age:
        return min(timedelta(seconds=int(age[1])), LONGEST_FRESH)
    date, expires = (http_date(reply.headers.get(name)) for name in ("date", "expires"))
    if date is None or expires is None:
        return None
    return min(max(expires - date, timedelta(0)), LONGEST_FRESH)


def changed_at(reply: Reply) -> str | None:
    """Return Last-Modified exactly as it was sent; None when it lies after Date.

    A date from the future would keep the feed answering "nothing new" until then.
    """
    text = reply.headers.get("last-modified")
    changed, date = http_date(text), http_date(reply.headers.get("date"))
    if text is None or changed is None or (date is not None and changed > date):
        return None
    return text


def clock_note(reply: Reply, *, now: datetime) -> tuple[str, ...]:
    """Return a note when this computer's clock and the feed's do not agree."""
    date = http_date(reply.headers.get("date"))
    if date is None or abs(date - now) <= MOST_SKEW:
        return ()
    minutes = round(abs(date - now).total_seconds() / 60.0)
    way = "behind" if date > now else "ahead of"
    return (f"This computer's clock is {minutes} minutes {way} the feed's.",)
