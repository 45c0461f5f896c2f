"""One request over the network: encrypted, bounded in time and size, and never led astray."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Protocol
from urllib.parse import urljoin, urlsplit

from suntrack.clock import Clock, SystemClock
from suntrack.config.feed_settings import is_loopback
from suntrack.errors import FeedError

if TYPE_CHECKING:
    from collections.abc import Mapping

    import requests

REDIRECTS = (301, 302, 303, 307, 308)
MOST_REDIRECTS = 3
CHUNK_BYTES = 65536


@dataclass(frozen=True, slots=True, kw_only=True)
class Request:
    """What to ask."""

    path: str
    """From the root of the feed's host."""
    params: Mapping[str, str] = field(default_factory=dict)
    """What stands behind the question mark."""
    headers: Mapping[str, str] = field(default_factory=dict)
    """Who asks, and since when."""
    weight: float = 1.0
    """How many requests the feed counts it for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reply:
    """What came back, whole."""

    status: int
    """The number HTTP answers with."""
    headers: Mapping[str, str]
    """Names in lower case."""
    body: bytes
    """As it came."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """How long and how large an answer may be."""

    connect_s: float = 5.0
    """To be connected.  [s]"""
    read_s: float = 20.0
    """Longest silence."""
    whole_s: float = 30.0
    """Longest time for the whole answer, so that a trickle does not hold the program."""
    most_bytes: int = 8_000_000
    """A week of 31 members is under half a megabyte."""


HURRIED = Bounds(read_s=8.0, whole_s=12.0)
"""Where somebody waits for a plan and a forecast is at hand already."""


class Wire(Protocol):
    """What carries a request to a host and its answer back."""

    def get(self, origin: str, request: Request) -> Reply:
        """Return the answer, whatever its status; raise FeedError when there is none."""
        ...  # pragma: no cover


class NetworkWire:
    """The network itself."""

    def __init__(self, *, bounds: Bounds | None = None, clock: Clock | None = None) -> None:
        self._bounds = bounds or Bounds()
        self._clock = clock or SystemClock()

    def get(self, origin: str, request: Request) -> Reply:
        """Return the answer, whatever its status; raise FeedError when there is none."""
        import requests

        if not origin.startswith("https://") and not is_loopback(origin):
            raise FeedError(f"{origin} is not encrypted; it is not asked.", kind="refused")
        with requests.Session() as session:
            if is_loopback(origin):
                session.trust_env = False  # a proxy would look for this computer elsewhere
            return self._follow(session, origin, request)

    def _follow(self, session: requests.Session, origin: str, request: Request) -> Reply:
        """Ask, and follow redirects as long as they stay on the host."""
        url, params = urljoin(origin, request.path), dict(request.params)
        ends_s = self._clock.monotonic() + self._bounds.whole_s
        for _ in range(MOST_REDIRECTS + 1):
            reply = self._once(session, url, params, request.headers, ends_s)
            target = reply.headers.get("location")
            if reply.status not in REDIRECTS or target is None:
                return reply
            url, params = urljoin(url, target), {}
            if _origin(url) != _origin(origin):
                raise FeedError(
                    f"The feed sent us on to another host, {urlsplit(url).hostname};"
                    " we do not follow.",
                    kind="moved",
                )
        raise FeedError("The feed sends us round in circles.", kind="moved")

    def _once(
        self,
        session: requests.Session,
        url: str,
        params: dict[str, str],
        headers: Mapping[str, str],
        ends_s: float,
    ) -> Reply:
        import requests
        import urllib3

        try:
            with closing(
                session.get(
                    url,
                    params=params,
                    headers=dict(headers),
                    timeout=(self._bounds.connect_s, self._bounds.read_s),
                    allow_redirects=False,
                    stream=True,
                    auth=_no_password,
                )
            ) as response:
                body = self._body(response, ends_s)
                names = {name.lower(): value for name, value in response.headers.items()}
                return Reply(status=response.status_code, headers=names, body=body)
        except (requests.RequestException, urllib3.exceptions.HTTPError) as error:
            raise _fault_of(error) from error

    def _body(self, response: requests.Response, ends_s: float) -> bytes:
        """Return the body, read as it comes so that neither size nor time runs away."""
        body = bytearray()
        while True:
            part = response.raw.read1(CHUNK_BYTES, decode_content=True)
            if not part:
                return bytes(body)
            body += part
            if len(body) > self._bounds.most_bytes:
                size = self._bounds.most_bytes / 1e6
                raise broken(f"The answer is larger than {size:g} MB; no forecast is.")
            if self._clock.monotonic() > ends_s:
                raise _slow()


def _no_password(request: requests.PreparedRequest) -> requests.PreparedRequest:
    """Send no password; without this, one from the user's .netrc would go along."""
    return request


def _origin(url: str) -> tuple[str, str | None, int | None]:
    parts = urlsplit(url)
    return parts.scheme, parts.hostname, parts.port


def _slow() -> FeedError:
    return FeedError("The feed takes too long to answer.", kind="slow", again=True)


def _fault_of(error: Exception) -> FeedError:
    """Return the library's exception as ours."""
    import requests
    import urllib3

    if isinstance(error, requests.exceptions.SSLError):
        return FeedError(
            "The encryption of the feed's host cannot be trusted; is the computer's clock right?",
            kind="refused",
        )
    if isinstance(error, requests.Timeout | urllib3.exceptions.TimeoutError):
        return _slow()
    if isinstance(error, requests.ConnectionError):
        return FeedError("The feed cannot be reached; is there a network?", kind="offline")
    if isinstance(error, urllib3.exceptions.HTTPError | requests.exceptions.ChunkedEncodingError):
        return broken("The answer broke off in the middle.", again=True)
    return FeedError(f"The feed cannot be asked ({type(error).__name__}).", kind="refused")


def content(message: str) -> FeedError:
    """Return the error of an answer that can be read and must not be used."""
    return FeedError(message, kind="content")


def broken(message: str, *, again: bool = False) -> FeedError:
    """Return the error of an answer that cannot be read."""
    return FeedError(message, kind="broken", again=again)
