"""From the journal's entries of a day to what the plan may take as having happened."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any
from zlib import crc32

from suntrack.plan.inputs import Observations, ObservedAim, ObservedReading, PreviousPlan
from suntrack.store.kept_light import hour_row

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from suntrack.box.build import Box
    from suntrack.plan.records import DayPlan, RevisionCause, SkyNote, Window, Wish
    from suntrack.sky.site import Site
    from suntrack.store.journal import Entry

SHOWN_IN_TIME = timedelta(minutes=10)
"""A step counts as done as planned only when its plan was shown before it, or so soon after."""
BAND_EVERY = timedelta(minutes=30)
"""How closely the band of the box's heat is kept."""
UNNOTED = timedelta(hours=5)
"""So long before its meal a dish may come out of which nobody noted that it went in."""
SAME_TURN = timedelta(minutes=20)
"""A noted turn this near a planned one is that turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DaySoFar:
    """The journal's day: what was heard, and the wishes with their real times."""

    heard: Observations
    """What happened to the box."""
    wishes: tuple[Wish, ...]
    """What is wanted, with real times."""
    earlier: PreviousPlan | None = None
    """What the plan shown last asks for; None when none was shown."""


def place_of(site: Site, box: Box) -> str:
    """Return what tells one box at one place from another: their plans are not each other's."""
    sizes: tuple[object, ...] = (box.width_m, box.depth_m, box.height_m, box.mirror)
    if box.side_mirrors is not None:
        sizes = (*sizes, box.side_mirrors)
    said = repr((site.latitude_deg, site.longitude_deg, sizes))
    return f"{crc32(said.encode()):08x}"


def day_so_far(
    entries: Sequence[Entry], wishes: Iterable[Wish], *, now: datetime, place: str = ""
) -> DaySoFar:
    """Return what the journal knows at a moment.

    What the cook noted counts first.  Where nothing was noted, steps of the last plan
    that was shown and whose time has come are taken as done as planned: a cook who
    follows the plan need not write it down, and the plan stays what it was.
    """
    # As written, so that a later correction of a load counts; aims and readings by time.
    # A plan for another box or place, shown from the same folder, was never followed here.
    known = [
        entry
        for entry in entries
        if entry.at <= now and (entry.kind != "plan" or entry.data.get("place", place) == place)
    ]
    in_time = sorted(known, key=lambda entry: entry.at)
    shown = [entry for entry in known if entry.kind == "plan"]
    heard = Observations(
        aims=_merged(_aims(in_time), _aims_as_planned(shown, now=now)),
        readings=tuple(
            ObservedReading(at=entry.at, box_c=float(entry.data["box_c"]))
            for entry in in_time
            if entry.kind == "reading"
        ),
        skipped=any(entry.kind == "skipped" for entry in known),
    )
    met = tuple(_meet(wish, known, shown, now=now) for wish in wishes)
    return DaySoFar(heard=heard, wishes=met, earlier=_earlier(known))


def _earlier(known: Sequence[Entry]) -> PreviousPlan | None:
    """Return what the plan shown last asks for, from entries in the order they were written."""
    places = [i for i, entry in enumerate(known) if entry.kind == "plan"]
    if not places:
        return None
    shown, since = known[places[-1]], {entry.kind for entry in known[places[-1] :]}
    data = shown.data
    noted: RevisionCause = "note" if since & {"turned", "loaded", "pulled"} else "time"
    return PreviousPlan(
        aims=_told_aims(data),
        loads={key: datetime.fromisoformat(at) for key, at in data.get("loads", {}).items()},
        made_at=shown.at,
        cause="reading" if "reading" in since else noted,
    )


def sky_words_of(sky: SkyNote | None) -> list[str | None]:
    """Return what tells the sky behind a plan from another, as plain JSON."""
    if sky is None:
        return []
    issued, fetched = sky.issued_at, sky.fetched_at
    return [
        sky.source,
        None if issued is None else issued.isoformat(),
        None if fetched is None else fetched.isoformat(),
    ]


def news_since(
    entries: Sequence[Entry], *, config: str, sky: SkyNote | None
) -> RevisionCause | None:
    """Return whether config or sky are not those of the plan shown last; None for neither."""
    shown = [entry.data for entry in entries if entry.kind == "plan"]
    if not shown:
        return None
    if shown[-1].get("config", config) != config:
        return "config"
    mine = sky_words_of(sky)
    if shown[-1].get("sky", mine) == mine:
        return None
    return "forecast" if sky is not None and sky.fetched_at is not None else "no forecast"


def _told_aims(data: Mapping[str, Any]) -> tuple[ObservedAim, ...]:
    """Return the aims of a shown plan."""
    return tuple(
        ObservedAim(
            at=datetime.fromisoformat(aim["at"]),
            face_true_deg=float(aim["face_true_deg"]),
            mirror_deg=aim["mirror_deg"],
        )
        for aim in data.get("aims", ())
    )


