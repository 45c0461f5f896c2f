"""How the day sheet looks: its colours by day, by night and on paper, and its style sheet.

Every pair of a text and its ground is in `TEXT_ON`; a test computes the contrast of each.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.screen.sheet.fit import Fit

LIGHT: Mapping[str, str] = {
    "paper": "#ffffff", "ink": "#1d1b19", "quiet": "#57514a", "rule": "#d8d1c7",
    "yes": "#1c6436", "no": "#98281c", "care": "#fbf3e6",
    "loaded": "#a8400a", "band": "#f5d8be", "empty": "#57514a", "threshold": "#24497c",
    "sun": "#8a5800", "skyline": "#c3cbbb",
    "top": "#24497c", "front": "#a8400a", "mirror": "#57514a",
}  # fmt: skip
DARK: Mapping[str, str] = {
    "paper": "#191715", "ink": "#f3eee7", "quiet": "#bdb4a8", "rule": "#4a443d",
    "yes": "#83d49c", "no": "#f5a79c", "care": "#2b251d",
    "loaded": "#f39a5d", "band": "#59371f", "empty": "#bdb4a8", "threshold": "#96bbee",
    "sun": "#f0c25a", "skyline": "#454d40",
    "top": "#96bbee", "front": "#f39a5d", "mirror": "#bdb4a8",
}  # fmt: skip
TEXT_ON = (
    ("ink", "paper"), ("quiet", "paper"), ("yes", "paper"), ("no", "paper"), ("ink", "care"),
    ("threshold", "paper"),
)  # fmt: skip
"""Roles of texts, and the ground each stands on."""
LINES_ON = (
    ("loaded", "paper"), ("loaded", "band"), ("empty", "paper"), ("sun", "paper"),
    ("top", "paper"), ("front", "paper"), ("mirror", "paper"),
)  # fmt: skip
"""Roles of lines in charts, and the ground each stands on."""

CHART_RULES = """\
svg text{font:11px system-ui,sans-serif;fill:var(--quiet)}
.grid{stroke:var(--rule);stroke-width:1}
.loaded,.empty,.sun,.top,.front,.mirror,.threshold{fill:none;stroke-width:2}
.loaded{stroke:var(--loaded)}
.empty{stroke:var(--empty);stroke-width:1.6;stroke-dasharray:1.5 3;stroke-linecap:round}
.threshold{stroke:var(--threshold);stroke-width:1.2;stroke-dasharray:6 3}
.sun{stroke:var(--sun)}
.top{stroke:var(--top)}
.front{stroke:var(--front);stroke-dasharray:7 3}
.mirror{stroke:var(--mirror);stroke-dasharray:2 3}
.band{fill:var(--band)}
.skyline{fill:var(--skyline)}
"""
PICTURE_RULES = """\
.paper{fill:var(--paper)}
text.caption,text.said{font-size:12px;fill:var(--ink)}
text.yes{font-size:13px;font-weight:bold;fill:var(--yes)}
text.no{font-size:13px;font-weight:bold;fill:var(--no)}
"""
FONT = "Source Sans Pro"
"""In pictures; it comes along as a file for those that are drawn here (`screen/sheet/png.py`)."""
RULES = """\
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.4 system-ui,sans-serif}
main{max-width:62rem;margin:0 auto;padding:1rem}
h1{font-size:1.5em;line-height:1.2;margin:.1em 0 .25em}
h2{font-size:1.05em;margin:1.1em 0 .35em;border-bottom:1px solid var(--rule)}
p,ul,ol,table,figure{margin:0 0 .5em}
.place,.hint,figcaption,.note,.made{color:var(--quiet)}
.hint,.note,.why p{font-size:.88em}
h1.yes{color:var(--yes)}h1.no{color:var(--no)}
.steps{list-style:none;padding:0}
.steps li{display:grid;grid-template-columns:2.2rem 5.6em 1fr;padding:.3em 0;
border-bottom:1px solid var(--rule)}
.steps input{font-size:inherit;width:1.5rem;height:1.5rem;margin:0}
.steps time{font-weight:600;padding-right:.4em}
.steps .hint{display:block}
table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{padding:.25em .3em;text-align:right;vertical-align:top}
th:first-child,td.note{text-align:left}
thead th{font-size:.82em;color:var(--quiet);font-weight:600;vertical-align:bottom}
tbody th{font-weight:600}
tbody{border-bottom:1px solid var(--rule)}
td.note{padding-top:0}
td.note ul{margin:0;padding-left:1.1em}
.pot{font-weight:400;color:var(--quiet)}
.status{color:var(--ink)}
figure svg{display:block;width:100%;height:auto}
figcaption{font-size:.88em}
.care{background:var(--care);padding:.5em .8em;border-radius:.4em;margin:.6em 0}
.care h2{margin-top:0}
.care ul{padding-left:1.1em;margin:0}
li,tbody{break-inside:avoid}
.again{display:none}
@media (min-width:56rem){.parts{columns:2;column-gap:2rem}
.parts section:first-child h2{margin-top:0}
.row{display:grid;grid-template-columns:repeat(3,1fr);column-gap:1rem}}
@media (max-width:30rem){main{padding:.75rem}th,td{padding:.25em .15em}table{font-size:.88em}
.steps li{grid-template-columns:2.2rem 4.6em 1fr}thead th{font-size:.88em}
.charts text{font-size:13px}}
"""
PAPER_RULES = """\
@page{margin:9mm}
@media print{
body{font-size:PTpt;line-height:1.25}
main{max-width:none;padding:0}
.parts{columns:2;column-gap:6mm}
h1{font-size:1.4em}h2{margin:.5em 0 .2em;break-after:avoid}
.parts section:first-child h2{margin-top:0}
.steps li{padding:.12em 0;grid-template-columns:1.7em 5.6em 1fr}
.steps input{width:1.1em;height:1.1em;margin:.1em 0 0}
.steps .gloves{display:none}
.charts svg{height:CHARTmm}.charts text{font-size:14px}
.care{padding:.2em .5em;margin:.3em 0}.care ul{columns:2;column-gap:5mm}
p,ul,ol,table,figure{margin:0 0 .2em}
th,td{padding:.08em .2em}
figure,.care{break-inside:avoid}
*{print-color-adjust:exact}
}
"""
ONE_SHEET = (
    "@media print{.row{display:grid;grid-template-columns:repeat(3,1fr);column-gap:3mm}"
    ".charts{break-inside:avoid}}\n"
)
CURVES_APART = (
    "@media print{.row{display:block}.again{display:inline}"
    ".charts{break-before:page;font-size:11pt}"
    ".charts text{font-size:11px}.charts svg{width:auto}}\n"
)


def style_sheet(fit: Fit) -> str:
    """Return the whole style sheet; type and charts on paper as large as they are told to be."""
    paper = PAPER_RULES.replace("PT", f"{fit.size_pt:g}").replace("CHART", f"{fit.chart_mm:g}")
    paper += CURVES_APART if fit.curves_apart else ONE_SHEET
    return "".join(
        (
            f":root{{color-scheme:light dark;{_variables(LIGHT)}}}\n",
            f"@media (prefers-color-scheme:dark){{:root{{{_variables(DARK)}}}}}\n",
            f"@media print{{:root{{color-scheme:light;{_variables(LIGHT)}}}}}\n",
            RULES,
            CHART_RULES,
            paper,
        )
    )


def picture_style() -> str:
    """Return the style of charts in a picture of their own, on white, with no variables."""
    rules = CHART_RULES.replace("system-ui,", f"'{FONT}',system-ui,") + PICTURE_RULES
    return re.sub(r"var\(--(\w+)\)", lambda used: LIGHT[used[1]], rules)


def _variables(colours: Mapping[str, str]) -> str:
    return ";".join(f"--{role}:{colour}" for role, colour in colours.items())
