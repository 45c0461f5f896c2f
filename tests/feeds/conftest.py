"""A weather service on this computer: a real HTTP server that answers as it is told."""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import numpy as np
import pytest

from suntrack.config.feed_settings import FeedSettings
from suntrack.config.reader import Config, load_config
from suntrack.feeds.request import Tools
from suntrack.feeds.wire import Bounds, NetworkWire
from suntrack.sky.site import Site, TypicalAir
from suntrack.sky.sun import sun_table

ROOT = Path(__file__).parents[2]
SHARED = Path(os.environ.get("SUNTRACK_SHARED", ROOT.parent / "shared"))
PAYLOADS = SHARED / "feeds" / "payloads"


@dataclass
class Answer:
    """One answer of the server."""

    status: int = 200
    body: bytes = b""
    headers: dict[str, str] = field(default_factory=dict)
    manner: str = "whole"
    """whole; silent: says nothing; cut: stops in the middle; trickle: a byte at a time."""


@dataclass
class Seen:
    """One request as it arrived."""

    path: str
    query: dict[str, list[str]]
    headers: dict[str, str]


class Server:
    """Answers in the order given, the last one again and again, and keeps what it saw."""

    def __init__(self) -> None:
        self.answers: list[Answer] = []
        self.seen: list[Seen] = []
        self.closing = threading.Event()
        self._http = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self._http.told = self  # type: ignore[attr-defined]
        self._thread = threading.Thread(target=self._http.serve_forever, args=(0.01,), daemon=True)
        self._thread.start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self._http.server_address[1]}"

    def say(self, *answers: Answer) -> None:
        self.answers = list(answers)

    def say_json(self, data: Any, **headers: str) -> None:
        self.say(json_answer(data, **headers))

    def next(self) -> Answer:
        return self.answers.pop(0) if len(self.answers) > 1 else self.answers[0]

    def close(self) -> None:
        self.closing.set()
        self._http.shutdown()
        self._http.server_close()
        self._thread.join()


class Handler(BaseHTTPRequestHandler):
    """Speaks for the server that holds it."""

    def do_GET(self) -> None:
        told: Server = self.server.told  # type: ignore[attr-defined]
        parts = urlsplit(self.path)
        told.seen.append(Seen(parts.path, parse_qs(parts.query), dict(self.headers.items())))
        answer = told.next()
        self.close_connection = True
        if answer.manner == "silent":
            told.closing.wait(30)
            return
        self.send_response_only(answer.status)
        for name, value in answer.headers.items():
            self.send_header(name, value)
        more = 100 if answer.manner == "cut" else 0
        self.send_header("Content-Length", str(len(answer.body) + more))
        self.end_headers()
        if answer.manner == "trickle":
            self._trickle(answer.body, told.closing)
        else:
            with suppress(OSError):  # a client that has heard enough goes away
                self.wfile.write(answer.body)

    def _trickle(self, body: bytes, closing: threading.Event) -> None:
        with suppress(OSError):
            for byte in body:
                if closing.wait(0.01):
                    return
                self.wfile.write(bytes([byte]))

    def log_message(self, *args: Any) -> None:
        """Say nothing."""


def json_answer(data: Any, **headers: str) -> Answer:
    named = {name.replace("_", "-"): value for name, value in headers.items()}
    return Answer(
        body=json.dumps(data).encode(), headers={"Content-Type": "application/json", **named}
    )


@pytest.fixture
def server() -> Iterator[Server]:
    it = Server()
    yield it
    it.close()


@pytest.fixture(scope="session")
def answer() -> Callable[..., Answer]:
    return Answer


@pytest.fixture(scope="session")
def in_json() -> Callable[..., Answer]:
    return json_answer


def place(latitude_deg: float, longitude_deg: float, elevation_m: float, zone: str) -> Site:
    return Site(
        name="test",
        latitude_deg=latitude_deg,
        longitude_deg=longitude_deg,
        elevation_m=elevation_m,
        time_zone=zone,
        typical_air=(TypicalAir(low_c=10.0, high_c=25.0),) * 12,
    )


