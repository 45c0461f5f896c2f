"""`suntrack dishes`: the dishes the plan knows, and what each needs."""

from __future__ import annotations

import argparse
import dataclasses
import difflib
from typing import Any

from suntrack.errors import InputError, Problem
from suntrack.food.dish import CookValue, Dish
from suntrack.food.dishes import builtin_dishes
from suntrack.food.safety import RULES, refusal


def run(args: argparse.Namespace) -> int:
    """List every dish, or show one in full."""
    dishes = builtin_dishes()
    if args.dish is None:
        return _list(list(dishes.values()), as_json=args.json)
    if args.dish not in dishes:
        raise InputError(unknown_dish(args.dish, list(dishes)))
    return _show(dishes[args.dish], as_json=args.json)


def unknown_dish(name: str, known: list[str]) -> Problem:
    """Return the problem of a dish that does not exist, with the near one."""
    near = difflib.get_close_matches(name, known, n=1, cutoff=0.4)
    return Problem(
        where="DISH",
        found=repr(name),
        allowed="a dish of the library",
        remedy=f"Did you mean {near[0]}?" if near else "suntrack dishes lists them.",
    )


def dish_data(dish: Dish) -> dict[str, Any]:
    """Return a dish as plain JSON."""
    rule = RULES[dish.safety]
    return dataclasses.asdict(dish) | {
        "refusal": refusal(dish, confirmed=False),
        "rule": rule.sentence,
        "rule_source": rule.source,
        "rule_confidence": rule.confidence,
    }


def _list(dishes: list[Dish], *, as_json: bool) -> int:
    from suntrack.commands.context import print_json

    if as_json:
        print_json([dish_data(dish) for dish in dishes])
        return 0
    for dish in dishes:
        print(f"{dish.key:<18} {dish.name}")
    return 0


def _show(dish: Dish, *, as_json: bool) -> int:
    from suntrack.commands.context import print_json

    if as_json:
        print_json(dish_data(dish))
        return 0
    rule = RULES[dish.safety]
    print(f"{dish.name} ({dish.key}), {dish.mass_kg:g} kg")
    print(f"Done: {_done_words(dish)}.")
    print(f"Safe: {rule.sentence}")
    print(f"      Source: {rule.source}; {rule.confidence}.")
    print(f"Waits: up to {dish.hold_min:g} minutes, hot and closed.")
    for step in dish.advance:
        print(f"{step.when.capitalize()}: {step.text}")
    for advice in dish.advice:
        print(advice)
    reason = refusal(dish, confirmed=False)
    if reason is not None:
        print(f"Not planned as it stands: {reason}")
    print(f"Source of the defaults: {dish.source}.")
    return 0


def _done_words(dish: Dish) -> str:
    """Return how a dish is known to be done."""
    rule = dish.doneness
    if isinstance(rule, CookValue):
        return (
            f"{rule.minutes:g} minutes at 100 °C in the middle, ten times slower for every "
            f"{rule.z_c:g} degrees less, nothing below {rule.floor_c:g} °C"
        )
    return f"{rule.core_c:g} °C in the middle"
