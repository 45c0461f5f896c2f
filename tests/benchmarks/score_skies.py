"""How true the chances of made-up skies prove: run `python tests/benchmarks/score_skies.py`.

Reads a year of measured hours at seven stations (tests/data/weather: NOAA SURFRAD light, CAMS
McClear cloudless light, by way of the MIT-licensed solarbenchmarks).  The forecast is yesterday's
clear-sky index of the same hour, a stand-in that is worse than any weather model.  Each station
is scored with tables made from the six others.  `--table` prints the table that ships, made from
all seven.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from measured_weather import YEAR, rows_of

from suntrack.sky.error_quantiles import EDGES, ErrorQuantiles, correlated_normals, fit_departures
from suntrack.sky.scores import brier, fair_crps, reliability

if TYPE_CHECKING:
    from numpy.typing import NDArray

DAY_S = 86400.0
LIT_W_M2 = 100.0
"""Hours with less cloudless light than this make no pair: their index is noise.  [W/m2]"""
NOON_H, ENOUGH_H, BRIGHT_W_M2 = 8, 4, 500.0
"""The event: at least 4 of the 8 hours about noon with 500 W/m2 or more."""
MEMBERS = 100


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Station:
    """A year at one station, arrays of shape (days, hours), an hour labelled by its end."""

    name: str
    starts_at_s: float
    """Start of the first hour of the first day.  [s]"""
    measured_w_m2: NDArray[np.float64]
    clear_w_m2: NDArray[np.float64]

    @property
    def index(self) -> NDArray[np.float64]:
        """The clear-sky index; nan where the sun is low or nothing was measured."""
        lit = self.clear_w_m2 > LIT_W_M2
        return np.where(lit, self.measured_w_m2 / np.where(lit, self.clear_w_m2, 1.0), np.nan)

    def pairs(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Return yesterday's and today's index of the same hours, one after the other."""
        return self.index[:-1].ravel(), self.index[1:].ravel()


def read_year() -> tuple[Station, ...]:
    """Return every station, its days cut at twelve hours from solar noon."""
    rows = rows_of(YEAR)
    names = sorted({row["station"] for row in rows})
    return tuple(_station(name, [row for row in rows if row["station"] == name]) for name in names)


