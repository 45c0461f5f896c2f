"""The box's sheet on a screen, in lines and for programs, from a real config's box."""

from __future__ import annotations

import io
import json
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rich.cells import cell_len

from suntrack.bench.box_report import BoxSheet
from suntrack.bench.hinge import SideAdvice
from suntrack.box.warnings import TooHot
from suntrack.commands.box import sheet_of
from suntrack.commands.context import Context
from suntrack.config.reader import load_config
from suntrack.screen.box_block import box_block
from suntrack.screen.box_plain import box_lines
from suntrack.screen.charset import Charset
from suntrack.screen.json.box import BOX_KEYS, box_json
from suntrack.screen.style import make_console
from suntrack.screen.text import box as box_words
from suntrack.screen.text.figures import (
    FRONT_NOTE,
    figure_rows,
    figures_notes,
    mirror_rise,
    place_words,
    power_words,
)
from suntrack.units import Units

ROOT = Path(__file__).parents[2]
METRIC = Units()
US = Units(temperature="F", length="in", mass="lb", clock="12")
ASCII = Charset(ascii=True)


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> BoxSheet:
    config = load_config(ROOT / "config" / "suntrack.toml")
    home = tmp_path_factory.mktemp("home")
    now = datetime(2026, 11, 25, 10, 30, tzinfo=config.site.zone)
    context = Context(config=config, now=now, asked_at=True, cache=home, data=home)
    return sheet_of(context, date(2026, 11, 25))


def solid(sheet: BoxSheet) -> BoxSheet:
    """Return the sheet as it is for a box without a mirror and without glass in front."""
    used = replace(sheet.used, front_panes_c=None, lost_w=sheet.used.lost_w | {"front": 0.0})
    return replace(
        sheet,
        hinge=None,
        mirror_deg=None,
        used=used,
        bare=used,
        sizes=replace(sheet.sizes, front_glass_m2=0.0, mirror_m2=0.0),
    )


def winged(sheet: BoxSheet) -> BoxSheet:
    """Return the sheet as it is for a box with side mirrors too."""
    sides = SideAdvice(angle_deg=126.0, light_kept=0.974, best_deg=120.0, without=0.891)
    return replace(sheet, sides=sides, sizes=replace(sheet.sizes, side_mirrors_m2=0.264))


def shown(sheet: BoxSheet, units: Units, width: int, *, ink: Charset) -> str:
    """Return what a terminal without colours shows."""
    stream = io.StringIO()
    console = make_console(stream, {"NO_COLOR": "1"}, width)
    console.print(box_block(sheet, units, width, ink=ink))
    return re.sub(r"\x1b\[[0-9;]*m", "", stream.getvalue())


