"""What the cook has set about forecasts."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlsplit

from suntrack import __version__

LOOPBACK = ("127.0.0.1", "localhost", "::1")
"""Where plain http is allowed: this computer itself, for trying things out."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FeedSettings:
    """Which feed is on, and how it is asked."""

    use: str = "none"
    """Name of the feed; `none` asks no network at all."""
    contact: str | None = None
    """How the service can reach whoever runs this: an e-mail address or a web page."""
    base_url: str | None = None
    """Asked instead of the feed's own host; loopback only."""

    @property
    def is_on(self) -> bool:
        """Whether any feed is asked."""
        return self.use != "none"

    @property
    def identification(self) -> str:
        """The words by which the program makes itself known."""
        return f"suntrack/{__version__}" + (f" ({self.contact})" if self.contact else "")


def is_loopback(url: str) -> bool:
    """Return whether a URL is plain http to this computer, and nothing but a host and port."""
    try:
        parts = urlsplit(url)
        _ = parts.port  # raises for a port that is none
    except ValueError:
        return False
    bare = not (parts.path.strip("/") or parts.query or parts.fragment or "@" in parts.netloc)
    return parts.scheme == "http" and parts.hostname in LOOPBACK and bare
