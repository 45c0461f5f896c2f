"""`suntrack dish NAME`: one dish for a cook to read; with `--why`, what stands behind it."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from suntrack.commands.context import Context, context_of, print_json
from suntrack.commands.pages import show_either
from suntrack.errors import InputError, Problem, near_words
from suntrack.food.kinds import is_meat
from suntrack.food.properties import boiling_c
from suntrack.food.refused import refusal
from suntrack.food.why import reasons
from suntrack.plan.dishes.pots import least_pot_l
from suntrack.screen.text.dish import DishSheet

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from suntrack.food.dish import Dish

MOST_NEAR = 3
HOW_NEAR = 0.45


def run(args: argparse.Namespace) -> int:
    """Show one dish of the library or of the cook's own."""
    context = context_of(args)
    sheet = sheet_of(context, find_dish(args.words, context.config.library))
    if args.json:
        from suntrack.screen.json.dish import dish_json

        print_json(dish_json(sheet))
        return 0
    from suntrack.screen.dish_block import dish_block, dish_lines

    units = context.config.units
    show_either(
        args,
        lines=lambda ink: dish_lines(sheet, units, why=args.why, ink=ink),
        block=lambda width, ink: dish_block(sheet, units, width, why=args.why, ink=ink),
    )
    return 0


def sheet_of(context: Context, dish: Dish) -> DishSheet:
    """Return a dish with what the site and the pots make of it."""
    boils_c = boiling_c(elevation_m=context.config.site.elevation_m)
    least_l = least_pot_l(dish.mass_kg)
    pots = sorted(context.config.pots, key=lambda pot: pot.capacity_l)
    return DishSheet(
        dish=dish,
        boiling_c=boils_c,
        least_pot_l=least_l,
        pots=tuple(
            pot.name
            for pot in pots
            if pot.capacity_l >= least_l and not (pot.lid != "tight" and is_meat(dish))
        ),
        refused=refusal(dish, confirmed=False),
        refused_even_confirmed=refusal(dish, confirmed=True) is not None,
        reasons=reasons(dish, boiling_c=boils_c),
    )


def find_dish(words: Sequence[str], library: Mapping[str, Dish]) -> Dish:
    """Return the dish that some words name: its key or its name, spaces and any case allowed.

    Raise InputError with the near ones when there is none.
    """
    said = _plain(" ".join(words))
    names = {_plain(name): dish for dish in library.values() for name in (dish.name, dish.key)}
    if said in names:
        return names[said]
    near = [key for key in names if said and said in key]
    near += near_words(said, names, most=MOST_NEAR, alike=HOW_NEAR)
    keys = list(dict.fromkeys(names[name].key for name in near))[:MOST_NEAR]
    raise InputError(
        Problem(
            where="DISH",
            found=repr(" ".join(words)),
            allowed="the name of a dish; suntrack dishes lists them",
            remedy=f"Did you mean {' or '.join(keys)}?" if keys else "See: suntrack dishes.",
        )
    )


def _plain(name: str) -> str:
    """Return a name without case, hyphens or double spaces."""
    return " ".join(name.casefold().replace("-", " ").split())
