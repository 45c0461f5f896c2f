"""What the simulator says of a plain box of the kind that is tested and published.

Run `python tests/benchmarks/report_box.py`.  It prints our figures beside the published ranges
(from memory, see `suntrack.box.standard_figures`) and how far they are apart; nothing here is a
test, because the published boxes are not this box.

The box: 0.70 x 0.70 m inside, 0.25 m high, two 4 mm float glasses 15 mm apart on top and
none in front, 5 cm of mineral wool between 6 mm plywood, a lining of 1 mm aluminium painted
black (absorptance 0.92, emittance 0.9), seals that lose 0.15 W/K, a mirror of 0.70 x 0.70 m
and reflectance 0.85; four black aluminium pots, 20 cm wide and 8 cm high.
The sun: 60 degrees high, 15 % of the light on level ground from the sky, air 30 C; wind
1 m/s at the empty box and 0.5 m/s in the tests with water.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime
from math import radians, sin

from suntrack.bench.simulated_tests import Standstill, standstill
from suntrack.bench.standard_tests import Figures, NoonSun, figures, light_in
from suntrack.box.build import Box, Glazing, Layer, Mirror, Pot
from suntrack.box.heat.network import thermal
from suntrack.box.light.mirror_setting import set_mirror_deg
from suntrack.box.standard_figures import FIRST_SEEN_K_M2_W, LEAST_R2, MIRROR_RISE_SEEN, SECOND_SEEN

HEIGHT_DEG, SKY_SHARE, AIR_C = 60.0, 0.15, 30.0
BOX = Box(
    name="plain",
    width_m=0.70,
    depth_m=0.70,
    height_m=0.25,
    top=Glazing(glasses=2),
    front=None,
    mirror=Mirror(length_m=0.70, width_m=0.70),
    walls=(
        Layer(material="plywood", thickness_m=0.006),
        Layer(material="mineral wool", thickness_m=0.050),
        Layer(material="plywood", thickness_m=0.006),
    ),
    lining=Layer(material="aluminium", thickness_m=0.001),
)
POTS = tuple(
    Pot(
        name=f"pot {i}",
        capacity_l=2.5,
        mass_kg=0.4,
        material="aluminium",
        diameter_m=0.20,
        height_m=0.08,
    )
    for i in range(4)
)
WHITE = replace(BOX.top, extinction_per_m=4.0)
VARIANTS = {
    "as above": BOX,
    "extra-white glass": replace(BOX, top=WHITE),
    "no leaks": replace(BOX, leak_w_k=0.0),
    "3 mm glass": replace(BOX, top=replace(BOX.top, thickness_m=0.003)),
    "one glass": replace(BOX, top=replace(BOX.top, glasses=1)),
    "half as high": replace(BOX, height_m=0.125),
    "10 cm of wool": replace(
        BOX, walls=(BOX.walls[0], Layer(material="mineral wool", thickness_m=0.1), BOX.walls[2])
    ),
}
"""What a builder could change, to see what the figures hang on."""


def sun(level_w_m2: float, *, height_deg: float = HEIGHT_DEG) -> NoonSun:
    """Return the sun of the report with so much light on level ground."""
    return NoonSun(
        at=datetime(2026, 3, 20, 12, tzinfo=UTC),
        elevation_deg=height_deg,
        azimuth_deg=0.0,
        level_w_m2=level_w_m2,
        beam_normal_w_m2=(1.0 - SKY_SHARE) * level_w_m2 / sin(radians(height_deg)),
        diffuse_horizontal_w_m2=SKY_SHARE * level_w_m2,
        extraterrestrial_normal_w_m2=1361.0,
        clear_level_w_m2=level_w_m2,
        air_c=AIR_C,
        albedo=0.2,
    )


def still(box: Box, at: NoonSun, *, mirror: bool) -> Standstill:
    """Return the empty box in a sun, with its mirror or without."""
    shown = box if mirror else replace(box, mirror=None)
    mirror_deg = set_mirror_deg(shown, elevation_deg=at.elevation_deg) or 90.0
    light = light_in(shown, at, mirror_deg=mirror_deg)
    return standstill(thermal(shown), light=light, air_c=at.air_c, wind_m_s=1.0)


def measured(box: Box, at: NoonSun) -> Figures:
    """Return the figures of a box in a sun."""
    return figures(
        box,
        at,
        bare=still(box, at, mirror=False),
        mirror_deg=set_mirror_deg(box, elevation_deg=at.elevation_deg),
        pots=POTS,
        boiling_c=100.0,
    )


def apart(value: float, seen: tuple[float, float]) -> str:
    """Return where a value lies to a published range, and how far from its near end."""
    low, high = seen
    if value < low:
        return f"{value - low:+.3f} below {low} to {high}"
    return f"{value - high:+.3f} above {low} to {high}" if value > high else f"in {low} to {high}"


def report_rises() -> None:
    """Print where the empty box stops, air and lining, with the mirror and without."""
    print("Empty box [C], rise of the lining over the air outdoors [K]")
    print("level W/m2   mirror   lining   air inside   lining - air   rise   ratio")
    for level_w_m2 in (600.0, 800.0, 1000.0):
        bare, lit = (still(BOX, sun(level_w_m2), mirror=mirror) for mirror in (False, True))
        for name, state in (("no", bare), ("yes", lit)):
            rise_k = state.lining_c - AIR_C
            ratio = rise_k / (bare.lining_c - AIR_C)
            print(
                f"{level_w_m2:10.0f}   {name:>6} {state.lining_c:8.1f} {state.air_c:12.1f}"
                f" {state.lining_c - state.air_c:14.1f} {rise_k:6.1f} {ratio:7.3f}"
            )
        ratio = (lit.lining_c - AIR_C) / (bare.lining_c - AIR_C)
        print(f"{'':13}rise with to without: {apart(ratio, MIRROR_RISE_SEEN)} (one box)")


def report_mirror() -> None:
    """Print what the mirror adds to the rise by the height of the sun."""
    print("\nRise with the mirror to that without, 800 W/m2, by the height of the sun")
    for height_deg in (45.0, 60.0, 75.0, 85.0):
        at = sun(800.0, height_deg=height_deg)
        bare, lit = (still(BOX, at, mirror=mirror) for mirror in (False, True))
        ratio = (lit.lining_c - AIR_C) / (bare.lining_c - AIR_C)
        print(f"{height_deg:4.0f} deg  {ratio:.3f}  {apart(ratio, MIRROR_RISE_SEEN)} (one box)")


def report_losses() -> None:
    """Print where the heat goes, and what that makes by the square metre of glass."""
    state = still(BOX, sun(800.0), mirror=False)
    glass_m2 = thermal(BOX).panes[0].area_m2
    print("\nLosses at 800 W/m2 without the mirror")
    for name, lost_w in state.lost_w.items():
        each = lost_w / (state.lining_c - AIR_C) / glass_m2
        print(f"{name:>6}  {lost_w:6.1f} W  {state.shares[name]:6.1%}  {each:5.2f} W/(m2 K)")
    print(f"cools by 63 % in {state.cooling_s / 60.0:.0f} min")


def report_figures() -> None:
    """Print the figures of every variant beside the published ranges."""
    print("\nFigures at 800 W/m2 on level ground")
    for name, box in VARIANTS.items():
        found = measured(box, sun(800.0))
        print(f"{name}:")
        print(f"   F1 {found.f1_k_m2_w:.4f} K m2/W   {apart(found.f1_k_m2_w, FIRST_SEEN_K_M2_W)}")
        if found.f2 is not None and found.f2_span_c is not None and found.f2_heating_s:
            cold_c, hot_c = found.f2_span_c
            print(
                f"   F2 {found.f2:.4f}          {apart(found.f2, SECOND_SEEN)};"
                f" {found.f2_water_kg:.2f} kg, {cold_c:.0f} to {hot_c:.0f} C in"
                f" {found.f2_heating_s / 60.0:.0f} min"
            )
        else:
            print("   F2 none: the water does not get hot enough")
        if found.power is not None:
            line = found.power
            print(
                f"   P(50) {line.at_50_w:.1f} W       no published range; {line.still_w:.1f} W"
                f" - {line.slope_w_k:.3f} W/K, r2 {line.r2:.3f} (S580 asks for {LEAST_R2}),"
                f" {found.power_water_kg:.2f} kg on {found.intercept_m2:.3f} m2"
            )


if __name__ == "__main__":
    report_rises()
    report_mirror()
    report_losses()
    report_figures()
