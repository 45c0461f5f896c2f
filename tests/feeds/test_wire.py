"""One request over a real socket: bounded in time and size, never led astray."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import requests

from suntrack.errors import FeedError
from suntrack.feeds.wire import Bounds, NetworkWire, Request

SHORT = Bounds(connect_s=2.0, read_s=0.3, whole_s=0.5, most_bytes=1000)


def failure(origin: str, bounds: Bounds = SHORT) -> FeedError:
    with pytest.raises(FeedError) as caught:
        NetworkWire(bounds=bounds).get(origin, Request(path="/v1"))
    return caught.value


def test_an_answer_comes_back_whole(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(status=418, body=b"tea", headers={"X-Kind": "pot"}))
    request = Request(path="/v1", params={"a": "1,2"}, headers={"User-Agent": "suntrack/0 (me)"})
    reply = NetworkWire(bounds=SHORT).get(server.url, request)
    assert (reply.status, reply.body, reply.headers["x-kind"]) == (418, b"tea", "pot")
    (seen,) = server.seen
    assert (seen.path, seen.query) == ("/v1", {"a": ["1,2"]})
    assert seen.headers["User-Agent"] == "suntrack/0 (me)"
    assert "gzip" in seen.headers["Accept-Encoding"]


def test_a_packed_answer_is_unpacked(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(body=gzip.compress(b"fair"), headers={"Content-Encoding": "gzip"}))
    assert NetworkWire(bounds=SHORT).get(server.url, Request(path="/")).body == b"fair"


def test_silence_ends_after_its_time(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(manner="silent"))
    error = failure(server.url)
    assert (error.kind, error.again) == ("slow", True)


def test_a_trickle_ends_after_its_time(server: Any, answer: Callable[..., Any]) -> None:
    """A byte every hundredth of a second is never silent, and would take ten seconds."""
    server.say(answer(body=b"x" * 900, manner="trickle"))
    assert failure(server.url).kind == "slow"


def test_a_huge_answer_is_cut_off(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(body=b"x" * 100_000))
    assert "larger" in failure(server.url).message


def test_a_small_answer_that_unpacks_huge_is_cut_off(
    server: Any, answer: Callable[..., Any]
) -> None:
    packed = gzip.compress(b"0" * 50_000_000)
    server.say(answer(body=packed, headers={"Content-Encoding": "gzip"}))
    assert "larger" in failure(server.url, Bounds(most_bytes=100_000)).message


def test_an_answer_that_breaks_off_may_be_asked_for_again(
    server: Any, answer: Callable[..., Any]
) -> None:
    server.say(answer(body=b'{"hourly": {', manner="cut"))
    error = failure(server.url)
    assert (error.kind, error.again) == ("broken", True)


def test_a_packed_answer_that_is_no_such_thing_is_broken(
    server: Any, answer: Callable[..., Any]
) -> None:
    server.say(answer(body=b"plain", headers={"Content-Encoding": "gzip"}))
    assert failure(server.url).kind == "broken"


def test_another_host_is_not_followed(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(status=302, headers={"Location": "http://192.0.2.1/steal"}))
    error = failure(server.url)
    assert error.kind == "moved"
    assert "192.0.2.1" in error.message
    assert len(server.seen) == 1


def test_another_port_is_another_host(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(status=302, headers={"Location": "http://127.0.0.1:9/"}))
    assert failure(server.url).kind == "moved"


def test_the_same_host_is_followed(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(status=301, headers={"Location": "/v2?b=2"}), answer(body=b"here"))
    reply = NetworkWire(bounds=SHORT).get(server.url, Request(path="/v1", params={"a": "1"}))
    assert reply.body == b"here"
    assert [(seen.path, seen.query) for seen in server.seen][1] == ("/v2", {"b": ["2"]})


def test_circles_end(server: Any, answer: Callable[..., Any]) -> None:
    server.say(answer(status=302, headers={"Location": "/v1"}))
    assert "circles" in failure(server.url).message
    assert len(server.seen) == 4


def test_nobody_there_is_told_as_such() -> None:
    """Port 9, discard, has no listener on any machine of ours."""
    error = failure("http://127.0.0.1:9")
    assert (error.kind, error.again) == ("offline", False)


def test_plain_http_to_a_real_host_is_not_asked() -> None:
    assert "not encrypted" in failure("http://api.example").message


def test_a_password_of_the_user_stays_at_home(
    server: Any, answer: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The library would send what a .netrc has for the host.

    For this computer the user's settings are not read at all; here they are, as for any host.
    """

    class Trusting(requests.Session):
        trust_env = property(lambda self: True, lambda self, value: None)

    monkeypatch.setattr(requests, "Session", Trusting)
    monkeypatch.setenv("NO_PROXY", "127.0.0.1")
    netrc = tmp_path / "netrc"
    netrc.write_text("default login cook password secret\n", encoding="utf-8")
    netrc.chmod(0o600)
    monkeypatch.setenv("NETRC", str(netrc))
    server.say(answer(body=b"{}"))
    NetworkWire(bounds=SHORT).get(server.url, Request(path="/"))
    assert "Authorization" not in server.seen[0].headers


def test_a_proxy_is_not_asked_for_this_computer(
    server: Any, answer: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HTTP_PROXY", "http://127.0.0.1:9")
    monkeypatch.delenv("NO_PROXY", raising=False)
    server.say(answer(body=b"{}"))
    assert NetworkWire(bounds=SHORT).get(server.url, Request(path="/")).status == 200
