"""One step of the network, prepared: how each store holds on, and the elimination.

Walls, outer glasses and pots hang on a core of lining, air and inner glasses (three or
four); they are eliminated onto it from the outside in, then the core itself from its last
place to its first.  No matrix is built up that is larger than the core, and plain floats
go through the same lines as arrays over runs.  `suntrack.box.network` says what a step is
and uses what is prepared here.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from suntrack.box.number import larger

if TYPE_CHECKING:
    from collections.abc import Sequence

    from suntrack.box.heat import PotCharge
    from suntrack.box.links import Links, PotLinks
    from suntrack.box.number import Number
    from suntrack.box.thermal import Thermal

HELD_W_K = 1e9
"""A link so strong that the pot on it does not move.  [W/K]"""
LINING, AIR, FIRST_PANE = 0, 1, 2
"""Places in the core; inner glasses follow."""


@dataclass(slots=True)
class Hold:
    """How a store holds on to its temperature during a step."""

    share: Number
    """Of the way to the new temperature, at which its links are seen.  [-]"""
    w_k: Number
    """Store over share and step.  [W/K]"""


@dataclass(slots=True)
class Holds:
    """How each store holds on."""

    lining: Hold
    wall_in: Hold
    wall_out: Hold
    inner: list[Hold]
    outer: list[Hold]
    pots: list[Hold]


@dataclass(slots=True)
class Limb:
    """A part that hangs on the core by one link, eliminated onto it."""

    pivot: Number
    """[W/K]"""
    onto: Number
    """Share of what reaches this part that it hands on.  [-]"""


@dataclass(slots=True)
class PotLimb:
    """A pot, which hangs on every place of the core."""

    ties: list[Number]
    """[W/K]"""
    shares: list[Number]
    """Ties over the pivot.  [-]"""
    diagonal: Number
    """Sum of its links and its hold, without the boil.  [W/K]"""
    pivot: Number
    """The same with the boil, which holds it still.  [W/K]"""


@dataclass(slots=True)
class Factors:
    """The network with everything eliminated, good until a link changes."""

    core: list[list[Number]]
    """Row i holds the multipliers onto the places before i, then the pivot.  [-], [W/K]"""
    wall_in: Limb
    wall_out: Limb
    outer: list[Limb]
    pots: list[PotLimb]
    opening_w_k: Number
    """Extra loss of the air while this step lasts.  [W/K]"""
    air_w_k: Number
    """Sum of all links of the air.  [W/K]"""


def hold(store_j_k: float, conductance_w_k: Number, *, step_s: float) -> Hold:
    """Return how a store holds on: see `suntrack.box.network` for the rule."""
    share = larger(0.5, 1.0 - store_j_k / (step_s * conductance_w_k))
    return Hold(share=share, w_k=store_j_k / (share * step_s))


def find_holds(
    links: Links, *, thermal: Thermal, pots: Sequence[PotCharge], step_s: float
) -> Holds:
    """Return how each store holds on, every pot counted as if it were in the box."""
    first_w_k, second_w_k = thermal.wall_links_w_k
    lining: Number = links.lining_air + first_w_k
    for pane, link in zip(thermal.panes, links.panes, strict=True):
        lining = lining + link.lining_w_m2k * pane.area_m2
    for pot in links.pots:
        lining = lining + pot.lining
    return Holds(
        lining=hold(thermal.lining_j_k, lining, step_s=step_s),
        wall_in=hold(thermal.wall_stores_j_k[0], first_w_k + second_w_k, step_s=step_s),
        wall_out=hold(thermal.wall_stores_j_k[1], second_w_k + links.wall_out, step_s=step_s),
        inner=[
            hold(pane.inner_j_k, _around_inner(links, i, area_m2=pane.area_m2), step_s=step_s)
            for i, pane in enumerate(thermal.panes)
        ],
        outer=[
            hold(pane.outer_j_k, link.between + link.wind + link.sky, step_s=step_s)
            for pane, link in zip(thermal.panes, links.panes, strict=True)
        ],
        pots=[
            hold(pot.pot_j_k, _around_pot(link, pot=pot), step_s=step_s)
            for pot, link in zip(pots, links.pots, strict=True)
        ],
    )


def _around_inner(links: Links, place: int, *, area_m2: float) -> Number:
    """Return the sum of the links of an inner glass.  [W/K]"""
    link = links.panes[place]
    total = link.lining_w_m2k * area_m2 + link.air + link.between
    for pot in links.pots:
        total = total + pot.panes[place]
    return total


def _around_pot(link: PotLinks, *, pot: PotCharge) -> Number:
    """Return the sum of the links of a pot.  [W/K]"""
    total = link.lining + link.air + link.vapour
    for pane in link.panes:
        total = total + pane
    return total + (pot.links_w_k[-1] if pot.links_w_k else 0.0)


def factorise(
    links: Links,
    *,
    holds: Holds,
    thermal: Thermal,
    grips_w_k: Sequence[float],
    lids_m2: Sequence[float],
    inside: Sequence[Number],
    boiling: Sequence[Number],
    opening: Number,
) -> Factors:
    """Return the elimination for these pots in the box and these at the boil.

    `grips_w_k` is what the shells in each pot add to it, `lids_m2` what each lid hides of
    the top glass; `inside` and `boiling` are 1 or 0 for each pot, `opening` is the share
    of the step with the lid up.
    """
    opening_w_k = opening * thermal.opening_w_k
    open_m2 = [pane.area_m2 for pane in thermal.panes]
    sky_m2: list[Number] = [*open_m2]
    for lid_m2, there in zip(lids_m2, inside, strict=True):
        sky_m2[0] = sky_m2[0] - lid_m2 * there
    wall_in, wall_out, on_lining = _walls(links, holds=holds, thermal=thermal)
    outer = [
        _limb(link.between, holds.outer[i].w_k + link.between + link.wind + link.sky)
        for i, link in enumerate(links.panes)
    ]
    core = _core(links, holds=holds, outer=outer, sky_m2=sky_m2)
    core[LINING][LINING] = core[LINING][LINING] + on_lining
    core[AIR][AIR] = core[AIR][AIR] + thermal.leak_w_k + opening_w_k
    air_w_k = core[AIR][AIR]
    pots = []
    for i, link in enumerate(links.pots):
        held_w_k = holds.pots[i].w_k + grips_w_k[i]
        limb = _pot_limb(link, held_w_k=held_w_k, there=inside[i], boiling=boiling[i])
        _hang(core, limb)
        air_w_k = air_w_k + limb.ties[AIR]
        pots.append(limb)
    _decompose(core)
    return Factors(
        core=core,
        wall_in=wall_in,
        wall_out=wall_out,
        outer=outer,
        pots=pots,
        opening_w_k=opening_w_k,
        air_w_k=air_w_k,
    )


def _limb(tie_w_k: Number, pivot: Number) -> Limb:
    """Return a part that hangs by one link."""
    return Limb(pivot=pivot, onto=tie_w_k / pivot)


def _walls(links: Links, *, holds: Holds, thermal: Thermal) -> tuple[Limb, Limb, Number]:
    """Return the two halves of the wall, and what they add to the lining.  [W/K]"""
    first_w_k, second_w_k = thermal.wall_links_w_k
    wall_out = _limb(second_w_k, holds.wall_out.w_k + second_w_k + links.wall_out)
    rest_w_k = second_w_k * (1.0 - wall_out.onto)
    wall_in = _limb(first_w_k, holds.wall_in.w_k + first_w_k + rest_w_k)
    return wall_in, wall_out, first_w_k * (1.0 - wall_in.onto)


def _core(
    links: Links, *, holds: Holds, outer: Sequence[Limb], sky_m2: Sequence[Number]
) -> list[list[Number]]:
    """Return the lower triangle of the core before the pots are hung on it.  [W/K]"""
    glow = [link.lining_w_m2k * sky_m2[i] for i, link in enumerate(links.panes)]
    lining: Number = holds.lining.w_k + links.lining_air
    air: Number = links.lining_air
    rows: list[list[Number]] = []
    for i, link in enumerate(links.panes):
        lining, air = lining + glow[i], air + link.air
        onto_outer = link.between * (1.0 - outer[i].onto)
        own = holds.inner[i].w_k + glow[i] + link.air + onto_outer
        # Inner glasses do not touch one another: zeros between them.
        between: list[Number] = [0.0] * i
        rows.append([-glow[i], -link.air, *between, own])
    return [[lining], [-links.lining_air, air], *rows]


def _pot_limb(link: PotLinks, *, held_w_k: Number, there: Number, boiling: Number) -> PotLimb:
    """Return a pot ready to be hung on the core; one outside the box has no ties."""
    ties = [there * link.lining, there * link.air, *(there * pane for pane in link.panes)]
    diagonal = held_w_k + there * link.vapour
    for tie in ties:
        diagonal = diagonal + tie
    pivot = diagonal + HELD_W_K * boiling
    return PotLimb(ties=ties, shares=[tie / pivot for tie in ties], diagonal=diagonal, pivot=pivot)


def _hang(core: list[list[Number]], limb: PotLimb) -> None:
    """Eliminate a pot onto the core."""
    for j, (tie, share) in enumerate(zip(limb.ties, limb.shares, strict=True)):
        row = core[j]
        row[j] = row[j] + tie
        for k in range(j + 1):
            row[k] = row[k] - share * limb.ties[k]


def _decompose(core: list[list[Number]]) -> None:
    """Eliminate the core from its last place to its first, in place."""
    for i in range(len(core) - 1, 0, -1):
        row = core[i]
        shares = [-row[j] / row[i] for j in range(i)]
        for j, share in enumerate(shares):
            target = core[j]
            for k in range(j + 1):
                target[k] = target[k] + share * row[k]
        row[:i] = shares


def solve(core: Sequence[Sequence[Number]], values: list[Number]) -> None:
    """Turn the right-hand side of the core into its temperatures, in place.  [W] to [C]"""
    size = len(values)
    for i in range(size - 1, 0, -1):
        row, value = core[i], values[i]
        for j in range(i):
            values[j] = values[j] + row[j] * value
    for i in range(size):
        row = core[i]
        value = values[i] / row[i]
        for j in range(i):
            value = value + row[j] * values[j]
        values[i] = value