def _station(name: str, rows: list[dict[str, str]]) -> Station:
    ends_s = np.array([datetime.fromisoformat(row["time_utc_end"]).timestamp() for row in rows])
    light = [[float(row[key] or "nan") for row in rows] for key in ("ghi", "ghi_clear_mcclear")]
    measured, clear = np.array(light)
    # The middle of the year's cloudless light, on the circle of hours, is solar noon.
    angle = (ends_s - 1800.0) / DAY_S * 2.0 * np.pi
    noon_s = np.angle(np.sum(clear * np.exp(1j * angle))) / (2.0 * np.pi) * DAY_S
    starts_s = ends_s.min() + np.round((noon_s - ends_s.min()) / 3600.0) * 3600.0 - DAY_S / 2.0
    starts_s -= DAY_S * np.ceil((starts_s - ends_s.min()) / DAY_S)
    hour = np.round((ends_s - starts_s) / 3600.0).astype(int) - 1
    shape = (hour.max() // 24 + 1, 24)
    tables = []
    for values, missing in ((measured, np.nan), (clear, 0.0)):
        table = np.full(shape, missing)
        table[hour // 24, hour % 24] = values
        tables.append(table)
    return Station(
        name=name, starts_at_s=float(starts_s), measured_w_m2=tables[0], clear_w_m2=tables[1]
    )


def table_of(stations: tuple[Station, ...]) -> ErrorQuantiles:
    """Return the departures of several stations together."""
    first, then = zip(*(station.pairs() for station in stations), strict=True)
    return fit_departures(np.concatenate(first), np.concatenate(then))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Scored:
    """Chances and outcomes of many station-days, by the name of the method."""

    chances: dict[str, NDArray[np.float64]]
    came: NDArray[np.float64]
    crps: dict[str, NDArray[np.float64]]
    """Of the day's light about noon, in shares of the cloudless light."""
    spread: dict[str, float]
    """Mean standard deviation of the same light over the members."""
    error: dict[str, float]
    """Standard deviation of what came about the members' mean; a good spread is like it."""


def leave_one_out(stations: tuple[Station, ...], *, seed: int = 1) -> Scored:
    """Return every day of every station, foretold from the six others."""
    parts = []
    for i, station in enumerate(stations):
        others = stations[:i] + stations[i + 1 :]
        parts.append(_score(station, others, random=np.random.default_rng([seed, i])))

    def joined(pick: str, name: str) -> NDArray[np.float64]:
        return np.concatenate([part[pick][name] for part in parts])

    return Scored(
        chances={name: joined("chance", name) for name in parts[0]["chance"]},
        came=joined("came", "came"),
        crps={name: joined("crps", name) for name in parts[0]["crps"]},
        spread={name: float(joined("spread", name).mean()) for name in parts[0]["spread"]},
        error={name: float(joined("error", name).std()) for name in parts[0]["error"]},
    )


Part = dict[str, dict[str, "NDArray[np.float64]"]]


def _score(station: Station, others: tuple[Station, ...], *, random: np.random.Generator) -> Part:
    """Return chances, outcomes and scores of one station's days."""
    noon = slice(12 - NOON_H // 2, 12 + NOON_H // 2)
    index = station.measured_w_m2[:, noon] / np.maximum(station.clear_w_m2[:, noon], 1.0)
    known = np.isfinite(index) & (station.clear_w_m2[:, noon] > 0.0)
    whole = np.flatnonzero(known.all(axis=1))
    days = np.intersect1d(whole, whole + 1)
    clear, foreseen, then = station.clear_w_m2[days, noon], index[days - 1], index[days]
    table = table_of(others)
    usual = _days_of(others, noon)
    members = {
        "dressed": _dressed(table, foreseen, random=random, together=True),
        "dressed, hours apart": _dressed(table, foreseen, random=random, together=False),
        "usual sky": usual[random.integers(0, len(usual), (days.size, MEMBERS))],
    }
    came = _event(then * clear)
    share = clear / clear.sum(axis=1, keepdims=True)
    daily = {name: (index * share[:, None]).sum(axis=2) for name, index in members.items()}
    truth, said = (then * share).sum(axis=1), (foreseen * share).sum(axis=1)
    rate = np.mean([_event(other.measured_w_m2[:, noon]).mean() for other in others])
    chance = {name: _event(index * clear[:, None]).mean(axis=1) for name, index in members.items()}
    return {
        "chance": chance
        | {"yes or no": _event(foreseen * clear), "base rate": np.full(days.size, rate)},
        "came": {"came": came},
        "crps": {name: fair_crps(values, truth) for name, values in daily.items()}
        | {"yes or no": np.abs(said - truth)},
        "spread": {name: values.std(axis=1) for name, values in daily.items()},
        "error": {name: values.mean(axis=1) - truth for name, values in daily.items()},
    }


def _dressed(
    table: ErrorQuantiles,
    foreseen: NDArray[np.float64],
    *,
    random: np.random.Generator,
    together: bool,
) -> NDArray[np.float64]:
    """Return members of the index, shape (days, members, hours)."""
    days, hours = foreseen.shape
    if together:
        at_h = np.arange(hours, dtype=np.float64)
        normal = correlated_normals(random, at_h=at_h, skies=days * MEMBERS)
    else:
        normal = random.standard_normal((days * MEMBERS, hours))
    return table.at(foreseen[:, None], normal.reshape(days, MEMBERS, hours))


def _days_of(stations: tuple[Station, ...], noon: slice) -> NDArray[np.float64]:
    """Return whole days of the index about noon, shape (days, hours)."""
    rows = [s.measured_w_m2[:, noon] / np.maximum(s.clear_w_m2[:, noon], 1.0) for s in stations]
    days = np.concatenate(rows)
    return np.stack([day for day in days if np.isfinite(day).all()])


def _event(light_w_m2: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return 1 where enough of the hours (the last axis) are bright, else 0."""
    return np.where((light_w_m2 >= BRIGHT_W_M2).sum(axis=-1) >= ENOUGH_H, 1.0, 0.0)


def table_text(departures: ErrorQuantiles, counts: list[int]) -> str:
    """Return the rows of the table that ships, as TOML."""

    def row(values: NDArray[np.float64]) -> str:
        return "[" + ", ".join(f"{value:g}" for value in np.round(values, 3)) + "]"

    lines = [f"levels = {row(departures.levels)}", f"usual = {row(departures.usual)}"]
    for i, foreseen in enumerate(departures.foreseen):
        text = f"foreseen = {foreseen:.3f}\nhours = {counts[i]}"
        lines.append(f"\n[[bin]]\n{text}\nmeasured = {row(departures.measured[i])}")
    return "\n".join(lines)


def bin_counts(stations: tuple[Station, ...]) -> list[int]:
    """Return how many pairs stand behind each bin."""
    first, then = (
        np.concatenate(rows) for rows in zip(*(s.pairs() for s in stations), strict=True)
    )
    both = ~(np.isnan(first) | np.isnan(then))
    return [int(count) for count in np.histogram(first[both], EDGES)[0]]


def main() -> None:
    """Print the table of scores, or with `--table` the table that ships."""
    stations = read_year()
    if "--table" in sys.argv[1:]:
        print(table_text(table_of(stations), bin_counts(stations)))
        return
    scored = leave_one_out(stations)
    print(f"{scored.came.size} station-days, came true on {100 * scored.came.mean():.0f} %")
    for name, chance in scored.chances.items():
        print(f"\n{name}: Brier {brier(chance, scored.came):.3f}", end="")
        if name in scored.crps:
            print(f", CRPS of the day's light {scored.crps[name].mean():.3f}", end="")
        if name in scored.spread:
            print(f", spread {scored.spread[name]:.2f}, error {scored.error[name]:.2f}", end="")
        print()
        for one in reliability(chance, scored.came):
            print(f"  said {one.foretold:.2f}, came {one.came:.2f}, {one.count:5d} days")


if __name__ == "__main__":
    main()
