"""Measured weather and a real ensemble for tests and benchmarks; `data/README.md` says whose."""

from __future__ import annotations

import csv
import gzip
from pathlib import Path

FOLDER = Path(__file__).parent / "data" / "weather"
SRRL = ("srrl_201206.csv.gz", "srrl_201208.csv.gz")
MEMBERS, YEAR = "gefs_members.csv.gz", "surfrad_2018_hourly.csv.gz"


def rows_of(name: str, *, skip: int = 0) -> list[dict[str, str]]:
    """Return the rows of a packed file by the names of its head, after so many lines before it."""
    with gzip.open(FOLDER / name, "rt", encoding="utf-8", newline="") as file:
        for _ in range(skip):
            next(file)
        return list(csv.DictReader(file))


def srrl_rows(name: str) -> list[dict[str, str]]:
    """Return the hours of a month at NREL SRRL; a line about the station stands before the head."""
    return rows_of(name, skip=1)
