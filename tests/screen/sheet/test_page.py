"""The day sheet: whole in itself, readable by ear, by night, on a phone and on one page.

Contrast is WCAG 2.2, success criteria 1.4.3 (texts, 4.5 to 1) and 1.4.11 (lines, 3 to 1), by
the definitions of "relative luminance" and "contrast ratio" given there.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from charted_day import charts_on, heavy

from suntrack.plan.records import DayPlan, Verdict
from suntrack.screen.sheet.fit import LEAST_PT, SIZES_PT, fitting
from suntrack.screen.sheet.page import amount_of, sheet_html
from suntrack.screen.sheet.style import DARK, LIGHT, LINES_ON, TEXT_ON
from suntrack.units import Units

VOID = {"meta", "input", "br", "link", "img", "hr", "path"}


class Reader(HTMLParser):
    """Reads a page as a stack of tags, and complains about one that is not closed."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.open: list[str] = []
        self.words: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop() == tag, f"</{tag}> closes something else"

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] not in ("style", "script"):
            self.words.append(data)

    def all(self, *names: str) -> list[dict[str, str]]:
        return [attrs for tag, attrs in self.tags if tag in names]


def luminance(colour: str) -> float:
    """Return the relative luminance of `#rrggbb` (WCAG 2.2, definitions)."""
    channels = (int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return sum(share * c for share, c in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_the_known_values() -> None:
    """Black on white is 21 to 1; #777777 just fails with 4.48 (WebAIM, from memory)."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_every_text_and_line_stands_out_from_its_ground(colours: Mapping[str, str]) -> None:
    for text, ground in TEXT_ON:
        assert contrast(colours[text], colours[ground]) >= 4.5, (text, ground)
    for line, ground in LINES_ON:
        assert contrast(colours[line], colours[ground]) >= 3.0, (line, ground)


def test_every_colour_used_is_one_of_those_checked(plan: DayPlan) -> None:
    html = sheet_html(plan, Units())
    assert set(re.findall(r"var\(--(\w+)\)", html)) <= set(LIGHT)
    assert set(LIGHT) == set(DARK)
    checked = {role for pair in (*TEXT_ON, *LINES_ON) for role in pair}
    # Areas and rules between rows carry nothing that is not said beside them.
    assert set(LIGHT) - checked == {"rule", "skyline"}


def test_the_page_is_whole_in_itself(skied_plan: DayPlan) -> None:
    html = sheet_html(skied_plan, Units(), charts=charts_on(skied_plan))
    page = Reader(html)
    assert page.open == []
    assert page.all("script", "link", "iframe", "img", "object", "form") == []
    assert "url(" not in html
    assert "@import" not in html
    assert not re.search(r"\b(src|href)=", html)
    assert not re.search(r"\bon\w+=", html)
    assert "default-src 'none'" in html


def test_a_screen_reader_finds_its_way(skied_plan: DayPlan) -> None:
    page = Reader(sheet_html(skied_plan, Units(), charts=charts_on(skied_plan)))
    assert page.all("html")[0]["lang"] == "en"
    assert len(page.all("h1")) == 1
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    assert all(section["aria-labelledby"] in ids for section in page.all("section"))
    assert all(head.get("scope") in ("col", "row") for head in page.all("th"))
    assert {box["id"] for box in page.all("input")} == {label["for"] for label in page.all("label")}
    drawings = page.all("svg")
    assert len(drawings) == 3
    for drawing in drawings:
        assert drawing["role"] == "img"
        assert set(drawing["aria-labelledby"].split()) <= set(ids)


def test_every_step_has_a_box_to_tick_and_every_dish_done_and_safe(plan: DayPlan) -> None:
    html = sheet_html(plan, Units())
    page = Reader(html)
    assert len(page.all("input")) == len(plan.steps)
    heads = re.findall(r'<th scope="col">(.*?)</th>', html)
    assert heads.index("Done") != heads.index("Safe heat")
    said = " ".join(page.words)
    for dish in plan.dishes:
        assert dish.name in said
    assert "Not safe in the box today" in said
    row = re.search(r"Chicken stew.*?</tr>", html)
    assert row is not None
    # In, done, safe heat, out, meal: it does not go in, and is never called safe.
    assert re.findall(r"<td>(.*?)</td>", row[0]) == ["-", "16:05", "-", "-", "18:30"]


def test_cautions_and_the_sky_stand_on_the_sheet(skied_plan: DayPlan) -> None:
    said = " ".join(Reader(sheet_html(skied_plan, Units())).words)
    for words in ("food thermometer", "local food authority", "Never look at the sun",
                  "Data from the weather office", "Gusts of up to"):  # fmt: skip
        assert words in said


def test_what_others_wrote_cannot_become_markup(plan: DayPlan) -> None:
    strange = replace(plan, site_name='<script>alert(1)</script> & "co"')
    html = sheet_html(strange, Units())
    assert "<script" not in html
    assert "&lt;script&gt;" in html


def test_units_and_clock_are_the_cooks(plan: DayPlan) -> None:
    html = sheet_html(plan, Units(temperature="F", clock="12"))
    assert "°F" in html
    assert "°C" not in html
    assert "8:10\N{NO-BREAK SPACE}am" in html


def test_a_day_without_anything_is_still_a_sheet(plan: DayPlan) -> None:
    verdict = Verdict(cook=False, chance=None, reason="The sun does not rise.")
    bare = replace(plan, box=(), dishes=(), steps=(), cautions=(), verdict=verdict)
    page = Reader(sheet_html(bare, Units()))
    assert page.open == []
    assert page.all("svg") == []
    assert "No steps." in page.words


def test_all_curves_stay_inside_their_charts(skied_plan: DayPlan) -> None:
    for chart in charts_on(skied_plan):
        for curve in chart.curves:
            for at, value in (*zip(curve.at, curve.values, strict=True),
                              *zip(curve.at, curve.lows, strict=False)):  # fmt: skip
                assert 46.0 <= chart.x(at) <= 354.0, (chart.name, curve.name)
                assert 8.0 - 1e-9 <= chart.y(value) <= 150.0 + 1e-9, (chart.name, curve.name)


def test_type_gets_smaller_before_the_curves_go_and_never_too_small(skied_plan: DayPlan) -> None:
    plans = (skied_plan, heavy(skied_plan), heavy(heavy(heavy(skied_plan))))
    fits = [fitting(amount_of(plan, Units(), charts=3)) for plan in plans]
    assert [fit.curves_apart for fit in fits] == [False, False, True]
    assert fits[0].size_pt > fits[1].size_pt >= LEAST_PT
    assert fits[2].size_pt == SIZES_PT[-1] == 5.5
