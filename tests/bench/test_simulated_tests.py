"""Test days on the simulator: consistent with one another and with the standards' magnitudes."""

from __future__ import annotations

import numpy as np
import pytest

from suntrack.bench.simulated_tests import heating_span_s, power_test, standstill
from suntrack.box.build import Box, Glazing, Layer
from suntrack.box.heat.network import Thermal, thermal
from suntrack.box.heat.structs import PotCharge
from suntrack.box.light.gain import BoxLight
from suntrack.box.standard_figures import first_figure_k_m2_w, heating_time_s, second_figure


def plain_box() -> Thermal:
    """Return a double-glazed box without a front pane."""
    return thermal(
        Box(
            name="plain",
            width_m=0.5,
            depth_m=0.5,
            height_m=0.2,
            top=Glazing(glasses=2),
            front=None,
            mirror=None,
            walls=(
                Layer(material="plywood", thickness_m=0.006),
                Layer(material="glass wool", thickness_m=0.06),
                Layer(material="plywood", thickness_m=0.009),
            ),
            lining=Layer(material="aluminium", thickness_m=0.001),
        )
    )


def light(inside_w: float) -> BoxLight:
    """Return one moment's light: so much inside, a tenth of it in the glass."""
    inside = np.array(inside_w)
    return BoxLight(
        inside_w=inside,
        top_panes_w=np.array([0.06, 0.04]) * inside_w,
        front_panes_w=np.empty(0),
        top_w=inside,
        front_w=np.array(0.0),
        mirror_w=np.array(0.0),
    )


def water(kg: float) -> PotCharge:
    """Return a dark pot of water, 22 cm wide."""
    return PotCharge(
        pot_j_k=4186.0 * kg + 500.0,
        side_m2=0.08,
        lid_m2=0.038,
        base_m2=0.038,
        emittance=0.9,
        absorptance=0.92,
        start_c=27.5,
        boiling_c=99.0,
        lid_leak=0.05,
        open_m2=0.035,
    )


def test_standstill_loses_what_it_takes_in() -> None:
    """Steady means in equals out, in every watt; the shares add to one."""
    still = standstill(plain_box(), light=light(150.0))
    assert sum(still.lost_w.values()) == pytest.approx(150.0 * 1.1, rel=2e-3)
    assert sum(still.shares.values()) == pytest.approx(1.0)
    assert still.lost_w["front"] == 0.0
    assert max(still.shares, key=lambda name: still.shares[name]) == "top"


def test_first_figure_has_the_usual_magnitude() -> None:
    """Published boxes have F1 0.11 to 0.16 (memory); light through two panes about 0.66 x 800."""
    area_m2 = 0.25
    still = standstill(plain_box(), light=light(0.66 * 800.0 * area_m2), air_c=30.0)
    assert 0.10 < first_figure_k_m2_w(still.lining_c, air_c=30.0, level_w_m2=800.0) < 0.17


def test_box_cools_in_the_time_of_its_store_over_its_loss() -> None:
    """A lump of the same store and loss is the limit: ours has more than its lining alone.

    Lining alone over the whole loss is the shortest possible; everything it holds over
    the loss is the longest.
    """
    box = plain_box()
    still = standstill(box, light=light(150.0))
    loss_w_k = sum(still.lost_w.values()) / (still.lining_c - 25.0)
    glass = sum(pane.inner_j_k + pane.outer_j_k for pane in box.panes)
    whole_j_k = box.lining_j_k + sum(box.wall_stores_j_k) + glass
    assert box.lining_j_k / loss_w_k < still.cooling_s < whole_j_k / loss_w_k


def test_power_line_falls_to_the_standstill() -> None:
    """S580: the power falls in a straight line, and is gone where the loaded box stops."""
    pots = [water(1.2)]
    line = power_test(plain_box(), light=light(160.0), normal_w_m2=850.0, pots=pots, water_kg=1.2)
    assert line.r2 > 0.9
    assert 0.0 < line.at_50_w < line.still_w < 160.0 * 700.0 / 850.0
    assert line.slope_w_k > 0


