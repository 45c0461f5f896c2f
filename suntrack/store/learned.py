"""The learned factors on disk: written when the cook says so, taken back the same way.

They belong to one box.  A box that is built otherwise since has to be learned anew, and the
old factors are left alone but not used.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from suntrack.box.build import Learned

if TYPE_CHECKING:
    from suntrack.box.build import Box
    from suntrack.config.reader import Config

FILE = "learned.json"
LEAST, MOST = 0.25, 4.0
"""Factors outside of this were not written by us.  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """The factors in use, and how many days they come from."""

    learned: Learned
    """The factors."""
    days: int
    """How many taught them."""


def keep(data_dir: Path, box: Box, kept: Kept) -> Path:
    """Write the factors of a box, whole or not at all, and return where."""
    path = data_dir / FILE
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps({"box": box_digest(box), "days": kept.days, **asdict(kept.learned)}, indent=2)
    part = path.with_suffix(".part")
    part.write_text(text + "\n", encoding="utf-8")
    part.replace(path)
    return path


def kept_for(data_dir: Path, box: Box) -> Kept | None:
    """Return the factors in use for a box; None for none, for another box, or damaged ones."""
    try:
        found = json.loads((data_dir / FILE).read_text(encoding="utf-8"))
        if found["box"] != box_digest(box):
            return None
        factors = {name: float(found[name]) for name in ("loss", "light", "store")}
        days = int(found["days"])
    except (OSError, ValueError, KeyError, TypeError):
        return None
    if not all(LEAST <= factor <= MOST for factor in factors.values()):
        return None
    return Kept(learned=Learned(**factors), days=days)


def take_back(data_dir: Path) -> bool:
    """Forget the factors; return whether there were any."""
    path = data_dir / FILE
    was_there = path.exists()
    path.unlink(missing_ok=True)
    return was_there


def with_learned(config: Config, data_dir: Path) -> Config:
    """Return a config whose box has what was learned, its fingerprint changed with it."""
    kept = kept_for(data_dir, config.box)
    if kept is None:
        return config
    digest = hashlib.sha256(f"{config.fingerprint} {kept.learned}".encode()).hexdigest()
    return replace(config, box=replace(config.box, learned=kept.learned), fingerprint=digest)


def box_digest(box: Box) -> str:
    """Return what tells one box from another, its name and what was learned aside."""
    said = repr(replace(box, name="", learned=Learned()))
    # A box without side mirrors is the same box as before there was a word for them.
    said = said.replace(", side_mirrors=None", "")
    return hashlib.sha256(said.encode()).hexdigest()[:16]
