"""The day as a record: everything the plan says, in plain frozen pieces.

Screens, alerts and `--json` read only what is here.  Every instant is aware; every
record is made once, by `suntrack.day`, and never changed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Literal

StepKind = Literal["prepare", "preheat", "load", "turn", "pull", "gust", "rain", "cover"]
DishStatus = Literal["ready", "late", "not done", "not safe", "refused", "spoiled"]
MendKind = Literal["somebody", "half", "alone", "later meal"]
TakeOutKind = Literal["spoiled", "refused", "not wanted", "left over", "unfinished"]
RevisionCause = Literal["reading", "note", "config", "forecast", "no forecast", "time"]
ChangeKind = Literal["earlier", "without", "smaller"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """One dish the cook wants today."""

    dish: str
    """Key of a dish in the library."""
    serve_at: datetime
    """When it is wanted on the table."""
    mass_kg: float | None = None
    """None for the library's amount.  [kg]"""
    pot: str | None = None
    """Name of a pot; None to let the plan choose."""
    confirmed: bool = False
    """The cook has confirmed the dish's gate (see Dish.gate)."""
    loaded_at: datetime | None = None
    """When the journal says it really went in."""
    pulled_at: datetime | None = None
    """When the journal says it really came out."""
    loaded_as_planned: bool = False
    """True when `loaded_at` is the plan's own time, taken as followed."""
    cores: tuple[tuple[datetime, float], ...] = ()
    """What a food thermometer in its middle showed since it went in, in order of time.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeHours:
    """A stretch of the day when the cook is there."""

    starts_at: datetime
    """When it begins."""
    ends_at: datetime
    """When it is over."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """Is today a cooking day?"""

    cook: bool
    """True when something comes good more often than not."""
    chance: float | None
    """Between 0 and 1; None when no forecast stands behind the plan."""
    reason: str
    """Why, in words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """When the empty box is at least as hot as the threshold."""

    opens_at: datetime | None
    """None when the box never gets there."""
    closes_at: datetime | None
    """When it falls below the threshold; None for not in the stretch."""
    threshold_c: float
    """From what temperature the box cooks.  [C]"""
    peak_c: float
    """Hottest the empty box gets.  [C]"""
    peak_at: datetime
    """When the empty box is hottest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One aim of the box: where to face it from this moment on."""

    at: datetime
    """When to face the box so."""
    face_true_deg: float
    """Clockwise from true north.  [deg]"""
    face_compass_deg: float
    """Clockwise from where a compass points.  [deg]"""
    mirror_deg: float | None
    """Mirror angle from the glass; None without a mirror.  [deg]"""
    turn_by_deg: float
    """From the aim before: to the right (clockwise from above) is positive.  [deg]"""
    any_way: bool = False
    """True when the box takes in as much light whichever way it faces."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnChoice:
    """One way to turn through the day, and the light it keeps."""

    name: str
    """As a cook reads it."""
    turns: tuple[Turn, ...]
    """Each aim, the first one included."""
    light_kept: float
    """Share of what a box followed minute by minute would take in.  [-]"""
    chance: float | None = None
    """Share of the skies on which everything promised is done and safe in time; None without
    skies or dishes.  [-]"""
    weakest_sun: float | None = None
    """Without a forecast: the weakest sun, as a share of the clear one, with which that is
    still so; None for none, or without dishes.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoxSample:
    """The box at one moment."""

    at: datetime
    """The moment."""
    box_c: float
    """What an oven thermometer shows in the loaded box.  [C]"""
    empty_c: float
    """What it would show if the box were left empty.  [C]"""
    low_c: float | None = None
    """A tenth of the skies make the loaded box cooler than this; None without skies.  [C]"""
    middle_c: float | None = None
    """Half of the skies do.  [C]"""
    high_c: float | None = None
    """A tenth of the skies make it hotter.  [C]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class DishSample:
    """One dish at one moment: its core, and how far it is to done and to safe."""

    at: datetime
    """The moment."""
    core_c: float
    """Its middle then.  [C]"""
    done: float
    """Share of the way to done, 0 to 1.  [-]"""
    safe: bool
    """True when its rule is met by then, by the plan."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Remedy:
    """With what change a dish that was left out would come good."""

    kind: MendKind
    """Somebody there to load it, half as much, the box to itself, or a later meal."""
    load_at: datetime | None = None
    """When somebody would have to load it."""
    ready_at: datetime | None = None
    """When it would be ready."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Revision:
    """A step that the plan shown last asked for otherwise."""

    kind: Literal["load", "turn"]
    """What is asked for otherwise."""
    before: datetime | None
    """None for a step that was not asked for."""
    after: datetime | None
    """None for one that no longer is."""
    cause: RevisionCause
    """A reading, another note, the config, a new forecast, one that is too old, or time."""
    dish: str | None = None
    """Its name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DishPlan:
    """What the plan says of one dish."""

    key: str
    """The library's key."""
    name: str
    """As a cook reads it."""
    pot: str | None
    """Its pot; None for none."""
    serve_at: datetime
    """When it is wanted on the table."""
    load_at: datetime | None
    """When it goes in; None when it does not."""
    done_at: datetime | None
    """When it is done; None for never."""
    safe_at: datetime | None
    """When it has the heat its rule asks for; None for never."""
    pull_at: datetime | None
    """When to take it out, or when it was; None when it does not come good."""
    pull_by: datetime | None
    """At the latest; None when it does not come good."""
    stove_by: datetime | None
    """Latest moment at which moving it to the kitchen stove still saves it."""
    status: DishStatus
    """How it stands, in one word."""
    notes: tuple[str, ...]
    """What else to know of it, in words."""
    curve: tuple[DishSample, ...] = ()
    """Its middle while it is in the box."""
    red_at: datetime | None = None
    """When a safety clock of it runs out in the box; None for never, as far as planned."""
    chance: float | None = None
    """Share of the skies on which it is done and safe by its meal; None without skies, and
    for what does not go in.  [-]"""
    mends: tuple[Remedy, ...] = ()
    """For a dish left out: what would help, the least change first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One thing for the cook to do."""

    key: str
    """Stable for the day, such as turn-0820 or load-lentil-soup."""
    kind: StepKind
    """What is to be done."""
    at: datetime
    """When it is due."""
    dish: str | None = None
    """Key of the dish it concerns."""
    turn: Turn | None = None
    """The aim of a turn; None for other kinds."""
    detail: str = ""
    """Words for a `prepare` step; elsewhere empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SkyHour:
    """What the forecast behind a plan says of an hour of its day; kept to learn from."""

    starts_at: datetime
    """When it begins."""
    ends_at: datetime
    """When it is over."""
    global_w_m2: float
    """Mean light on level ground."""
    air_c: float | None
    """Air outdoors; None where the feed has none.  [C]"""
    wind_m_s: float | None
    """At 10 m, as the forecast has it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SkyNote:
    """Where the sky of this plan came from."""

    source: str
    """Where it comes from."""
    issued_at: datetime | None
    """None when the forecast does not say, and for none."""
    fetched_at: datetime | None = None
    """When the forecast was read from the network; None for none."""
    attribution: str = ""
    """The words that the forecast's terms ask to be shown."""
    notes: tuple[str, ...] = ()
    """What is missing or doubtful, in whole sentences."""
    hours: tuple[SkyHour, ...] = ()
    """Its light through the day; none without a forecast."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guarding:
    """A stretch of the day in which the box has to be kept from gusts or rain."""

    kind: Literal["gust", "rain"]
    """What it is."""
    starts_at: datetime
    """When it begins."""
    ends_at: datetime
    """When it is over."""
    most: float
    """The strongest gust at 10 m [m/s], or the greatest chance of rain [-]."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """Something the cook could do, and what the chance of the day would then be."""

    kind: ChangeKind
    """Load all that is to come earlier, leave one dish out, or cut one smaller."""
    chance: float
    """Of everything that then goes in.  [-]"""
    dish: str | None = None
    """Name of the dish it concerns; None for all."""
    by_min: int | None = None
    """How much earlier.  [min]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chances:
    """What becomes of the plan over many skies that the forecast may turn out to be."""

    skies: int
    """How many were counted."""
    holds: float
    """Share on which the empty box gets above the threshold and stays there for a while.  [-]"""
    good: float | None
    """Share on which every dish that goes in is done and safe by its meal; None for none.  [-]"""
    alone: float | None = None
    """Where nothing goes in: the best chance of a dish that was left out, had it gone in alone
    and as early as can be; None for none.  [-]"""
    sampling_error: float
    """Standard error of such a share at most, from the number of skies alone.  [-]"""
    changes: tuple[Change, ...] = ()
    """What would raise `good`, the best first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TakeOut:
    """Food that must not stay in the box, or that the plan does not know of."""

    kind: TakeOutKind
    """Its safety clock ran out, it is not for this box, it is none of the day's dishes, nobody
    noted that it came out on the day before, or it came out before it was done and safe."""
    dish: str
    """The library's key."""
    name: str
    """As a cook reads it."""
    loaded_at: datetime
    """When it went in."""
    reason: str = ""
    """Why it is refused, in words; elsewhere empty."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPlan:
    """The whole day."""

    date: date
    """The day, at the site."""
    site_name: str
    """As the cook named it."""
    made_at: datetime
    """When it was made."""
    sunrise_at: datetime | None
    """None when the sun does not rise."""
    sunset_at: datetime | None
    """None when it does not set."""
    solar_noon_at: datetime
    """When the sun is highest."""
    declination_deg: float
    """Compass needle east of true north is positive.  [deg]"""
    verdict: Verdict
    """Is it a cooking day?"""
    window: Window
    """When the empty box is hot enough."""
    turns: TurnChoice
    """The one to follow."""
    turn_choices: tuple[TurnChoice, ...]
    """The one to follow, the half-hour habit, and others, for comparison."""
    box: tuple[BoxSample, ...]
    """The box through the day."""
    dishes: tuple[DishPlan, ...]
    """In the order of the wishes."""
    steps: tuple[Step, ...]
    """In order of time."""
    cautions: tuple[str, ...]
    """Names of the cautions that belong to the day."""
    sky: SkyNote
    """Where the sky came from."""
    turn_table: tuple[TurnChoice, ...] = ()
    """Each number of turns that was tried, fewest first, and the half-hour habit last."""
    revisions: tuple[Revision, ...] = ()
    """What is not as it was shown last, in order of time."""
    chances: Chances | None = None
    """None when no skies stand behind the plan."""
    guards: tuple[Guarding, ...] = ()
    """In order of time; empty without a forecast that speaks of them."""
    take_out: tuple[TakeOut, ...] = ()
    """As of the moment the plan is shown (see `suntrack.plan.standing`); empty in a fresh plan."""
    side_mirrors_deg: float | None = None
    """Angle from the glass at which side mirrors are left; None without any.  [deg]"""
