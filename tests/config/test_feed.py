"""The weather service in the config: off by default, one line on, mistakes told."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import urljoin

import pytest
import requests
from hypothesis import given, settings
from hypothesis import strategies as st
from urllib3.util import parse_url

from suntrack import __version__
from suntrack.config.feed_settings import FeedSettings, is_loopback
from suntrack.config.feed_terms import FEEDS
from suntrack.config.model import FeedTable
from suntrack.config.reader import load_config
from suntrack.errors import InputError

EXAMPLE = Path(__file__).parents[2] / "config" / "suntrack.toml"


def with_feed(folder: Path, *lines: str) -> Path:
    text = EXAMPLE.read_text(encoding="utf-8")
    old = 'use = "none"'
    assert old in text
    path = folder / "mine.toml"
    path.write_text(text.replace(old, "\n".join((*lines, "#")), 1), encoding="utf-8")
    return path


def problems(path: Path) -> list[str]:
    with pytest.raises(InputError) as caught:
        load_config(path)
    return [str(problem) for problem in caught.value.problems]


def test_no_service_is_asked_by_default() -> None:
    feed = load_config(EXAMPLE).feed
    assert not feed.is_on
    assert feed == FeedSettings()


@pytest.mark.parametrize("use", ["open-meteo", "open-meteo-ensemble"])
def test_one_line_turns_a_service_on(tmp_path: Path, use: str) -> None:
    feed = load_config(with_feed(tmp_path, f'use = "{use}"')).feed
    assert feed.is_on
    assert feed.identification == f"suntrack/{__version__}"


@pytest.mark.parametrize("use", ["weather-gov", "met-norway"])
def test_a_service_that_wants_an_address_gets_one(tmp_path: Path, use: str) -> None:
    (problem,) = problems(with_feed(tmp_path, f'use = "{use}"'))
    assert "feed.use" in problem
    assert "without a contact" in problem
    contact = 'contact = "cook@courtyard.example"'
    feed = load_config(with_feed(tmp_path, f'use = "{use}"', contact)).feed
    assert feed.identification == f"suntrack/{__version__} (cook@courtyard.example)"


def test_the_config_knows_the_services_there_are() -> None:
    allowed = str(FeedTable.model_fields["use"].annotation)
    assert all(f"'{name}'" in allowed for name in (*FEEDS, "none"))
    assert allowed.count("'") == 2 * (len(FEEDS) + 1)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('use = "openmeteo"', '"open-meteo"'),
        ("use = true", '"none"'),
        ('use = "none"\ncontact = "me"', "e-mail address"),
        ('use = "none"\ncontact = "a (b) <c@d>"', "e-mail address"),
        ('use = "none"\ncontact = "c@d\\r\\nX-Evil: 1"', "e-mail address"),
        ('use = "none"\ncontact = "köchin@hof.example"', "e-mail address"),
        ('use = "none"\nbase_url = "https://api.example"', "this computer itself"),
        ('use = "none"\nbase_url = "http://192.0.2.1:8080"', "this computer itself"),
        ('use = "none"\nbase_url = "http://127.0.0.1:8080/path"', "this computer itself"),
        ('use = "none"\nbase_url = "http://me@127.0.0.1:8080"', "this computer itself"),
        ('use = "none"\nkey = "secret"', "base_url, contact, use"),
    ],
)
def test_mistakes_are_told_with_what_is_allowed(tmp_path: Path, line: str, said: str) -> None:
    (problem,) = problems(with_feed(tmp_path, line))
    assert "mine.toml:" in problem
    assert said in problem


def test_a_mistake_here_and_one_elsewhere_are_told_together(tmp_path: Path) -> None:
    path = with_feed(tmp_path, 'use = "met-norway"')
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("latitude = -24.65", "latitude = 100"), encoding="utf-8")
    assert len(problems(path)) == 2


@pytest.mark.parametrize(
    "url", ["http://127.0.0.1", "http://127.0.0.1:8080/", "http://localhost:1", "http://[::1]:80"]
)
def test_this_computer_may_be_asked_in_plain_http(url: str) -> None:
    assert is_loopback(url)


@given(
    st.sampled_from(["", "http://", "http://127.0.0.1", "http://127.0.0.1:", "http://localhost"]),
    st.text() | st.text("@:/\\?#.[]0189 \t\n%", max_size=8),
)
@settings(max_examples=500)
def test_what_passes_for_this_computer_is_this_computer_to_the_library_too(
    start: str, text: str
) -> None:
    """Two readers of one address may differ; the one that opens the socket decides."""
    url = start + text
    if is_loopback(url):
        prepared = requests.Request("GET", urljoin(url, "/v1")).prepare().url
        assert prepared is not None
        parsed = parse_url(prepared)
        assert (parsed.scheme, parsed.auth) == ("http", None)
        assert parsed.host in ("127.0.0.1", "localhost", "[::1]")