def plan_entry_data(plan: DayPlan) -> dict[str, Any]:
    """Return the pieces of a shown plan that `day_so_far` reads back, as plain JSON."""
    return {
        "aims": [
            {
                "at": turn.at.isoformat(),
                "face_true_deg": turn.face_true_deg,
                "mirror_deg": turn.mirror_deg,
            }
            for turn in plan.turns.turns
        ],
        "loads": {
            dish.key: dish.load_at.isoformat() for dish in plan.dishes if dish.load_at is not None
        },
        # For a watch that is started on another day, when this plan is gone.
        "pulls": {
            dish.key: dish.pull_at.isoformat() for dish in plan.dishes if dish.pull_at is not None
        },
        "sky": sky_words_of(plan.sky),
        # For learning: under which light was the box read?
        "light": [hour_row(hour) for hour in plan.sky.hours],
        "names": {dish.key: dish.name for dish in plan.dishes if dish.load_at is not None},
        # For the record: was a dish taken out too soon, was the box cooler than likely?
        "ready": {
            dish.key: max(dish.done_at, dish.safe_at).isoformat()
            for dish in plan.dishes
            if dish.done_at is not None and dish.safe_at is not None
        },
        "low_c": _low_c(plan),
        # For the record of what chances came true; none without skies.
        "chances": {
            "box": None if plan.chances is None else plan.chances.holds,
            "threshold_c": plan.window.threshold_c,
            "hot": _hot(plan.window),
            "dishes": {
                dish.key: {"chance": dish.chance, "serve_at": dish.serve_at.isoformat()}
                for dish in plan.dishes
                if dish.chance is not None
            },
        },
    }


def _low_c(plan: DayPlan) -> list[list[Any]]:
    """Return what a tenth of the skies make the loaded box cooler than, every half hour."""
    told: list[list[Any]] = []
    last = None
    for sample in plan.box:
        if sample.low_c is not None and (last is None or sample.at - last >= BAND_EVERY):
            told.append([sample.at.isoformat(), round(sample.low_c, 1)])
            last = sample.at
    return told


def _hot(window: Window) -> list[str] | None:
    """Return from when to when the empty box is above its threshold; None for never."""
    if window.opens_at is None or window.closes_at is None:
        return None
    return [window.opens_at.isoformat(), window.closes_at.isoformat()]


def _aims(entries: Iterable[Entry]) -> tuple[ObservedAim, ...]:
    """Return the aims the cook noted."""
    return tuple(
        ObservedAim(
            at=entry.at,
            face_true_deg=float(entry.data["face_true_deg"]),
            mirror_deg=entry.data.get("mirror_deg"),
        )
        for entry in entries
        if entry.kind == "turned" and "face_true_deg" in entry.data
    )


def _aims_as_planned(shown: Sequence[Entry], *, now: datetime) -> tuple[ObservedAim, ...]:
    """Return the aims of the last shown plan whose time has come since it was shown."""
    if not shown:
        return ()
    aims = _told_aims(shown[-1].data)
    return tuple(aim for aim in aims if aim.at <= now and _was_seen(aim.at, shown))


def _was_seen(at: datetime, shown: Sequence[Entry]) -> bool:
    """Return True when some plan had been shown before a step of it was due."""
    return shown[0].at <= at + SHOWN_IN_TIME


def _merged(
    noted: tuple[ObservedAim, ...], planned: tuple[ObservedAim, ...]
) -> tuple[ObservedAim, ...]:
    """Return the aims that were noted, and the planned ones that no note speaks of."""
    unspoken = [
        aim for aim in planned if all(abs(aim.at - other.at) > SAME_TURN for other in noted)
    ]
    return tuple(sorted([*noted, *unspoken], key=lambda aim: aim.at))


def _meet(wish: Wish, entries: Iterable[Entry], shown: Sequence[Entry], *, now: datetime) -> Wish:
    """Return a wish with the times at which its dish really went in and came out."""
    mine = [entry for entry in entries if entry.subject == wish.dish]
    loaded = [entry.at for entry in mine if entry.kind == "loaded"]
    pulled = [entry.at for entry in mine if entry.kind == "pulled"]
    planned = shown[-1].data.get("loads", {}).get(wish.dish) if shown else None
    planned_at = datetime.fromisoformat(planned) if planned else None
    if loaded:
        wish = replace(wish, loaded_at=loaded[-1], loaded_as_planned=False)
    elif planned_at is not None and planned_at <= now and _was_seen(planned_at, shown):
        wish = replace(wish, loaded_at=planned_at, loaded_as_planned=True)
    # What came out before it went in is another day's: yesterday's pot, noted this morning.
    begun = wish.loaded_at or planned_at
    cores = sorted((e.at, float(e.data["core_c"])) for e in mine if e.kind == "core")
    wish = replace(wish, cores=tuple(c for c in cores if begun is not None and c[0] >= begun))
    # Where nothing says when it went in, hours before its meal is too early for today's.
    since = [at for at in pulled if at >= (begun or wish.serve_at - UNNOTED)]
    return replace(wish, pulled_at=since[-1]) if since else wish
