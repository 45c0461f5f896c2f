"""Chances over many skies: limits and identities on the example day with its real box."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import groupby
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from suntrack.plan.chance import SkyDay, day_chances, known_until, sky_day
from suntrack.plan.chance_advice import can_be_cut
from suntrack.plan.dishes.schedule import Cooked, cook
from suntrack.plan.frame import Frame, frame_day
from suntrack.plan.inputs import DayInputs, Observations, ObservedReading
from suntrack.plan.records import DayPlan
from suntrack.plan.turns.aims import AimedDay, aimer_of
from suntrack.plan.window import longest_above
from suntrack.sky.ensemble import typical_skies
from suntrack.sky.weather import Weather
from suntrack.store.plan_codec import plan_from_cache, plan_to_cache

LIGHTS = ("global_horizontal_w_m2", "beam_normal_w_m2", "diffuse_horizontal_w_m2")
Replan = Callable[..., DayPlan]


def under(weather: Weather, shares: list[float]) -> Weather:
    """Return the planned sky, and skies that each have a share of its light."""
    rows = np.array([1.0, *shares])[:, None]
    count = rows.size
    return replace(
        weather,
        source="forecast",
        **{name: rows * getattr(weather, name)[:1] for name in LIGHTS},
        air_c=np.repeat(weather.air_c[:1], count, axis=0),
        wind_m_s=np.repeat(weather.wind_m_s[:1], count, axis=0),
    )


@pytest.fixture(scope="module")
def known(inputs: DayInputs) -> tuple[Frame, AimedDay, Cooked]:
    """Return the day as it is planned for the one clear sky."""
    frame = frame_day(inputs)
    aimer = aimer_of(
        inputs,
        grid=frame.day.part(frame.aimed, frame.last),
        first_step=frame.aimed,
        lead=frame.lead,
    )
    aimed = aimer.day(aimer.usual(aimer.best()), name="usual")
    return frame, aimed, cook(inputs, frame=frame, aimed=aimed)


@pytest.fixture(scope="module")
def skied(inputs: DayInputs, known: Any) -> Callable[[Weather], SkyDay]:
    frame, aimed, _ = known

    def under_skies(weather: Weather) -> SkyDay:
        changed = replace(inputs, weather=weather)
        day = sky_day(changed, frame=frame, aimed=aimed, light_factor=1.0)
        assert day is not None
        return day

    return under_skies


def test_one_sky_has_no_chance(inputs: DayInputs, known: Any, plan: DayPlan) -> None:
    frame, aimed, _ = known
    assert sky_day(inputs, frame=frame, aimed=aimed, light_factor=1.0) is None
    assert plan.chances is None
    assert {dish.chance for dish in plan.dishes} == {None}
    assert {sample.middle_c for sample in plan.box} == {None}


def test_skies_like_the_planned_one_are_sure_and_the_same(
    inputs: DayInputs, known: Any, skied: Callable[[Weather], SkyDay]
) -> None:
    """A limit: many runs at once give what the plan's own single run gives."""
    _, _, cooked = known
    day = skied(under(inputs.weather, [1.0] * 7))
    found = day_chances(day, going=cooked.going, counted=frozenset(cooked.going), threshold_c=100.0)
    assert (found.chances.good, found.chances.holds, found.chances.skies) == (1.0, 1.0, 7)
    assert set(found.by_dish.values()) == {1.0}
    before_meal = min(cooking.serve_step for cooking in cooked.going.values())
    planned_c = cooked.loaded.oven_c[0]
    assert found.band_c[:, :before_meal] == pytest.approx(
        np.tile(planned_c[:before_meal], (3, 1)), abs=0.5
    )


