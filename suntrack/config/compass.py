"""What a compass shows at the cook's site."""

from __future__ import annotations

from typing import TYPE_CHECKING

from suntrack.sky.declination import declination

if TYPE_CHECKING:
    from datetime import date

    from suntrack.config.reader import Config
    from suntrack.sky.declination import Declination


def site_declination(config: Config, *, on: date) -> Declination:
    """Return the compass declination at the site."""
    return declination(
        latitude_deg=config.site.latitude_deg,
        longitude_deg=config.site.longitude_deg,
        elevation_m=config.site.elevation_m,
        on=on,
    )
