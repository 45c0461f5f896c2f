"""Loads moved earlier where many skies ask for it: a cloud then costs no supper.

The search for loads knows the sky planned for and a fixed margin.  Here each dish in turn
may go in earlier, as long as the planned day stays as good as it was: nothing is kept longer
than it stands, nothing warms up more slowly than it should.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from suntrack.day.chance import all_good
from suntrack.day.supper import pull_window, status_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    import numpy as np
    from numpy.typing import NDArray

    from suntrack.box.heat import Trace
    from suntrack.day.chance import SkyDay
    from suntrack.day.supper import Cooking, Fate

    Going = dict[int, Cooking]
    Fates = dict[int, Fate]

EARLIER_MIN = (30, 60, 90, 120)
WORTH = 0.03
"""A dish goes in earlier when that saves the day on three of a hundred skies (our choice).  [-]"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surer:
    """What it takes to try other loads."""

    day: SkyDay
    step_min: float
    options: Callable[[Cooking], NDArray[np.intp]]
    """The steps at which a dish may go in."""
    run: Callable[[Going], tuple[Trace, Fates]]
    """The planned day with such loads."""

    def loads(self, going: Going, fates: Fates) -> Going:
        """Return the dishes, some of them loaded earlier; as they are when nothing helps."""
        counted = frozenset(going)
        best, chance = going, all_good(self.day.good(going), counted)
        for i in sorted(going, key=lambda i: going[i].serve_step):
            for tried in self._earlier(best, i):
                if not self._stays_good(tried, fates):
                    continue
                found = all_good(self.day.good(tried), counted)
                if found >= chance + WORTH:
                    best, chance = tried, found
        return best

    def _earlier(self, going: Going, i: int) -> Iterator[Going]:
        """Yield the day with one dish loaded earlier, a little first."""
        cooking = going[i]
        if cooking.seat.wish.loaded_at is not None:
            return
        may = self.options(cooking)
        for by_min in EARLIER_MIN:
            early = may[may <= cooking.load_step - by_min / self.step_min]
            if early.size:
                yield {**going, i: replace(cooking, load_step=int(early[-1]))}

    def _stays_good(self, tried: Going, before: Fates) -> bool:
        """Return True when the planned day is no worse for any dish."""
        _, fates = self.run(tried)
        return all(self._is_no_worse(cooking, before[i], fates[i]) for i, cooking in tried.items())

    def _is_no_worse(self, cooking: Cooking, before: Fate, fate: Fate) -> bool:
        if status_of(cooking, fate) != "ready":
            return status_of(cooking, before) == status_of(cooking, fate)
        warms_slowly = fate.verdict.amber_step is not None and before.verdict.amber_step is None
        return not warms_slowly and (self._waits(cooking, fate) or not self._waits(cooking, before))

    def _waits(self, cooking: Cooking, fate: Fate) -> bool:
        """Return True when a dish can stay in the box until its meal."""
        _, by = pull_window(cooking, fate, step_min=self.step_min)
        return by >= cooking.serve_step
