"""Which dish gets which pot, by cases a cook would recognise."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from suntrack.box.build import Box, Glazing, Layer, Pot
from suntrack.food.dishes import builtin_dishes
from suntrack.plan.dishes.pots import FOOD_KG_L, FULLEST, WASHING, seat_dishes
from suntrack.plan.records import Wish

DISHES = builtin_dishes()
SERVE = datetime(2026, 11, 25, 13, 0, tzinfo=UTC)
BOX = Box(
    name="test",
    width_m=0.58,
    depth_m=0.44,
    height_m=0.27,
    top=Glazing(glasses=2),
    front=None,
    mirror=None,
    walls=(Layer(material="plywood", thickness_m=0.01),),
    lining=Layer(material="aluminium", thickness_m=0.001),
)


def pot(name: str, capacity_l: float, diameter_m: float = 0.2) -> Pot:
    return Pot(
        name=name,
        capacity_l=capacity_l,
        mass_kg=1.0,
        material="enamelled steel",
        diameter_m=diameter_m,
        height_m=0.12,
    )


def wish(dish: str, kilograms: float, pot_name: str | None = None) -> Wish:
    return Wish(dish=dish, serve_at=SERVE, mass_kg=kilograms, pot=pot_name)


def names(wishes: list[Wish], pots: list[Pot]) -> list[str | None]:
    seats = seat_dishes(wishes, dishes=DISHES, pots=pots, box=BOX)
    return [seat.pot.name if seat.pot else None for seat in seats]


def test_a_small_dish_leaves_the_large_pot_to_a_large_one() -> None:
    pots = [pot("large", 4.0), pot("small", 1.5)]
    assert names([wish("white-rice", 1.0), wish("lentil-soup", 3.0)], pots) == ["small", "large"]


def test_meat_gets_a_tight_lid_even_on_a_larger_pot() -> None:
    """USDA advice on slow cookers (found copy): tightly lidded; soup takes what is left."""
    pots = [replace(pot("tin", 2.0), lid="loose"), pot("large", 4.0)]
    assert names([wish("chicken-pieces", 1.5)], pots) == ["large"]
    assert names([wish("lentil-soup", 1.5)], pots) == ["tin"]
    assert names([wish("chicken-pieces", 1.5, "tin")], pots) == ["tin"], "named, and refused later"


def test_a_named_pot_is_kept_for_whom_it_was_named() -> None:
    pots = [pot("large", 4.0), pot("small", 1.5)]
    wishes = [wish("lentil-soup", 1.0), wish("white-rice", 1.0, "small")]
    assert names(wishes, pots) == ["large", "small"]


def test_too_much_for_any_pot_is_said() -> None:
    (seat,) = seat_dishes([wish("lentil-soup", 5.0)], dishes=DISHES, pots=[pot("a", 4.0)], box=BOX)
    assert seat.pot is None
    assert "too much" in seat.reason


def test_a_full_floor_is_said() -> None:
    pots = [pot("a", 4.0, 0.4), pot("b", 4.0, 0.4)]
    wishes = [wish("lentil-soup", 2.0), wish("root-stew", 2.0)]
    seats = seat_dishes(wishes, dishes=DISHES, pots=pots, box=BOX)
    assert sum(seat.pot is None for seat in seats) == 1
    assert any("no room" in seat.reason for seat in seats)


@given(
    masses=st.lists(st.floats(0.2, 6.0), min_size=1, max_size=5),
    capacities=st.lists(st.floats(0.5, 6.0), max_size=5),
)
def test_no_pot_is_used_twice_or_overfilled(masses: list[float], capacities: list[float]) -> None:
    wishes = [wish("lentil-soup", mass) for mass in masses]
    pots = [pot(f"pot {i}", capacity, 0.1) for i, capacity in enumerate(capacities)]
    seats = seat_dishes(wishes, dishes=DISHES, pots=pots, box=BOX)
    used = [seat.pot.name for seat in seats if seat.pot]
    assert len(used) == len(set(used))
    for seat, mass in zip(seats, masses, strict=True):
        assert seat.wish.mass_kg == mass
        assert seat.pot is None or mass <= seat.pot.capacity_l * FULLEST * FOOD_KG_L


def at(hour: int) -> datetime:
    return SERVE.replace(hour=hour)


def seats(*meals: tuple[str, int], pots: list[Pot]) -> list[tuple[str | None, datetime | None]]:
    wishes = [Wish(dish=dish, serve_at=at(hour)) for dish, hour in meals]
    found = seat_dishes(wishes, dishes=DISHES, pots=pots, box=BOX)
    return [(seat.pot.name if seat.pot else None, seat.free_from) for seat in found]


def test_one_pot_serves_meals_that_are_far_apart_whichever_asks_first() -> None:
    """The second cannot go in before the first is eaten and the pot is washed."""
    one = [pot("only", 4.0)]
    noon, evening = ("lentil-soup", 12), ("white-rice", 18)
    washed = at(12) + WASHING
    assert seats(noon, evening, pots=one) == [("only", None), ("only", washed)]
    assert seats(evening, noon, pots=one) == [("only", washed), ("only", None)]


def test_one_pot_does_not_serve_meals_that_are_close() -> None:
    found = seats(("lentil-soup", 12), ("white-rice", 13), pots=[pot("only", 4.0)])
    assert sorted(name is None for name, _ in found) == [False, True]


def test_three_meals_share_a_pot_in_order() -> None:
    found = seats(
        ("lentil-soup", 10), ("white-rice", 18), ("lentil-soup", 14), pots=[pot("only", 4.0)]
    )
    assert [name for name, _ in found] == ["only"] * 3
    assert [free for _, free in found] == [None, at(14) + WASHING, at(10) + WASHING]


def test_what_is_in_the_box_keeps_a_pot_whatever_else_is_wanted() -> None:
    """Lunch was eaten, supper went into the same pot: it must not drop out of the plan."""
    loaded = Wish(dish="white-rice", serve_at=at(18), loaded_at=at(16))
    lunch = Wish(dish="lentil-soup", serve_at=at(12), loaded_at=at(9))
    for wishes in ((lunch, loaded), (loaded, lunch)):
        found = seat_dishes(wishes, dishes=DISHES, pots=[pot("only", 4.0)], box=BOX)
        assert [seat.pot.name if seat.pot else None for seat in found] == ["only", "only"]
    crowd = [Wish(dish="lentil-soup", serve_at=at(13), loaded_at=at(9)) for _ in range(2)]
    found = seat_dishes(crowd, dishes=DISHES, pots=[pot("only", 4.0)], box=BOX)
    assert all(seat.pot is not None for seat in found)
