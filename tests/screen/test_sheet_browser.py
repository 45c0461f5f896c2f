"""The day sheet in a real browser: on paper, on a phone, by day and by night.

Rules: WCAG 2.2, success criteria 1.3.1 (structure), 1.4.3 (contrast, 4.5 to 1), 1.4.10 (reflow),
2.5.8 (targets of 24 CSS pixels), 4.1.2 (names).  Colours and sizes are those that the browser
has computed, not those of our own tables.
"""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import replace
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from charted_day import charts_on, heavy

from suntrack.plan.records import DayPlan
from suntrack.screen.sheet.page import POLICY, sheet_html
from suntrack.screen.text import day as words
from suntrack.units import Units

CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser"))), None)
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
PHONE_PX = 360
"""Narrower than nearly every phone in use (common practice, no source)."""
SCHEMES = {"light": 1, "dark": 0}
"""What the browser's own switch calls them."""
AUDIT = """
const lum=c=>{const v=c.map(x=>{x/=255;return x<=.04045?x/12.92:((x+.055)/1.055)**2.4});
  return .2126*v[0]+.7152*v[1]+.0722*v[2]};
const rgb=s=>(s.match(/[\\d.]+/g)||[]).map(Number);
const ground=e=>{for(;e;e=e.parentElement){const c=rgb(getComputedStyle(e).backgroundColor);
  if(c.length&&(c.length<4||c[3]>0))return c.slice(0,3)}return [255,255,255]};
const ratio=(a,b)=>{const [x,y]=[lum(a),lum(b)].sort((p,q)=>q-p);return (x+.05)/(y+.05)};
const walker=document.createTreeWalker(document.querySelector("main"),NodeFilter.SHOW_TEXT);
let least=99,where="",small=99,node;
while(node=walker.nextNode()){const e=node.parentElement;
  if(!node.data.trim()||["STYLE","SCRIPT","TITLE","DESC","title","desc"].includes(e.tagName))continue;
  const style=getComputedStyle(e),svg=e.closest("svg");
  const r=ratio(rgb(svg?style.fill:style.color).slice(0,3),ground(e));
  if(r<least){least=r;where=node.data}
  const scale=svg?svg.clientWidth/svg.viewBox.baseVal.width:1;
  small=Math.min(small,scale*parseFloat(style.fontSize))}
const boxes=[...document.querySelectorAll("input")];
const told={least,where,small,
  headings:[...document.querySelectorAll("h1,h2,h3,h4,h5,h6")].map(h=>+h.tagName[1]),
  mains:document.querySelectorAll("main").length,
  named:[...document.querySelectorAll("section")].every(s=>
    document.getElementById(s.getAttribute("aria-labelledby"))?.textContent.trim()),
  labels:boxes.map(b=>[...b.labels].map(l=>l.textContent.trim()).join(" ")),
  targets:Math.min(...boxes.map(b=>Math.min(b.offsetWidth,b.offsetHeight))),
  pictures:[...document.querySelectorAll("svg")].map(s=>s.getAttribute("role")==="img"&&
    s.getAttribute("aria-labelledby").split(" ").every(i=>
      document.getElementById(i).textContent.trim())),
  heads:[...document.querySelectorAll("th")].every(t=>["row","col"].includes(t.scope)),
  wide:document.documentElement.scrollWidth,seen:document.documentElement.clientWidth};
document.title="AUDIT"+JSON.stringify(told)+"END";
parent.document.title=document.title;
"""


def browse(home: Path, *words: str) -> str:
    assert CHROMIUM is not None
    return subprocess.run(
        [CHROMIUM, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
         "--allow-file-access-from-files", f"--user-data-dir={home / 'browser'}", *words],
        capture_output=True, text=True, check=True, timeout=120,
    ).stdout  # fmt: skip


def audited(home: Path, html: str, *, width: int, scheme: str) -> Mapping[str, Any]:
    """Return what a browser finds on a page of a width; the frame makes it as narrow as a phone."""
    assert POLICY in html
    page = html.replace(POLICY, "").replace("</body>", f"<script>{AUDIT}</script></body>")
    (home / "sheet.html").write_text(page, encoding="utf-8")
    frame = home / "frame.html"
    frame.write_text(
        f'<!doctype html><title>none</title><iframe src="sheet.html" style="width:{width}px;'
        'height:900px;border:0"></iframe>',
        encoding="utf-8",
    )
    shown = browse(
        home,
        f"--blink-settings=preferredColorScheme={SCHEMES[scheme]}",
        "--dump-dom",
        frame.as_uri(),
    )
    found = re.search(r"<title>AUDIT(.*)END</title>", shown, re.DOTALL)
    assert found is not None, shown[-600:]
    told: Mapping[str, Any] = json.loads(unescape(found[1]))
    return told


