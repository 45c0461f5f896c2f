"""The box's sheet for programs: `box --json`.

Everything is SI with Celsius whatever the config shows; what is not known is null.  Every
key is listed, with its meaning, in `BOX_KEYS`; a test holds them to what is written.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.day import rounded, stamp
from suntrack.screen.text.figures import mirror_rise

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.bench.box_report import BoxSheet, Hottest
    from suntrack.bench.hinge import HingeAdvice, SideAdvice
    from suntrack.bench.simulated_tests import Standstill
    from suntrack.bench.standard_tests import Figures, NoonSun
    from suntrack.box.light.fixed_mirror import FixedMirror
    from suntrack.box.sizes import BoxSizes

__all__ = ["BOX_KEYS", "box_json"]

_STILL_KEYS = {
    "oven_c": "what an oven thermometer in the empty box shows once it no longer rises",
    "air_c": "air inside then",
    "lining_c": "dark lining then",
    "wall_c": "inner half of the wall then",
    "top_inner_c": "inner glass of the top then, or inner face of its one glass",
    "top_outer_c": "outer glass of the top then",
    "front_inner_c": "inner glass in front then; null for a solid front",
    "front_outer_c": "outer glass in front then; null for a solid front",
    "cooling_s": "time in which the lining loses 63 % of its excess over the air in the dark",
    "losses[].way": "top, front, walls or leak",
    "losses[].lost_w": "heat lost that way",
    "losses[].share": "the same as a share of all",
}
_FIXED_KEYS = {
    "mirror_deg": "an angle that is kept",
    "light_kept": "share of the light of a mirror set all the time that it keeps",
}
BOX_KEYS: Mapping[str, str] = {
    "date": "the day of the sheet, at the site",
    "at": "the moment asked about; null when it is not on this day",
    "site": "name of the site",
    "box": "name of the box",
    "simulated": "always true: nothing here was measured in the sun",
    "sizes.top_glass_m2": "glass on top",
    "sizes.front_glass_m2": "glass in front; 0 for a solid front",
    "sizes.mirror_m2": "mirror at the back; 0 without one",
    "sizes.side_mirrors_m2": "both side mirrors; 0 without any",
    "sizes.floor_m2": "floor",
    "sizes.lining_m2": "everything inside that is not glass",
    "sizes.volume_l": "room inside",
    "sizes.walls_w_k": "heat through all walls for each degree",
    "sizes.leak_w_k": "heat through the seals for each degree",
    "sizes.lining_j_k": "store of lining and air",
    "sizes.walls_j_k": "store of the walls",
    "sizes.glass_j_k": "store of all glass",
    "layers[].material": "a layer of the wall, inside first",
    "layers[].thickness_m": "its thickness",
    "layers[].conductance_w_m2k": "heat through a square metre of it for each degree",
    "layers[].store_j_m2k": "store of a square metre of it",
    "layers[].hottest_c": "its inner face in the strongest light of the span",
    "sun.at": "the noon that the tests take their sun from",
    "sun.elevation_deg": "height of the sun",
    "sun.azimuth_deg": "where it stands, clockwise from true north",
    "sun.level_w_m2": "light of the tests on level ground",
    "sun.clear_level_w_m2": "the same under a clear sky, before it was dimmed",
    "sun.beam_normal_w_m2": "beam square to the sun",
    "sun.diffuse_horizontal_w_m2": "light of the sky on level ground",
    "sun.square_w_m2": "all light on a surface square to the sun",
    "sun.air_c": "air outdoors",
    "sun.wind_m_s": "wind at the empty box",
    "mirror_deg": "how the mirror at the back stands in `used`; null without one",
    **{f"used.{key}": meaning for key, meaning in _STILL_KEYS.items()},
    **{f"bare.{key}": f"no mirror used: {meaning}" for key, meaning in _STILL_KEYS.items()},
    "figures.f1_k_m2_w": "first figure of IS 13429",
    "figures.f2": "second figure of IS 13429; null when the water does not get hot enough",
    "figures.f2_water_kg": "water in its pots",
    "figures.f2_cold_c": "where its heating starts; null without a figure",
    "figures.f2_hot_c": "where its heating ends; null without a figure",
    "figures.f2_heating_s": "how long that takes; null without a figure",
    "figures.p50_w": "cooking power of S580, 50 K above the air; null without a line",
    "figures.still_w": "its line: power with the water as warm as the air",
    "figures.slope_w_k": "its line: power lost for each degree",
    "figures.r2": "its line: share of the scatter that it explains",
    "figures.power_water_kg": "water in its pots",
    "figures.power_air_c": "air outdoors in its test",
    "figures.intercept_m2": "sun caught by glass and mirrors, square to the beam",
    "figures.mirror_rise": "rise over the air with mirrors to that without; null without any",
    "hinge": "how to set the mirror at the back; null without one",
    "hinge.now_deg": "best angle at `at`; null while the site has no sun",
    "hinge.noon_deg": "best angle at noon",
    **{f"hinge.day.{key}": f"best for this day: {text}" for key, text in _FIXED_KEYS.items()},
    **{f"hinge.span.{key}": f"best for the span: {text}" for key, text in _FIXED_KEYS.items()},
    "hinge.built": "a mirror that cannot be moved; null for one that can",
    **{f"hinge.built.{key}": f"as built: {text}" for key, text in _FIXED_KEYS.items()},
    "hinge.without": "share of the light that is left without it, over the span",
    "side_mirrors": "how the side mirrors stand; null without any",
    "side_mirrors.angle_deg": "their angle from the glass, as built",
    "side_mirrors.light_kept": "share of the light at their best angle that this keeps, over the "
    "span",
    "side_mirrors.best_deg": "best angle to leave them at for the span, to 3 degrees",
    "side_mirrors.without": "share of the light at their best angle that is left without them",
    "span_days": "days of the span, this one included",
    "hottest.at": "the moment of the strongest light of the span",
    "hottest.outdoors_c": "air outdoors that was taken for it",
    **{f"hottest.{key}": f"in that light, held: {text}" for key, text in _STILL_KEYS.items()},
    "too_hot[].kind": "layer, sealant or glass",
    "too_hot[].part": "its material, lining, or which glass",
    "too_hot[].reached_c": "how hot it gets in the strongest light of the span",
    "too_hot[].limit_c": "what it should stay below; null for glass",
    "cautions[]": "name of a caution that belongs to the box",
}
"""Every key of `box_json`, as a path; `[]` stands for every item of a list."""


def box_json(sheet: BoxSheet) -> dict[str, Any]:
    """Return the sheet for programs."""
    return {
        "date": sheet.date.isoformat(),
        "at": stamp(sheet.at),
        "site": sheet.site_name,
        "box": sheet.box_name,
        "simulated": True,
        "sizes": _sizes(sheet.sizes),
        "layers": _layers(sheet),
        "sun": _sun(sheet.sun, wind_m_s=sheet.wind_m_s),
        "mirror_deg": rounded(sheet.mirror_deg),
        "used": _still(sheet.used),
        "bare": _still(sheet.bare),
        "figures": _figures(sheet.figures) | {"mirror_rise": rounded(mirror_rise(sheet), 3)},
        "hinge": None if sheet.hinge is None else _hinge(sheet.hinge),
        "side_mirrors": None if sheet.sides is None else _sides(sheet.sides),
        "span_days": sheet.span_days,
        "hottest": _hottest(sheet.hottest),
        "too_hot": [
            {
                "kind": part.kind,
                "part": part.part,
                "reached_c": rounded(part.reached_c),
                "limit_c": rounded(part.limit_c),
            }
            for part in sheet.hottest.too_hot
        ],
        "cautions": list(sheet.cautions),
    }


def _sizes(sizes: BoxSizes) -> dict[str, Any]:
    return {
        "top_glass_m2": rounded(sizes.top_glass_m2, 4),
        "front_glass_m2": rounded(sizes.front_glass_m2, 4),
        "mirror_m2": rounded(sizes.mirror_m2, 4),
        "side_mirrors_m2": rounded(sizes.side_mirrors_m2, 4),
        "floor_m2": rounded(sizes.floor_m2, 4),
        "lining_m2": rounded(sizes.lining_m2, 4),
        "volume_l": rounded(sizes.volume_l),
        "walls_w_k": rounded(sizes.walls_w_k, 3),
        "leak_w_k": rounded(sizes.leak_w_k, 3),
        "lining_j_k": rounded(sizes.lining_j_k, 0),
        "walls_j_k": rounded(sizes.walls_j_k, 0),
        "glass_j_k": rounded(sizes.glass_j_k, 0),
    }


def _layers(sheet: BoxSheet) -> list[dict[str, Any]]:
    return [
        {
            "material": layer.material,
            "thickness_m": rounded(layer.thickness_m, 5),
            "conductance_w_m2k": rounded(layer.conductance_w_m2k, 3),
            "store_j_m2k": rounded(layer.store_j_m2k, 0),
            "hottest_c": rounded(face_c),
        }
        for layer, face_c in zip(sheet.sizes.layers, sheet.hottest.layers_c, strict=True)
    ]


def _sun(sun: NoonSun, *, wind_m_s: float) -> dict[str, Any]:
    return {
        "at": stamp(sun.at),
        "elevation_deg": rounded(sun.elevation_deg),
        "azimuth_deg": rounded(sun.azimuth_deg),
        "level_w_m2": rounded(sun.level_w_m2),
        "clear_level_w_m2": rounded(sun.clear_level_w_m2),
        "beam_normal_w_m2": rounded(sun.beam_normal_w_m2),
        "diffuse_horizontal_w_m2": rounded(sun.diffuse_horizontal_w_m2),
        "square_w_m2": rounded(sun.square_w_m2),
        "air_c": rounded(sun.air_c),
        "wind_m_s": rounded(wind_m_s),
    }


def _still(still: Standstill) -> dict[str, Any]:
    front = still.front_panes_c or (None, None)
    return {
        "oven_c": rounded(still.oven_c),
        "air_c": rounded(still.air_c),
        "lining_c": rounded(still.lining_c),
        "wall_c": rounded(still.wall_c),
        "top_inner_c": rounded(still.top_panes_c[0]),
        "top_outer_c": rounded(still.top_panes_c[1]),
        "front_inner_c": rounded(front[0]),
        "front_outer_c": rounded(front[1]),
        "cooling_s": rounded(still.cooling_s, 0),
        "losses": [
            {"way": way, "lost_w": rounded(still.lost_w[way]), "share": rounded(share, 4)}
            for way, share in still.shares.items()
        ],
    }


def _figures(figures: Figures) -> dict[str, Any]:
    cold_c, hot_c = figures.f2_span_c or (None, None)
    line = figures.power
    return {
        "f1_k_m2_w": rounded(figures.f1_k_m2_w, 4),
        "f2": rounded(figures.f2, 3),
        "f2_water_kg": rounded(figures.f2_water_kg, 2),
        "f2_cold_c": rounded(cold_c),
        "f2_hot_c": rounded(hot_c),
        "f2_heating_s": rounded(figures.f2_heating_s, 0),
        "p50_w": rounded(line.at_50_w if line else None),
        "still_w": rounded(line.still_w if line else None),
        "slope_w_k": rounded(line.slope_w_k if line else None, 3),
        "r2": rounded(line.r2 if line else None, 3),
        "power_water_kg": rounded(figures.power_water_kg, 2),
        "power_air_c": rounded(figures.power_air_c),
        "intercept_m2": rounded(figures.intercept_m2, 4),
    }


def _hinge(hinge: HingeAdvice) -> dict[str, Any]:
    return {
        "now_deg": rounded(hinge.now_deg),
        "noon_deg": rounded(hinge.noon_deg),
        "day": _fixed(hinge.day),
        "span": _fixed(hinge.span),
        "built": None if hinge.built is None else _fixed(hinge.built),
        "without": rounded(hinge.without, 3),
    }


def _sides(sides: SideAdvice) -> dict[str, Any]:
    return {
        "angle_deg": rounded(sides.angle_deg),
        "light_kept": rounded(sides.light_kept, 3),
        "best_deg": rounded(sides.best_deg),
        "without": rounded(sides.without, 3),
    }


def _fixed(fixed: FixedMirror) -> dict[str, Any]:
    return {"mirror_deg": rounded(fixed.mirror_deg), "light_kept": rounded(fixed.light_kept, 3)}


def _hottest(hottest: Hottest) -> dict[str, Any]:
    return {
        "at": stamp(hottest.at),
        "outdoors_c": rounded(hottest.outdoors_c),
        **_still(hottest.still),
    }
