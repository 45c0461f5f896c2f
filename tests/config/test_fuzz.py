"""The config, attacked: whatever is written, the answer is a config or a report."""

from __future__ import annotations

import re
import tempfile
from datetime import date, datetime, time, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from suntrack.config.reader import Config, load_config
from suntrack.errors import InputError

EXAMPLE = (Path(__file__).parents[2] / "config" / "suntrack.toml").read_text(encoding="utf-8")
LINES = EXAMPLE.splitlines()
KEYS = [i for i, line in enumerate(LINES) if re.match(r"[a-z_]+ = ", line)]
HEADERS = [i for i, line in enumerate(LINES) if line.startswith("[")]

WILD = [
    "nan", "-inf", "1e400", "-0.0", "true", "9" * 5000, "0x10", "[]", "[[1]]", "{}", "{ a = 1 }",
    '""', '"  "', '"0 cm"', '"1/0 in"', '"-1 cm"', '"1 cm"', '"99999 F"', '"24:00"', '"\\u0000"',
    '"\\u202e5 kg"', '"' + "9" * 500 + ' kg"', '["0:00-24:00"]', '["9:00-9:00"]', '[""]', '["x"]',
    "1979-05-27", "07:32:00", '"\u0663 m"', "'''\n30 cm\n'''", '"nowhere/else.toml"', '"."',
]  # fmt: skip


def load(text: str) -> Config:
    """Return the config of a text, by way of a file."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "mine.toml"
        path.write_text(text, encoding="utf-8")
        return load_config(path)


def problems(text: str) -> list[str]:
    """Return what is wrong with a text, each in four full pieces; nothing when it loads."""
    try:
        load(text)
    except InputError as error:
        for problem in error.problems:
            assert all((problem.where, problem.found, problem.allowed, problem.remedy))
            assert "mine.toml" in problem.where or "mine.toml" in problem.remedy
        return [str(problem) for problem in error.problems]
    return []


slow = settings(deadline=None, suppress_health_check=list(HealthCheck))


@slow
@given(
    values=st.dictionaries(st.sampled_from(KEYS), st.sampled_from(WILD), max_size=4),
    gone=st.sets(st.sampled_from(KEYS + HEADERS), max_size=2),
    twice=st.sets(st.sampled_from(KEYS + HEADERS), max_size=1),
    include=st.sampled_from(["", *WILD]),
)
def test_no_edit_of_the_example_ends_in_a_traceback(
    values: dict[int, str], gone: set[int], twice: set[int], include: str
) -> None:
    text = ""
    for i, line in enumerate(LINES):
        if i in gone:
            continue
        changed = f"{line.split(' = ')[0]} = {values[i]}" if i in values else line
        text += f"{changed}\n" * (2 if i in twice else 1)
    if include:
        text += f"[include]\nsite = {include}\n"
    found = problems(text)
    assert len(found) == len(set(found)), "told twice"


@slow
@given(content=st.binary(max_size=60))
def test_no_bytes_at_all_end_in_a_traceback(content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "mine.toml"
        path.write_bytes(content)
        with pytest.raises(InputError):
            load_config(path)


def replaced(**values: str) -> str:
    """Return the example with the first line of each key replaced; each key has to be there."""
    text = EXAMPLE
    for key, value in values.items():
        text, count = re.subn(
            rf"^{key} = .*$", f"{key} = {value}", text, count=1, flags=re.MULTILINE
        )
        assert count == 1, key
    return text


@slow
@given(
    width_cm=st.integers(35, 200),
    depth_eighths_in=st.integers(8 * 12, 8 * 60),
    latitude=st.floats(-90.0, 90.0),
    elevation_ft=st.integers(-1400, 19000),
    threshold_f=st.integers(140, 350),
)
def test_sizes_are_read_as_they_were_written(
    width_cm: int, depth_eighths_in: int, latitude: float, elevation_ft: int, threshold_f: int
) -> None:
    """1 in is 0.0254 m and 1 ft is 0.3048 m exactly (yard and pound agreement, 1959)."""
    whole, eighths = divmod(depth_eighths_in, 8)
    config = load(
        replaced(
            width=f'"{width_cm} cm"',
            depth=f'"{whole} {eighths}/8 in"',
            latitude=repr(latitude),
            elevation=f'"{elevation_ft} ft"',
            threshold=f'"{threshold_f}F"',
        )
    )
    assert config.box.width_m == pytest.approx(width_cm / 100.0)
    assert config.box.depth_m == pytest.approx(depth_eighths_in / 8 * 0.0254)
    assert config.site.latitude_deg == latitude
    assert config.site.elevation_m == pytest.approx(elevation_ft * 0.3048)
    assert config.threshold_c == pytest.approx((threshold_f - 32) * 5 / 9)


minutes = st.integers(0, 24 * 60 - 1)


def written(minute: int) -> str:
    return f"{minute // 60}:{minute % 60:02d}"


@slow
@given(
    marks=st.lists(minutes, min_size=2, max_size=8, unique=True).map(sorted),
    serve=minutes,
    on=st.dates(date(2026, 1, 1), date(2027, 12, 31)),
    to_midnight=st.booleans(),
)
def test_hours_are_read_as_they_were_written(
    marks: list[int], serve: int, on: date, to_midnight: bool
) -> None:
    """Gaborone keeps one offset, so the wall clock and the minutes since midnight agree."""
    stretches = [(marks[i], marks[i + 1]) for i in range(0, len(marks) - 1, 2)]
    if to_midnight:
        stretches[-1] = (stretches[-1][0], 24 * 60)
    config = load(
        replaced(
            free="[" + ", ".join(f'"{written(a)}-{written(b)}"' for a, b in stretches) + "]",
            serve=f'"{written(serve)}"',
        )
    )
    midnight = datetime.combine(on, time(0, 0), tzinfo=config.site.zone)
    free = [(hours.starts_at, hours.ends_at) for hours in config.free_on(on)]
    assert free == [
        (midnight + timedelta(minutes=a), midnight + timedelta(minutes=b)) for a, b in stretches
    ]
    assert config.wishes_on(on)[0].serve_at == midnight + timedelta(minutes=serve)
    assert load(replaced(serve=f'"{written(serve)}"')).fingerprint != config.fingerprint


@slow
@given(
    points=st.dictionaries(st.integers(0, 360), st.integers(0, 90), max_size=12),
    in_order=st.booleans(),
)
def test_a_skyline_is_taken_in_order_and_refused_out_of_it(
    points: dict[int, int], in_order: bool
) -> None:
    order = sorted(points) if in_order else list(points)
    text = re.sub(r"\[\[site\.skyline\]\]\n.*\n.*\n", "", EXAMPLE)
    rows = ", ".join(f'{{ azimuth = "{a} deg", height = "{points[a]}" }}' for a in order)
    text = text.replace("[site.air]", f"skyline = [{rows}]\n[site.air]", 1)
    if order == sorted(order):
        skyline = load(text).site.skyline
        assert skyline.azimuth_deg == tuple(order)
        assert skyline.height_deg == tuple(points[a] for a in order)
    else:
        falls = [i for i in range(1, len(order)) if order[i] < order[i - 1]]
        found = problems(text)
        assert len(found) == len(falls)
        assert all(f"skyline.{i + 1}.azimuth" in said for i, said in zip(falls, found, strict=True))