def test_a_chance_is_the_share_of_skies_on_which_it_comes_true(
    inputs: DayInputs, known: Any, skied: Callable[[Weather], SkyDay]
) -> None:
    """Of ten skies, seven as planned and three black ones: exactly 7 of 10, for all alike."""
    _, _, cooked = known
    day = skied(under(inputs.weather, [1.0, 0.0, 1.0, 1.0, 0.0, 1.0, 1.0, 0.0, 1.0, 1.0]))
    found = day_chances(day, going=cooked.going, counted=frozenset(cooked.going), threshold_c=100.0)
    assert found.chances.good == pytest.approx(0.7)
    assert found.chances.holds == pytest.approx(0.7)
    assert found.by_dish == pytest.approx(dict.fromkeys(cooked.going, 0.7))


def test_more_light_never_spoils_a_sky(
    inputs: DayInputs, known: Any, skied: Callable[[Weather], SkyDay]
) -> None:
    """Monotone: of dishes that take any heat, what comes good in dim light does in bright."""
    _, _, cooked = known
    day = skied(under(inputs.weather, [0.2, 0.4, 0.6, 0.8, 1.0]))
    for good in day.good(cooked.going).values():
        assert good.tolist() == sorted(good.tolist())


def test_the_band_is_in_order_and_holds_the_middle(
    inputs: DayInputs, known: Any, skied: Callable[[Weather], SkyDay]
) -> None:
    _, _, cooked = known
    day = skied(under(inputs.weather, list(np.linspace(0.3, 1.0, 11))))
    found = day_chances(day, going=cooked.going, counted=frozenset(), threshold_c=100.0)
    low_c, middle_c, high_c = found.band_c
    assert (low_c <= middle_c + 1e-9).all()
    assert (middle_c <= high_c + 1e-9).all()
    assert (high_c - low_c).max() > 15.0


def test_luck_moves_a_chance_by_no_more_than_is_stated(
    inputs: DayInputs, known: Any, skied: Callable[[Weather], SkyDay]
) -> None:
    """Binomial law: a share of n skies scatters by sqrt(p (1 - p) / n), at most 0.5 / sqrt(n).

    The standard deviation of twelve is within 1.6 of the true one on 99 % of all tries.
    """
    holds = []
    for seed in range(12):
        weather = typical_skies(clear=inputs.weather, sun=inputs.sun, seed=seed, skies=60)
        found = day_chances(skied(weather), going={}, counted=frozenset(), threshold_c=110.0)
        holds.append(found.chances.holds)
        assert found.chances.good is None
        assert found.chances.sampling_error == pytest.approx(0.5 / np.sqrt(60))
    share = float(np.mean(holds))
    assert 0.1 < share < 0.9
    assert 0.0 < np.std(holds, ddof=1) < 1.6 * np.sqrt(share * (1.0 - share) / 60)


def test_what_a_reading_says_of_the_past_is_true_in_every_sky(
    inputs: DayInputs, known: Any, at: Callable[[str], Any]
) -> None:
    skies = known_until(under(inputs.weather, [0.1, 0.5]), 300)
    for name in LIGHTS:
        light = getattr(skies, name)
        assert np.array_equal(light[1, :300], light[0, :300])
        assert light[1, 360] == pytest.approx(0.1 * light[0, 360])
    frame, aimed, _ = known
    heard = Observations(readings=(ObservedReading(at=at("12:00"), box_c=100.0),))
    later = replace(inputs, weather=under(inputs.weather, [0.0]), heard=heard, made_at=at("12:00"))
    day = sky_day(later, frame=frame, aimed=aimed, light_factor=0.99)
    assert day is not None
    noon = frame.grid.step(at("12:00"))
    assert day.oven.light.inside_w[0, noon - 5] > 50.0
    assert day.oven.light.inside_w[0, noon + 5] == 0.0


@given(st.lists(st.lists(st.booleans(), min_size=6, max_size=6), min_size=1, max_size=4))
def test_the_longest_stretch_is_the_one_counted_by_hand(rows: list[list[bool]]) -> None:
    found = longest_above(np.array(rows, float), 0.5)
    runs = [[len(list(same)) for hot, same in groupby(row) if hot] for row in rows]
    assert found.tolist() == [max(lengths, default=0) for lengths in runs]