def paths(value: Any, at: str = "") -> Iterator[str]:
    """Yield the path of every value that is not itself a table or a list."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from paths(each, f"{at}.{key}" if at else key)
    elif isinstance(value, list):
        for each in value:
            yield from paths(each, f"{at}[]")
    else:
        yield at


@settings(deadline=None, max_examples=30)
@given(width=st.integers(40, 200), units=st.sampled_from([METRIC, US]), ascii_only=st.booleans())
def test_no_line_is_wider_than_the_screen(
    sheet: BoxSheet, width: int, units: Units, ascii_only: bool
) -> None:
    for each in (sheet, solid(sheet)):
        said = shown(each, units, width, ink=Charset(ascii=ascii_only))
        assert max(cell_len(line) for line in said.splitlines()) <= width
        assert not ascii_only or said.isascii()


@pytest.mark.parametrize("width", [40, 80, 120])
def test_every_number_is_there_at_any_width(sheet: BoxSheet, width: int) -> None:
    said = " ".join(shown(sheet, METRIC, width, ink=Charset()).split())
    for _, value in box_words.size_rows(sheet, METRIC):
        assert value in said
    for still in (sheet.used, sheet.bare):
        for _, value in box_words.state_rows(still, METRIC):
            assert value in said
    for _, _, words in box_words.loss_rows(sheet.used):
        assert words in said
    for name, _, _ in figure_rows(sheet, METRIC):
        assert name in said
    assert "Our simulation, not a test in the sun." in said


def test_lines_say_what_the_screen_says_and_no_less(sheet: BoxSheet) -> None:
    lines = box_lines(sheet, METRIC, ink=ASCII)
    assert all(line.isascii() and "\n" not in line for line in lines)
    text = " ".join(lines)
    for words in (box_words.FIRST_HEATING, box_words.FOOD_NOTE, box_words.INTRO, FRONT_NOTE):
        assert words in text
    cares = [line for line in lines if line.startswith("Take care: ")]
    # The hottest moment, each part that is too hot, first heating, cautions, food.
    assert len(cares) == 3 + len(sheet.hottest.too_hot) + len(sheet.cautions)


def test_a_box_without_mirror_and_front_speaks_of_neither(sheet: BoxSheet) -> None:
    """Its cautions still do, since they are those of the sheet it was made from."""
    bare = replace(solid(sheet), cautions=(), hottest=replace(sheet.hottest, too_hot=()))
    lines = box_lines(bare, METRIC)
    assert not [line for line in lines if "front" in line]
    assert FRONT_NOTE not in lines
    assert not [line for line in lines if line.startswith(("Mirror", "Size, mirror"))]
    assert mirror_rise(bare) is None
    assert "Rise with the mirror" not in shown(bare, METRIC, 80, ink=Charset())


def test_kitchens_get_their_own_units(sheet: BoxSheet) -> None:
    """0.0929 m2 to a square foot, 0.946 L to a quart, C x 1.8 + 32 (NIST SP 811, memory)."""
    said = " ".join(box_lines(sheet, US))
    assert " m²." not in said
    assert "°C" not in said
    assert box_words.area_text(0.09290304, US) == "1.00 ft²"
    assert box_words.thin_text(0.0254, US) == "1.00 in"
    assert box_words.room_text(0.946352946, US) == "1 qt"
    assert f"{sheet.used.lining_c * 1.8 + 32.0:.0f} °F" in said
    assert "10:30 am" in said
    # A difference has no zero point: 50 K are 90 F, not 122.
    assert "90 °F above the air" in said


@pytest.mark.parametrize(
    ("units", "degree", "above"), [(METRIC, "W/K", 50.0), (US, "W/°F", 90.0)], ids=["C", "F"]
)
def test_the_power_line_and_its_point_are_in_one_degree(
    sheet: BoxSheet, units: Units, degree: str, above: float
) -> None:
    """The line read back at 50 K, which is 90 F (NIST SP 811, memory), gives the point."""
    assert sheet.figures.power is not None
    said = power_words(sheet.figures.power, 2.0, units)
    point, still, slope = (float(one) for one in re.findall(r"(\d+(?:\.\d+)?) W", said))
    assert f"{degree} x difference" in said
    # Watts are printed whole and the slope to a hundredth.
    assert point == pytest.approx(still - slope * above, abs=1.0 + 0.005 * above)


@pytest.mark.parametrize(
    ("metres", "said"), [(0.006, "6 mm"), (0.0008, "0.8 mm"), (0.05, "50 mm"), (0.0127, "12.7 mm")]
)
def test_thin_layers_are_told_apart(metres: float, said: str) -> None:
    assert box_words.thin_text(metres, METRIC) == said


@pytest.mark.parametrize(
    ("value", "where"), [(0.1, "below"), (0.11, "inside"), (0.16, "inside"), (0.17, "above")]
)
def test_a_figure_is_placed_in_its_published_range(value: float, where: str) -> None:
    assert place_words(value, (0.11, 0.16)) == where


@pytest.mark.parametrize(("f1", "grade"), [(0.12, "A"), (0.1199, "B"), (0.11, "B"), (0.1, None)])
def test_the_first_figure_has_the_grade_of_the_standard(
    sheet: BoxSheet, f1: float, grade: str | None
) -> None:
    """IS 13429: A from 0.12, B from 0.11 K m2/W (memory)."""
    changed = replace(sheet, figures=replace(sheet.figures, f1_k_m2_w=f1))
    _, value, _ = figure_rows(changed, METRIC)[0]
    assert value.endswith(f"would be grade {grade}" if grade else "no grade")


def test_a_figure_that_is_missing_says_why(sheet: BoxSheet) -> None:
    cold = replace(sheet.figures, f2=None, f2_span_c=None, f2_heating_s=None, power=None)
    rows = figure_rows(replace(sheet, figures=cold), METRIC)
    assert [row[1].startswith("none: the water") for row in rows] == [False, True, True, False]
    no_pots = replace(cold, f2_water_kg=0.0, power_water_kg=0.0)
    rows = figure_rows(replace(sheet, figures=no_pots), METRIC)
    assert [row[1].startswith("none: no pot") for row in rows] == [False, True, True, False]


def test_a_sun_too_weak_for_the_standard_is_told(sheet: BoxSheet) -> None:
    """IS 13429 asks for 600 W/m2 or more on level ground (memory)."""
    weak = replace(sheet, sun=replace(sheet.sun, level_w_m2=590.0))
    assert any("too weak" in line for line in box_words.sun_lines(weak, METRIC))
    assert not any("too weak" in line for line in box_words.sun_lines(sheet, METRIC))


@pytest.mark.parametrize("kind", ["layer", "sealant", "glass"])
def test_what_is_too_hot_is_said_with_its_limit_and_a_way_out(kind: Any) -> None:
    limit = None if kind == "glass" else 100.0
    part = TooHot(kind=kind, part="top", reached_c=150.0, limit_c=limit, spoils="it chars")
    metric, us = (box_words.too_hot_words(part, units) for units in (METRIC, US))
    assert "150 °C" in metric
    assert "302 °F" in us
    assert limit is None or ("100 °C" in metric and "212 °F" in us)
    assert {"layer": "it chars", "sealant": "Use high", "glass": "Use tempered"}[kind] in metric


def test_bars_read_without_colour(sheet: BoxSheet) -> None:
    """Each bar stands beside its number, and is as long as its share."""
    lines = shown(sheet, METRIC, 80, ink=ASCII).splitlines()
    for way, share, words in box_words.loss_rows(sheet.used):
        (line,) = [line for line in lines if line.startswith(way) and "#" in line]
        assert line.count("#") == round(30 * share)
        assert line.endswith(words)


def test_shares_are_said_in_per_cent(sheet: BoxSheet) -> None:
    """Rounded one by one, four of them miss 100 by two at most."""
    said = [words.rsplit(", ", 1)[1] for _, _, words in box_words.loss_rows(sheet.used)]
    assert sum(int(each.removesuffix(" %")) for each in said) == pytest.approx(100, abs=2)


def test_every_key_is_listed_with_its_meaning_and_in_the_document(sheet: BoxSheet) -> None:
    """A table that is not there is null under its own name; else its keys are."""
    listed = set(BOX_KEYS)
    built = {key for key in listed if key.startswith("hinge.built.")}
    sides = {key for key in listed if key.startswith("side_mirrors.")}
    assert set(paths(box_json(sheet))) == listed - built - sides - {"hinge"}
    assert set(paths(box_json(winged(sheet)))) == listed - built - {"hinge", "side_mirrors"}
    assert {"hinge"} <= set(paths(box_json(solid(sheet)))) <= listed
    assert all(meaning.strip() for meaning in BOX_KEYS.values())


def test_json_is_standard_and_keeps_its_values(sheet: BoxSheet) -> None:
    """RFC 8259 has no NaN; instants carry the two hours that Gaborone is ahead of UTC."""
    data = box_json(sheet)
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert datetime.fromisoformat(data["at"]).utcoffset() == timedelta(hours=2)
    assert data["simulated"] is True
    for state in ("used", "bare", "hottest"):
        shares = [loss["share"] for loss in data[state]["losses"]]
        assert sum(shares) == pytest.approx(1.0, abs=2e-4)
    f1 = (data["bare"]["lining_c"] - data["sun"]["air_c"]) / data["sun"]["level_w_m2"]
    assert data["figures"]["f1_k_m2_w"] == pytest.approx(f1, abs=3e-4)
    line = data["figures"]
    p50_w = line["still_w"] - 50.0 * line["slope_w_k"]
    assert line["p50_w"] == pytest.approx(p50_w, abs=0.2)


def test_side_mirrors_are_told_on_both_screens(sheet: BoxSheet) -> None:
    """Angle and shares as they are in the advice, and an area in the cook's own unit."""
    many = winged(sheet)
    lines = box_lines(many, METRIC)
    block = shown(many, METRIC, 100, ink=ASCII)
    assert any(
        line.startswith("Side mirrors, as set") and "126°, keeps 97 %" in line for line in lines
    )
    assert "The side mirrors" in block
    assert "89 % of the light" in block
    assert "0.264 m²" in block.replace("m2", "m²")
    assert any("2.84 ft²" in line for line in box_lines(many, US))
    assert any(line.startswith("Rise with all mirrors") for line in lines)
    assert not any("ide mirror" in line for line in box_lines(sheet, METRIC))


def test_side_mirrors_alone_are_mirrors_too(sheet: BoxSheet) -> None:
    """Without a mirror at the back there are still two states, and a rise with mirrors."""
    alone = replace(winged(sheet), hinge=None, mirror_deg=None)
    assert box_words.used_head(alone) == "sides 126°"
    assert mirror_rise(alone) == mirror_rise(sheet)
    assert "sides 126" in shown(alone, METRIC, 80, ink=ASCII)


def test_figures_of_a_box_without_mirrors_speak_of_none(sheet: BoxSheet) -> None:
    plain = replace(sheet, sides=None, sizes=replace(sheet.sizes, mirror_m2=0.0))
    assert "mirror" not in " ".join(figures_notes(plain, Units()))
    one = replace(plain, sizes=replace(sheet.sizes, mirror_m2=0.26))
    assert "without the mirror" in " ".join(figures_notes(one, Units()))
