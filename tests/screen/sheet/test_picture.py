"""A picture of charts: whole in itself, and the ink where the numbers say."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime
from xml.etree import ElementTree

import numpy as np
import pytest
from charted_day import charts_on
from numpy.typing import NDArray
from png_reader import read_png

from suntrack.plan.records import DayPlan
from suntrack.screen.sheet.chart import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Chart
from suntrack.screen.sheet.picture import (
    ALL,
    CHART_NAMES,
    NOTHING,
    ROOM,
    chosen,
    picture_svg,
)
from suntrack.screen.sheet.png import WIDTH_PX, png_of
from suntrack.screen.sheet.style import LIGHT
from suntrack.units import Units

SVG = "{http://www.w3.org/2000/svg}"
NEAR = 40
"""How far a channel of a dot may be from its colour; edges are blurred."""


def read(plan: DayPlan, name: str = ALL, units: Units | None = None) -> ElementTree.Element:
    units = units or Units()
    return ElementTree.fromstring(picture_svg(plan, chosen(charts_on(plan), name), units))


def said(root: ElementTree.Element) -> str:
    return " ".join(text.text or "" for text in root.iter(f"{SVG}text"))


@pytest.mark.parametrize("name", [ALL, *CHART_NAMES])
def test_a_picture_has_the_charts_asked_for_and_says_what_it_is(
    skied_plan: DayPlan, name: str
) -> None:
    root = read(skied_plan, name)
    assert root.tag == f"{SVG}svg"
    wanted = {chart.title for chart in charts_on(skied_plan) if name in (ALL, chart.name)}
    captions = [t.text for t in root.iter(f"{SVG}text") if t.get("class") == "caption"]
    assert sorted(captions) == sorted(wanted)  # type: ignore[type-var]
    words = said(root)
    for part in (
        "Gaborone, Wednesday 25 November 2026",
        "Data from the weather office",
        "does not follow the sky",
        "food thermometer",
        "local food authority",
    ):
        assert part in words
    ids = {each.get("id") for each in root.iter() if each.get("id")}
    assert set((root.get("aria-labelledby") or "").split()) == ids


def test_it_needs_nothing_from_elsewhere_and_no_style_variable(skied_plan: DayPlan) -> None:
    svg = picture_svg(skied_plan, charts_on(skied_plan), Units())
    for word in ("var(", "url(", "href", "@import", "<script", "<image"):
        assert word not in svg
    assert re.findall(r"https?://\S+?(?=\")", svg) == ["http://www.w3.org/2000/svg"]


def test_a_day_without_curves_says_so(plan: DayPlan) -> None:
    assert NOTHING in said(ElementTree.fromstring(picture_svg(plan, (), Units())))


def test_what_others_wrote_cannot_become_markup(plan: DayPlan) -> None:
    strange = replace(plan, site_name="<script>alert(1)</script> & Śārada's \u2600")
    root = read(strange)
    assert root.find(f".//{SVG}script") is None
    assert "alert(1)" in said(root)


def test_every_line_of_text_is_on_the_picture(skied_plan: DayPlan) -> None:
    """Letters of 11 units are at most 0.6 of that wide on average in wide sans serifs."""
    long = replace(skied_plan, site_name="The courtyard behind the bakery by the river " * 3)
    for text in read(long).iter(f"{SVG}text"):
        if text.get("class") in ("quiet", "said", "yes", "no"):
            size = 13.0 if text.get("class") in ("yes", "no") else 11.0
            assert len(text.text or "") * 0.55 * size <= WIDTH + 2.0 * ROOM


def top_of_chart(root: ElementTree.Element) -> float:
    """Return how far down the only chart begins."""
    for group in root.iter(f"{SVG}g"):
        if any(path.get("class") == "grid" for path in group.iter(f"{SVG}path")):
            found = re.fullmatch(r"translate\(\S+ (\S+)\)", group.get("transform") or "")
            assert found is not None
            return float(found[1])
    raise AssertionError("no chart")


def dots_of(png: bytes, colour: str, *, near: int = NEAR) -> NDArray[np.bool_]:
    """Return where a picture has nearly a colour."""
    wanted = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])
    return np.asarray((np.abs(read_png(png).dots[:, :, :3] - wanted) < near).all(axis=2))


def where(chart: Chart, at: datetime, value: float, top: float) -> tuple[float, float]:
    """Return the column and the row of a value, by the geometry of the chart.  [px]"""
    scale = WIDTH_PX / (WIDTH + 2.0 * ROOM)
    across = (at - chart.starts_at) / (chart.ends_at - chart.starts_at)
    up = (value - chart.low) / (chart.high - chart.low)
    x = ROOM + LEFT + across * (WIDTH - LEFT - RIGHT)
    y = top + HEIGHT - BOTTOM - up * (HEIGHT - BOTTOM - TOP)
    return x * scale, y * scale


@pytest.mark.parametrize(("name", "role"), [("box", "loaded"), ("sun", "sun"), ("light", "top")])
def test_the_ink_is_where_the_curve_is(plan: DayPlan, name: str, role: str) -> None:
    """In the column of each sample the coloured dots are around its value, and nowhere else."""
    (chart,) = chosen(charts_on(plan), name)
    (curve,) = (each for each in chart.curves if each.role == role)
    svg = picture_svg(plan, (chart,), Units())
    dots, top = dots_of(png_of(svg), LIGHT[role]), top_of_chart(ElementTree.fromstring(svg))
    plot = dots[: int(where(chart, chart.starts_at, chart.low, top)[1]) + 4]
    steep = 0
    for i in range(2, len(curve.at) - 2):
        column, row = where(chart, curve.at[i], curve.values[i], top)
        found = np.nonzero(plot[:, round(column)])[0]
        near = [where(chart, curve.at[j], curve.values[j], top)[1] for j in (i - 1, i + 1)]
        steep = max(steep, round(max(abs(each - row) for each in near)))
        assert found.size, (name, i)
        assert abs(found.mean() - row) <= 4.0, (name, i)
    assert steep > 4, "a curve that moves, or the check could not fail"


def test_the_band_is_between_its_edges(skied_plan: DayPlan) -> None:
    (chart,) = chosen(charts_on(skied_plan), "box")
    (band,) = (each for each in chart.curves if each.role == "band")
    svg = picture_svg(skied_plan, (chart,), Units())
    # Pale, and so are the lines of the hours: only the colour itself counts.
    dots = dots_of(png_of(svg), LIGHT["band"], near=4)
    top = top_of_chart(ElementTree.fromstring(svg))
    middle = len(band.at) // 2
    column, high = where(chart, band.at[middle], band.values[middle], top)
    low = where(chart, band.at[middle], band.lows[middle], top)[1]
    found = np.nonzero(dots[: int(top + HEIGHT - BOTTOM) * 3, round(column)])[0]
    assert found.min() == pytest.approx(high, abs=3.0)
    assert found.max() == pytest.approx(low, abs=3.0)
    assert found.size > 0.6 * (low - high), "all but the lines drawn over it"