def test_two_pots_take_more_than_one() -> None:
    """More surface, more power (Mullick et al. 1996, memory: F2 rises with the number of pots)."""
    box, shine = plain_box(), light(160.0)
    one = power_test(box, light=shine, normal_w_m2=850.0, pots=[water(1.6)], water_kg=1.6)
    two = power_test(box, light=shine, normal_w_m2=850.0, pots=[water(0.8)] * 2, water_kg=1.6)
    assert two.still_w > one.still_w


def test_dull_sun_gives_no_line() -> None:
    with pytest.raises(ValueError, match="3 or more"):
        power_test(
            plain_box(), light=light(15.0), normal_w_m2=500.0, pots=[water(2.0)], water_kg=2.0
        )


def test_temperatures_fall_from_the_lining_through_the_glass_to_the_air() -> None:
    """Heat only runs downhill: lining, inner glass, outer glass, air outdoors."""
    still = standstill(plain_box(), light=light(150.0), air_c=25.0)
    inner_c, outer_c = still.top_panes_c
    assert still.lining_c > still.air_c > inner_c > outer_c > 25.0
    assert still.lining_c > still.wall_c > 25.0
    assert still.front_panes_c is None


def test_stagnation_obeys_the_figures_algebra() -> None:
    """Mullick et al. 1987: at standstill eta H = U (T - T_a), so F1 is optics over losses.

    Both sides are the simulator's, by two roads: temperatures, and the ledger of energy.
    """
    area_m2, level_w_m2, taken_w = 0.25, 800.0, 0.66 * 800.0 * 0.25
    still = standstill(plain_box(), light=light(taken_w), air_c=30.0)
    f1 = first_figure_k_m2_w(still.lining_c, air_c=30.0, level_w_m2=level_w_m2)
    loss_w_m2k = sum(still.lost_w.values()) / (still.lining_c - 30.0) / area_m2
    # What is absorbed in the glass (a tenth of the light here) is lost as well.
    efficiency = 1.1 * taken_w / (level_w_m2 * area_m2)
    assert f1 == pytest.approx(efficiency / loss_w_m2k, rel=2e-3)


def test_water_heats_between_the_bounds_of_its_energy() -> None:
    """No quicker than with all the light and no loss; no slower than the figures foretell.

    IS 13429's own formula, fed with the F2 of this heating, gives its time back.
    """
    taken_w, pots = 0.66 * 800.0 * 0.25, [water(1.0), water(1.0)]
    span_s = heating_span_s(
        plain_box(), light=light(taken_w), pots=pots, span_c=(60.0, 80.0), air_c=30.0
    )
    assert span_s is not None
    assert span_s > 2.0 * (4186.0 + 500.0) * 20.0 / taken_w
    still = standstill(plain_box(), light=light(taken_w), air_c=30.0, wind_m_s=0.5)
    f1 = first_figure_k_m2_w(still.lining_c, air_c=30.0, level_w_m2=800.0)
    load = {"water_j_k_m2": 2.0 * 4186.0 / 0.25, "cold_c": 60.0, "hot_c": 80.0}
    f2 = second_figure(f1, heating_s=span_s, air_c=30.0, level_w_m2=800.0, **load)
    assert 0.0 < f2 < 0.66
    back_s = heating_time_s(f1, f2=f2, air_c=30.0, level_w_m2=800.0, **load)
    assert back_s == pytest.approx(span_s)


def test_water_stays_below_the_standstill_of_the_empty_box() -> None:
    """T_w < T_a + F1 H: water asked to go beyond where the empty box stops never arrives."""
    still = standstill(plain_box(), light=light(60.0), air_c=30.0, wind_m_s=0.5)
    span_c = (40.0, still.lining_c)
    found = heating_span_s(
        plain_box(), light=light(60.0), pots=[water(0.5)], span_c=span_c, air_c=30.0
    )
    assert still.lining_c < 99.0
    assert found is None