@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("width", [PHONE_PX, 1200])
def test_a_sheet_can_be_read_by_eye_and_by_ear(
    width: int, scheme: str, tmp_path: Path, skied_plan: DayPlan
) -> None:
    html = sheet_html(skied_plan, Units(clock="12"), charts=charts_on(skied_plan))
    told = audited(tmp_path, html, width=width, scheme=scheme)
    assert told["least"] >= 4.5, told["where"]
    # On a wide page three curves share a row, and their letters are as small as on a map.
    assert told["small"] >= (12.0 if width == PHONE_PX else 9.0)
    assert told["wide"] <= told["seen"] <= width, "it has to be moved sideways"
    assert told["targets"] >= 24.0
    assert (told["mains"], told["headings"][0]) == (1, 1)
    assert all(b - a <= 1 for a, b in zip(told["headings"], told["headings"][1:], strict=False))
    assert told["headings"].count(1) == 1
    assert told["named"]
    assert told["heads"]
    assert told["pictures"] == [True, True, True]
    wanted = steps_of(skied_plan, Units(clock="12"))
    labels = [squeezed(label) for label in told["labels"]]
    assert all(label.startswith(want) for label, want in zip(labels, wanted, strict=True))


def test_the_audit_can_fail(tmp_path: Path, plan: DayPlan) -> None:
    """Pale text on white, seen as such; by night the page is dark, so it is the browser's own."""
    html = sheet_html(plan, Units())
    pale = html.replace("--ink:#1d1b19", "--ink:#dddddd", 1)
    assert audited(tmp_path, pale, width=800, scheme="light")["least"] < 2.0
    dark = audited(tmp_path, pale, width=800, scheme="dark")
    assert dark["least"] >= 4.5


def printed(home: Path, plan: DayPlan, size: str, units: Units) -> list[str]:
    """Return the text of each page on paper."""
    pypdf = pytest.importorskip("pypdf", reason="nothing to read pages with")
    html = sheet_html(plan, units, charts=charts_on(plan))
    assert html.count("@page{margin") == 1
    page, pdf = home / "sheet.html", home / "sheet.pdf"
    page.write_text(html.replace("@page{margin", f"@page{{size:{size};margin"), encoding="utf-8")
    browse(home, "--no-pdf-header-footer", f"--print-to-pdf={pdf}", page.as_uri())
    return [squeezed(page.extract_text()) for page in pypdf.PdfReader(pdf).pages]


def squeezed(text: str) -> str:
    """Return a text without blanks: lines end where they will."""
    return "".join(text.split())


def steps_of(plan: DayPlan, units: Units) -> list[str]:
    return [squeezed(words.step_words(step, plan, units)) for step in plan.steps]


@pytest.mark.parametrize("size", ["A4", "Letter"])
@pytest.mark.parametrize("day", ["plan", "skied_plan", "heavy"])
def test_it_prints_on_one_page(
    day: str, size: str, tmp_path: Path, request: pytest.FixtureRequest
) -> None:
    plan: DayPlan = request.getfixturevalue("skied_plan" if day == "heavy" else day)
    plan = heavy(plan) if day == "heavy" else plan
    (text,) = printed(tmp_path, plan, size, Units(clock="12"))
    for part in (*steps_of(plan, Units(clock="12")), "Takecare", "Thedayincurves", "loaded"):
        assert part in text
    assert text.count("Wednesday25November2026") == 2, "as the day, and as that of the planning"


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_of_a_day_with_too_much_the_curves_have_a_second_page(
    size: str, tmp_path: Path, skied_plan: DayPlan
) -> None:
    """What has to be done and cared for stays on the first, and no step is parted."""
    plan = heavy(skied_plan)
    long = replace(plan, steps=heavy(plan).steps[:28])
    first, second = printed(tmp_path, long, size, Units())
    for part in (*steps_of(long, Units()), "Takecare", "foodthermometer"):
        assert part in first
    assert second.startswith("Thedayincurves:Gaborone,Wednesday25November2026")
    assert "Lighttakenin" in second


@pytest.mark.parametrize("size", ["A4", "Letter"])
def test_no_step_is_parted_by_the_end_of_a_page(
    size: str, tmp_path: Path, skied_plan: DayPlan
) -> None:
    plan = heavy(heavy(heavy(skied_plan)))
    pages = printed(tmp_path, plan, size, Units())
    assert len(pages) > 2, "a day that is more than any kitchen"
    for step in steps_of(plan, Units()):
        assert any(step in page for page in pages), step
