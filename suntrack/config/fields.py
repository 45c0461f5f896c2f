"""How one key is checked: quantities with units, numbers, names, names of a library.

Every check answers in the cook's words.  What keys there are stands in `config_model`;
only that module, this one and `config_pieces` know the checking library.

Checks are pydantic's, because it reports every mistake with its path; the line finder is ours,
because no TOML parser keeps line numbers.  Lost: stopping at the first mistake.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from typing import Any
from zoneinfo import ZoneInfo, available_timezones

from pydantic import BeforeValidator
from pydantic_core import PydanticCustomError

from suntrack import units
from suntrack.config.feed_settings import is_loopback
from suntrack.errors import did_you_mean, near_words

MACHINE_ZONES = ("posix", "right", "localtime", "posixrules", "Factory")
"""Names the zone data has for a machine's own use; `right` counts leap seconds."""


def refusal(allowed: str, remedy: str = "") -> PydanticCustomError:
    """Return the error that carries what is allowed and, if there is more to say, a remedy."""
    return PydanticCustomError("refusal", "{allowed}", {"allowed": allowed, "remedy": remedy})


def near(name: str, known: Collection[str]) -> str:
    """Return the hint for a name that does not exist."""
    return did_you_mean(name, known, otherwise="Choose one of these.")


def quantity(
    parse: Callable[[str], float], low: float, high: float, allowed: str
) -> BeforeValidator:
    """Return a check that reads a text with a unit and holds it to a range.

    `allowed` says the range in the cook's words and is what every mistake is answered with.
    """

    def read(value: Any) -> float:
        if not isinstance(value, str):
            raise refusal(f"{allowed}, in quotation marks and with its unit")
        try:
            number = parse(value)
        except ValueError as error:
            comma = "Write a point, not a comma, before the decimals." if "," in value else ""
            form = str(error).partition(", such as")[0]
            raise refusal(f"{allowed} ({form})", comma) from None
        if not low - 1e-9 <= number <= high + 1e-9:
            raise refusal(allowed)
        return number

    return BeforeValidator(read)


def length(low_m: float, high_m: float, allowed: str) -> BeforeValidator:
    """Return the check of a length."""
    return quantity(units.parse_length_m, low_m, high_m, allowed)


def angle(low_deg: float, high_deg: float, example: str) -> BeforeValidator:
    """Return the check of an angle."""
    allowed = f'{low_deg:g} to {high_deg:g} degrees, such as "{example}"'
    return quantity(units.parse_angle_deg, low_deg, high_deg, allowed)


def mass(low_kg: float, high_kg: float, allowed: str) -> BeforeValidator:
    """Return the check of a mass."""
    return quantity(units.parse_mass_kg, low_kg, high_kg, allowed)


def number(low: float, high: float, meaning: str) -> BeforeValidator:
    """Return the check of a number without a unit."""

    def read(value: Any) -> float:
        # In Python true is a number, and nan is in no range.
        is_number = isinstance(value, int | float) and not isinstance(value, bool)
        if not is_number or not low <= value <= high:
            raise refusal(f"a number from {low:g} to {high:g}: {meaning}")
        return float(value)

    return BeforeValidator(read)


def whole_number(value: Any) -> Any:
    """Refuse what Python takes for a whole number and a cook does not."""
    if type(value) is not int:
        raise refusal("a whole number, without quotation marks: 1 or 2")
    return value


def name(longest: int) -> BeforeValidator:
    """Return the check of a name that fits on a line of a screen."""

    def read(value: Any) -> str:
        if not isinstance(value, str):
            raise refusal("text in quotation marks")
        if not value.strip() or len(value) > longest or not value.isprintable():
            raise refusal(f"1 to {longest} letters, digits and signs on one line")
        return value

    return BeforeValidator(read)


@BeforeValidator
def way_name(value: Any) -> str:
    """Return the name of a way out, which stands in the journal and on the screen."""
    allowed = "1 to 20 small letters, digits and hyphens, other than terminal, desktop and sound"
    if not isinstance(value, str) or not re.fullmatch(r"[a-z][a-z0-9-]{0,19}", value):
        raise refusal(allowed)
    if value in ("terminal", "desktop", "sound"):
        raise refusal(allowed, f"{value} is a way already; choose another name.")
    return value


@BeforeValidator
def address(value: Any) -> str:
    """Return an address to send to; what it says is not repeated in a complaint."""
    is_url = isinstance(value, str) and re.fullmatch(r"[a-z][a-z0-9+.-]*://\S+|\$\{\w+\}", value)
    if not is_url or len(value) > 500:
        raise refusal("an address such as json://host/path, or ${NAME} for a secret that is one")
    return str(value)


def known_name(known: Callable[[], Collection[str]], where_listed: str = "") -> BeforeValidator:
    """Return the check of a name that has to be in a library."""

    def read(value: Any) -> str:
        return held_to(value, known(), where_listed)

    return BeforeValidator(read)


def held_to(value: Any, known: Collection[str], where_listed: str = "") -> str:
    """Return a name that has to be one of some; raise the refusal with the near one."""
    names = list(known)
    if not isinstance(value, str) or value not in names:
        raise refusal(where_listed or ", ".join(names), near(str(value), names))
    return value


def time_zone(value: Any) -> str:
    """Return a time zone the system knows; the whole list is read only to help."""
    allowed = "an IANA time zone, such as Africa/Gaborone"
    if not isinstance(value, str):
        raise refusal(allowed)
    try:
        if value.split("/")[0] in MACHINE_ZONES:
            raise ValueError
        ZoneInfo(value)
    except (KeyError, ValueError, OSError):
        raise refusal(allowed, _near_zone(value)) from None
    return value


def _near_zone(value: str) -> str:
    """Return the zone that was meant, found by its whole name or by its city alone."""
    wanted = value.strip().replace(" ", "_").lower()
    zones = {zone.lower(): zone for zone in sorted(available_timezones())}
    cities = {name.rsplit("/", 1)[-1]: zone for name, zone in zones.items() if "/" in name}
    names = cities if "/" not in wanted else zones
    found = near_words(wanted, names, alike=0.7)
    return f"Did you mean {names[found[0]]}?" if found else "Name the nearest large city's zone."


def _contact(value: Any) -> Any:
    """Refuse what cannot stand in a request or reaches nobody."""
    good = isinstance(value, str) and re.fullmatch(r"[!-'*-\[\]-~]{5,80}", value)
    if not good or not ("@" in value or value.startswith("https://")):
        raise refusal("an e-mail address or an https:// page of your own, up to 80 letters")
    return value


contact = BeforeValidator(_contact)
"""Takes the way in which a weather service can reach the cook."""


def _own_server(value: Any) -> Any:
    if not isinstance(value, str) or not is_loopback(value):
        raise refusal("http:// to this computer itself, such as http://127.0.0.1:8080")
    return value


own_server = BeforeValidator(_own_server)
"""Takes the address of a server on this very computer, for trying things out."""


def _one_or_twelve(value: Any) -> Any:
    if isinstance(value, list) and len(value) != 12:
        raise refusal("one value, or a list of twelve, January first")
    return value if isinstance(value, list) else [value] * 12


one_or_twelve = BeforeValidator(_one_or_twelve)
"""Takes one value for the whole year, or twelve."""