def test_a_plan_with_skies_carries_its_chances_everywhere(
    inputs: DayInputs, replan: Replan
) -> None:
    weather = under(inputs.weather, [1.0, 1.0, 0.0, 1.0])
    plan = replan(weather=weather)
    assert plan.chances is not None
    assert plan.verdict.chance == plan.chances.good == 0.75
    assert plan.verdict.cook
    assert [dish.chance for dish in plan.dishes] == [0.75] * 3
    assert all(sample.low_c is not None for sample in plan.box)
    assert plan_from_cache(plan_to_cache(plan)) == plan


def test_a_plan_no_sky_holds_with_is_no_cooking_day(inputs: DayInputs, replan: Replan) -> None:
    plan = replan(weather=under(inputs.weather, [0.0] * 4))
    assert plan.verdict.chance == 0.0
    assert not plan.verdict.cook


def test_what_does_not_go_in_has_no_chance_but_the_day_has_one(
    inputs: DayInputs, replan: Replan
) -> None:
    """Under a dark middle sky nothing goes in; one bright sky of four would still do."""
    dark = under(inputs.weather, [1.0, 0.0, 0.0, 0.0])
    for name in LIGHTS:
        getattr(dark, name)[0] *= 0.1
    plan = replan(weather=dark)
    assert plan.chances is not None
    assert plan.chances.good is None
    assert {dish.chance for dish in plan.dishes} == {None}
    assert plan.verdict.chance == plan.chances.alone == 0.25
    assert not plan.verdict.cook


def test_without_dishes_the_box_is_judged(inputs: DayInputs, replan: Replan) -> None:
    plan = replan(weather=under(inputs.weather, [1.0, 1.0, 0.0]), wishes=())
    assert plan.verdict.chance == pytest.approx(2.0 / 3.0)
    assert plan.verdict.cook
    assert "empty box" in plan.verdict.reason


def test_changes_are_worth_it_one_of_a_kind_and_the_best_first(
    inputs: DayInputs, replan: Replan
) -> None:
    plan = replan(weather=under(inputs.weather, list(np.linspace(0.35, 0.85, 10))))
    assert plan.chances is not None
    assert plan.chances.good is not None
    changes = plan.chances.changes
    assert changes
    assert all(change.chance >= plan.chances.good + 0.1 for change in changes)
    assert [c.chance for c in changes] == sorted((c.chance for c in changes), reverse=True)
    assert len({change.kind for change in changes}) == len(changes)
    earlier = next(change for change in changes if change.kind == "earlier")
    assert earlier.by_min in (30, 60, 90)


def test_a_sure_day_and_a_loaded_one_ask_for_no_change(
    inputs: DayInputs, replan: Replan, at: Callable[[str], Any]
) -> None:
    sure = replan(weather=under(inputs.weather, [1.0] * 10))
    assert sure.chances is not None
    assert sure.chances.changes == ()
    loaded = tuple(replace(wish, loaded_at=at("11:00")) for wish in inputs.wishes)
    inside = replan(weather=under(inputs.weather, [0.3, 1.0]), wishes=loaded, made_at=at("11:30"))
    assert inside.chances is not None
    assert inside.chances.changes == ()


@pytest.mark.parametrize(
    ("key", "cut"),
    [
        ("chicken-pieces", True),
        ("whole-potatoes", True),
        ("lentil-soup", False),
        ("eggs-in-shell", False),
        ("fish-fillets", False),
        ("yeast-loaf", False),
    ],
)
def test_only_what_a_knife_can_halve_is_cut(inputs: DayInputs, key: str, cut: bool) -> None:
    """Kitchen judgement, no source."""
    assert can_be_cut(inputs.dishes[key]) is cut
