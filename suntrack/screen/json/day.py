"""The plan and the moment for programs: `today --json` and `now --json`.

Numbers are rounded to what the plan can mean, instants are ISO 8601 with the site's
offset, and what is not known is null.  Every key is listed, with its meaning, in
`PLAN_KEYS` and `NOW_KEYS`; a test holds them to what is written.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from suntrack.screen.json.chances import CHANCE_KEYS, GUARD_KEYS, chances_json, guard_json
from suntrack.screen.json.learned import LEARNED_KEYS, learned_json
from suntrack.screen.json.numbers import rounded, stamp
from suntrack.screen.json.take_out import TAKE_OUT_KEYS, take_out_json

if TYPE_CHECKING:
    from collections.abc import Mapping

    from suntrack.plan.records import (
        BoxSample,
        DayPlan,
        DishPlan,
        DishSample,
        Revision,
        SkyNote,
        Step,
        Turn,
        TurnChoice,
        Verdict,
        Window,
    )
    from suntrack.screen.moment import DishNow, NowView
    from suntrack.store.learned import Kept

__all__ = [
    "NOW_KEYS", "PLAN_KEYS", "choice_json", "now_json", "plan_json", "rounded",
    "stamp",
]  # fmt: skip

_TURN_KEYS = {
    "at": "when to face the box so",
    "face_true_deg": "where to face it, clockwise from true north",
    "face_compass_deg": "the same, as a compass shows it",
    "mirror_deg": "mirror angle from the glass; null without a mirror",
    "turn_by_deg": "how far from the aim before; to the right is positive",
    "any_way": "true when any other way of facing takes in as much light",
}
_STEP_KEYS = {
    "key": "name of the step, stable for the day",
    "kind": "prepare, preheat, load, turn, pull, gust, rain or cover",
    "at": "when it is due",
    "dish": "key of the dish it concerns; null for none",
    "detail": "words for a prepare step; empty elsewhere",
    "turn": "the aim of a preheat or turn step; null for others",
    **{f"turn.{key}": meaning for key, meaning in _TURN_KEYS.items()},
}
_VERDICT_KEYS = {
    "verdict.cook": "true when it is a cooking day",
    "verdict.chance": "chance that all that goes in comes good in time (with no dish, that the "
    "box holds its threshold), 0 to 1; null when no forecast stands behind it",
    "verdict.reason": "why, in words",
}
_WINDOW_KEYS = {
    "window.opens_at": "when the empty box gets above the threshold; null for never",
    "window.closes_at": "when it falls below it again; null for not in the planned stretch",
    "window.threshold_c": "the threshold",
    "window.peak_c": "hottest the empty box gets",
    "window.peak_at": "when that is",
}
PLAN_KEYS: Mapping[str, str] = {
    "date": "the day of the plan, at the site",
    "site": "name of the site",
    "made_at": "when the plan was made",
    "sunrise_at": "sunrise; null when the sun does not rise",
    "sunset_at": "sunset; null when the sun does not set",
    "solar_noon_at": "when the sun is highest",
    "declination_deg": "how far a compass points east of true north",
    **_VERDICT_KEYS,
    **_WINDOW_KEYS,
    **{f"turns[].{key}": meaning for key, meaning in _TURN_KEYS.items()},
    "side_mirrors_deg": "angle from the glass at which side mirrors are left; null without any",
    "light_kept": "share of the light of a box followed minute by minute that `turns` keeps",
    "turn_choices[].name": "name of a way to turn; the first is the one in `turns`",
    "turn_choices[].light_kept": "share of the light it keeps",
    "turn_choices[].chance": "chance that all promised dishes are done and safe in time; null "
    "without skies or dishes",
    "turn_choices[].weakest_sun": "without a forecast: the weakest sun, as a share of the clear "
    "one, with which they are; null with one, and for none",
    **{f"turn_choices[].turns[].{key}": meaning for key, meaning in _TURN_KEYS.items()},
    "box[].at": "a moment",
    "box[].box_c": "air in the loaded box then",
    "box[].empty_c": "air in the box then, if it were left empty",
    "box[].low_c": "a tenth of the skies make the loaded box cooler; null without skies",
    "box[].middle_c": "half of the skies do; null without skies",
    "box[].high_c": "a tenth of the skies make it hotter; null without skies",
    "dishes[].name": "name of a dish",
    "dishes[].key": "its key in the library",
    "dishes[].pot": "its pot; null for none",
    "dishes[].serve_at": "when it is wanted",
    "dishes[].load_at": "when it goes in; null when it does not",
    "dishes[].done_at": "when it is done; null for never",
    "dishes[].safe_at": "when it has the heat its food rule asks for; null for not safe",
    "dishes[].pull_at": "when to take it out; null when it is not done and safe",
    "dishes[].pull_by": "latest moment to take it out",
    "dishes[].stove_by": "latest moment at which the kitchen stove still saves it",
    "dishes[].status": "ready, late, not done, not safe, refused or spoiled",
    "dishes[].chance": "chance that it is done and safe by its meal; null without skies, and for "
    "what does not go in",
    "dishes[].notes[]": "what else to know of it, in words",
    "dishes[].mends[].kind": "somebody, half, alone or later meal: with what it would come good",
    "dishes[].mends[].load_at": "when somebody would have to load it; null for other kinds",
    "dishes[].mends[].ready_at": "when it would be ready; null for other kinds",
    "dishes[].curve[].at": "a moment in the box",
    "dishes[].curve[].core_c": "its core then",
    "dishes[].curve[].done": "share of the way to done, 0 to 1",
    "dishes[].curve[].safe": "true when its food rule is met by then",
    **{f"steps[].{key}": meaning for key, meaning in _STEP_KEYS.items()},
    "revisions[].kind": "load or turn: a step that the plan shown last asked for otherwise",
    "revisions[].dish": "name of the dish it concerns; null for none",
    "revisions[].before": "when it was to be; null for a step that was not asked for",
    "revisions[].after": "when it is now; null for one that no longer is",
    "revisions[].cause": "reading, note, config, forecast, no forecast or time",
    **TAKE_OUT_KEYS,
    "cautions[]": "name of a caution that belongs to the day",
    **GUARD_KEYS,
    **CHANCE_KEYS,
    "sky.source": "where the sky of the plan came from",
    "sky.issued_at": "when that forecast was issued; null when it does not say, and for none",
    "sky.fetched_at": "when it was read from the network; null for none",
    "sky.attribution": "words that the forecast's terms ask to be shown; empty for none",
    "sky.notes[]": "what is missing or doubtful, in words",
    **LEARNED_KEYS,
}
"""Every key of `plan_json`, as a path; `[]` stands for every item of a list."""
NOW_KEYS: Mapping[str, str] = {
    "at": "the moment",
    "site": "name of the site",
    "sun.elevation_deg": "height of the sun above the level horizon",
    "sun.azimuth_deg": "where it stands, clockwise from true north",
    "sun.to_face_deg": "how far right of where the box faces; null while it is put away",
    "sun.rises_at": "the next sunrise; null when it is not known",
    "face_true_deg": "where the plan faces the box; null while it is put away",
    "face_compass_deg": "the same, as a compass shows it",
    "mirror_deg": "mirror angle from the glass; null without a mirror or while put away",
    "declination_deg": "how far a compass points east of true north",
    "declination_in_date": "false when the magnetic model is past its years",
    "box_c": "air in the box by the plan; null outside the planned stretch",
    "cooking[].key": "key of a dish that is in the box, by the plan",
    "cooking[].name": "its name",
    "cooking[].core_c": "its core now",
    "cooking[].done": "share of the way to done, 0 to 1",
    "cooking[].safe": "true when its food rule is met by now, by the plan: nobody measured it",
    "cooking[].status": "ready, late, not done, not safe, refused or spoiled",
    **TAKE_OUT_KEYS,
    **_VERDICT_KEYS,
    **_WINDOW_KEYS,
    "next_step": "the step to come; null for none",
    **{f"next_step.{key}": meaning for key, meaning in _STEP_KEYS.items()},
    "after_that": "the step after it; null for none",
    **{f"after_that.{key}": meaning for key, meaning in _STEP_KEYS.items()},
}
"""Every key of `now_json`, as a path."""


def plan_json(plan: DayPlan, *, learned: Kept | None = None) -> dict[str, Any]:
    """Return a plan for programs; `learned` is what readings taught, where it is in use."""
    return {
        "date": plan.date.isoformat(),
        "site": plan.site_name,
        "made_at": stamp(plan.made_at),
        "sunrise_at": stamp(plan.sunrise_at),
        "sunset_at": stamp(plan.sunset_at),
        "solar_noon_at": stamp(plan.solar_noon_at),
        "declination_deg": rounded(plan.declination_deg),
        "verdict": _verdict(plan.verdict),
        "window": _window(plan.window),
        "turns": [_turn(turn) for turn in plan.turns.turns],
        "side_mirrors_deg": rounded(plan.side_mirrors_deg),
        "light_kept": rounded(plan.turns.light_kept, 3),
        "turn_choices": [choice_json(choice) for choice in plan.turn_choices],
        "box": [_box(sample) for sample in plan.box],
        "dishes": [_dish(dish) for dish in plan.dishes],
        "steps": [_step(step) for step in plan.steps],
        "revisions": [_revision(one) for one in plan.revisions],
        "take_out": [take_out_json(one) for one in plan.take_out],
        "cautions": list(plan.cautions),
        "guards": [guard_json(guard) for guard in plan.guards],
        "chances": chances_json(plan.chances),
        "sky": _sky(plan.sky),
        "learned": learned_json(learned),
    }


def now_json(view: NowView) -> dict[str, Any]:
    """Return the moment for programs."""
    return {
        "at": stamp(view.at),
        "site": view.site_name,
        "sun": {
            "elevation_deg": rounded(view.sun_elevation_deg),
            "azimuth_deg": rounded(view.sun_azimuth_deg),
            "to_face_deg": rounded(view.sun_to_face_deg),
            "rises_at": stamp(view.sunrise_at),
        },
        "face_true_deg": rounded(view.face_true_deg),
        "face_compass_deg": rounded(view.face_compass_deg),
        "mirror_deg": rounded(view.mirror_deg),
        "declination_deg": rounded(view.declination_deg),
        "declination_in_date": view.declination_in_date,
        "box_c": rounded(view.box_c),
        "cooking": [_dish_now(dish) for dish in view.cooking],
        "take_out": [take_out_json(one) for one in view.take_out],
        "verdict": _verdict(view.verdict),
        "window": _window(view.window),
        "next_step": None if view.next_step is None else _step(view.next_step),
        "after_that": None if view.after_that is None else _step(view.after_that),
    }


def _sky(sky: SkyNote) -> dict[str, Any]:
    return {
        "source": sky.source,
        "issued_at": stamp(sky.issued_at),
        "fetched_at": stamp(sky.fetched_at),
        "attribution": sky.attribution,
        "notes": list(sky.notes),
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    chance = rounded(verdict.chance, 2)
    return {"cook": verdict.cook, "chance": chance, "reason": verdict.reason}


def _window(window: Window) -> dict[str, Any]:
    return {
        "opens_at": stamp(window.opens_at),
        "closes_at": stamp(window.closes_at),
        "threshold_c": rounded(window.threshold_c),
        "peak_c": rounded(window.peak_c),
        "peak_at": stamp(window.peak_at),
    }


def _turn(turn: Turn) -> dict[str, Any]:
    return {
        "at": stamp(turn.at),
        "face_true_deg": rounded(turn.face_true_deg),
        "face_compass_deg": rounded(turn.face_compass_deg),
        "mirror_deg": rounded(turn.mirror_deg),
        "turn_by_deg": rounded(turn.turn_by_deg),
        "any_way": turn.any_way,
    }


def choice_json(choice: TurnChoice) -> dict[str, Any]:
    """Return one way to turn for programs."""
    return {
        "name": choice.name,
        "light_kept": rounded(choice.light_kept, 3),
        "chance": rounded(choice.chance, 2),
        "weakest_sun": rounded(choice.weakest_sun, 2),
        "turns": [_turn(turn) for turn in choice.turns],
    }


def _revision(one: Revision) -> dict[str, Any]:
    return {
        "kind": one.kind,
        "dish": one.dish,
        "before": stamp(one.before),
        "after": stamp(one.after),
        "cause": one.cause,
    }


def _box(sample: BoxSample) -> dict[str, Any]:
    return {
        "at": stamp(sample.at),
        "box_c": rounded(sample.box_c),
        "empty_c": rounded(sample.empty_c),
        "low_c": rounded(sample.low_c),
        "middle_c": rounded(sample.middle_c),
        "high_c": rounded(sample.high_c),
    }


def _dish(dish: DishPlan) -> dict[str, Any]:
    return {
        "name": dish.name,
        "key": dish.key,
        "pot": dish.pot,
        "serve_at": stamp(dish.serve_at),
        "load_at": stamp(dish.load_at),
        "done_at": stamp(dish.done_at),
        "safe_at": stamp(dish.safe_at),
        "pull_at": stamp(dish.pull_at),
        "pull_by": stamp(dish.pull_by),
        "stove_by": stamp(dish.stove_by),
        "status": dish.status,
        "chance": rounded(dish.chance, 2),
        "notes": list(dish.notes),
        "mends": [
            {"kind": m.kind, "load_at": stamp(m.load_at), "ready_at": stamp(m.ready_at)}
            for m in dish.mends
        ],
        "curve": [_dish_sample(sample) for sample in dish.curve],
    }


def _dish_sample(sample: DishSample) -> dict[str, Any]:
    return {
        "at": stamp(sample.at),
        "core_c": rounded(sample.core_c),
        "done": rounded(sample.done, 3),
        "safe": sample.safe,
    }


def _dish_now(dish: DishNow) -> dict[str, Any]:
    return {
        "key": dish.key,
        "name": dish.name,
        "core_c": rounded(dish.core_c),
        "done": rounded(dish.done, 3),
        "safe": dish.safe,
        "status": dish.status,
    }


def _step(step: Step) -> dict[str, Any]:
    return {
        "key": step.key,
        "kind": step.kind,
        "at": stamp(step.at),
        "dish": step.dish,
        "detail": step.detail,
        "turn": None if step.turn is None else _turn(step.turn),
    }