@pytest.fixture(scope="session")
def golden() -> Site:
    """Return NREL SRRL, where the light of the kept answers was measured."""
    return place(39.742, -105.179, 1829.0, "America/Denver")


@pytest.fixture(scope="session")
def tallahassee() -> Site:
    """Return the grid cell of the kept answers of the US service, off the coast of Florida."""
    return place(30.0, -85.0, 2.0, "America/New_York")


@pytest.fixture(scope="session")
def payload() -> Callable[[str], Any]:
    """Return a kept answer; the test is skipped where they are absent."""

    def read(name: str) -> Any:
        path = PAYLOADS / name
        if not path.exists():
            pytest.skip(f"the recorded answers are not here: {path}")
        raw = path.read_bytes()
        return json.loads(raw) if name.endswith(".json") else raw

    return read


@pytest.fixture(scope="session")
def example() -> Config:
    return load_config(ROOT / "config" / "suntrack.toml")


@pytest.fixture
def config(example: Config, server: Server) -> Callable[..., Config]:
    """Return the example with a feed turned on, asked of the server here."""

    def make(use: str = "open-meteo", *, site: Site | None = None) -> Config:
        feed = FeedSettings(use=use, contact="cook@courtyard.example", base_url=server.url)
        return replace(example, feed=feed, site=site or example.site)

    return make


@dataclass
class Hand:
    """What touches the world, in the hand of a test: waits are noted, dice lie still."""

    waits: list[float] = field(default_factory=list)

    def tools(self, bounds: Bounds | None = None, dice: float = 0.5) -> Tools:
        short = bounds or Bounds(connect_s=2.0, read_s=2.0, whole_s=5.0, most_bytes=2_000_000)
        return Tools(wire=NetworkWire(bounds=short), wait=self.waits.append, dice=lambda: dice)


@pytest.fixture
def hand() -> Hand:
    return Hand()


@pytest.fixture(scope="session")
def rows() -> Callable[..., dict[str, Any]]:
    """Return a small answer of our own making, in the form of Open-Meteo: a fair day."""

    def make(site: Site, first: datetime, *, hours: int = 96, share: float = 0.7) -> dict[str, Any]:
        stamps = [first + timedelta(hours=i) for i in range(hours)]
        middles = np.array([(at - timedelta(minutes=30)).timestamp() for at in stamps])
        table = sun_table(
            middles,
            latitude_deg=site.latitude_deg,
            longitude_deg=site.longitude_deg,
            elevation_m=site.elevation_m,
        )
        up = np.sin(np.radians(np.maximum(table.elevation_deg, 0.0)))
        beam, diffuse = share * 850.0 * (up > 0.0), share * 100.0 * up
        return {
            "latitude": site.latitude_deg,
            "longitude": site.longitude_deg,
            "utc_offset_seconds": 0,
            "timezone": "GMT",
            "elevation": site.elevation_m,
            "hourly_units": {
                "time": "unixtime",
                "shortwave_radiation": "W/m²",
                "direct_normal_irradiance": "W/m²",
                "diffuse_radiation": "W/m²",
                "cloud_cover": "%",
                "temperature_2m": "°C",
                "wind_speed_10m": "m/s",
                "wind_gusts_10m": "m/s",
                "precipitation_probability": "%",
            },
            "hourly": {
                "time": [int(at.timestamp()) for at in stamps],
                "shortwave_radiation": (beam * up + diffuse).round(1).tolist(),
                "direct_normal_irradiance": beam.tolist(),
                "diffuse_radiation": diffuse.round(1).tolist(),
                "cloud_cover": [40] * hours,
                "temperature_2m": [20.0 + i % 24 for i in range(hours)],
                "wind_speed_10m": [2.0] * hours,
                "wind_gusts_10m": [6.0] * hours,
                "precipitation_probability": [10] * hours,
            },
        }

    return make


@pytest.fixture(scope="session")
def noon() -> datetime:
    """Return the moment of most tests: noon in the courtyard."""
    return datetime(2026, 11, 25, 10, 0, tzinfo=UTC)
