"""Films: how readily heat crosses from a surface to air, to another surface, to the sky.

Pure formulas from handbooks, each with its source; what they are applied to is decided in
`suntrack.box.heat.conductances`.  Every function takes floats or arrays and keeps their shape,
and is compiled into the simulator as it stands (`suntrack.box.heat.number` says what that
asks).
"""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np

from suntrack.box.heat.moist_air import GRAVITY_M_S2, KELVIN, air_properties
from suntrack.box.heat.number import Number

STEFAN_BOLTZMANN = 5.670374e-8
"""CODATA 2018.  [W/(m2 K4)]"""
GLASS_EMITTANCE = 0.84
"""Soda-lime glass, hemispherical: 0.837 at 20 C, M. Rubin, "Optical properties of soda lime
silica glasses", Solar Energy Materials 12 (1985) 275-288, abstract.  [-]"""
WALL_RADIATION_W_M2K = 5.5
"""Dull outer walls to surroundings as warm as the air, 4 x 0.9 x sigma x 300^3.  [W/(m2 K)]"""


def swinbank_sky_c(air_c: Number) -> Number:
    """Return the temperature at which a clear sky radiates.

    Parameters
    ----------
    air_c : float or ndarray
        Air near the ground.  [C]

    Returns
    -------
    sky_c : float or ndarray
        In the shape of `air_c`.  [C]

    Notes
    -----
    Swinbank (1963): 0.0552 times the air's kelvins to the power 1.5 (from memory, as given
    by Duffie and Beckman, section 3.9).  Humid skies are warmer by about 6 K.
    """
    air_k = air_c + KELVIN
    return 0.0552 * air_k * np.sqrt(air_k) - KELVIN


def wind_film_w_m2k(wind_m_s: Number) -> Number:
    """Return the film between an outer surface of the box and the wind.

    Parameters
    ----------
    wind_m_s : float or ndarray
        Wind at the box, 0 or more.  [m/s]

    Returns
    -------
    film : float or ndarray
        Convection only.  [W/(m2 K)]

    Notes
    -----
    2.8 + 3.0 V, Watmuff, Charters and Proctor (1977), from memory as listed by Duffie and
    Beckman, section 3.15.  It is chosen over McAdams' 5.7 + 3.8 V because that one probably
    holds radiation too, which is counted apart here; and over Test, Lessmann and Johary's
    8.55 + 2.56 V, measured on an open slope and too strong for a courtyard.
    """
    return 2.8 + 3.0 * wind_m_s


def radiation_w_m2k(first_c: Number, second_c: Number) -> Number:
    """Return the film of radiation between two black surfaces, exact for their difference.

    Parameters
    ----------
    first_c : float or ndarray
        One surface.  [C]
    second_c : float or ndarray
        The other surface.  [C]

    Returns
    -------
    film : float or ndarray
        Times the difference of the two gives the exchange.  [W/(m2 K)]
    """
    a, b = first_c + KELVIN, second_c + KELVIN
    return STEFAN_BOLTZMANN * (a + b) * (a * a + b * b)


def facing_emittance(first: float, second: float, area_share: float = 1.0) -> float:
    """Return the emittance that two facing surfaces have together.

    Parameters
    ----------
    first : float
        Emittance of the smaller surface.  [-]
    second : float
        Emittance of the larger one.  [-]
    area_share : float
        Area of the smaller over the larger: 1 for parallel plates, 0 for a small body in a
        large room.  [-]

    Returns
    -------
    emittance : float
        To be used with the area of the smaller surface.  [-]
    """
    return 1.0 / (1.0 / first + area_share * (1.0 / second - 1.0))


def parallel_radiation_w_m2k(
    first_c: Number, second_c: Number, first_emittance: float, second_emittance: float
) -> Number:
    """Return the film of radiation between two parallel plates.

    Parameters
    ----------
    first_c : float or ndarray
        One plate.  [C]
    second_c : float or ndarray
        The other plate.  [C]
    first_emittance : float
        Of the first plate.  [-]
    second_emittance : float
        Of the second plate.  [-]

    Returns
    -------
    film : float or ndarray
        Times the difference of the two gives the exchange.  [W/(m2 K)]
    """
    return facing_emittance(first_emittance, second_emittance) * radiation_w_m2k(first_c, second_c)


def rayleigh(delta_k: Number, film_c: Number, length_m: float) -> Number:
    """Return the Rayleigh number of air.

    Parameters
    ----------
    delta_k : float or ndarray
        Temperature difference; its sign is kept.  [K]
    film_c : float or ndarray
        Mean temperature of the air.  [C]
    length_m : float
        Height of a wall, width of a gap, or area over perimeter of a plate.  [m]

    Returns
    -------
    rayleigh : float or ndarray
        Buoyancy against friction and conduction.  [-]
    """
    return _buoyancy(delta_k, mean_c=film_c, length_m=length_m)[0]


def _buoyancy(delta_k: Number, mean_c: Number, length_m: float) -> tuple[Number, Number]:
    """Return the Rayleigh number and the conduction over the same length.  [-], [W/(m2 K)]"""
    # Together, because both need the air's properties, which cost the simulator most.
    air = air_properties(mean_c)
    drive = GRAVITY_M_S2 * length_m**3 * delta_k / (mean_c + KELVIN)
    ra = drive / (air.viscosity_m2_s * air.diffusivity_m2_s)
    return ra, air.conductivity_w_mk / length_m


def hollands_nusselt(rayleigh_number: Number, tilt_deg: float) -> Number:
    r"""Return the Nusselt number of an air gap heated from below.

    Parameters
    ----------
    rayleigh_number : float or ndarray
        On the width of the gap; zero or less for a gap heated from above.  [-]
    tilt_deg : float
        Of the gap from the horizontal, 0 to 75.  [deg]

    Returns
    -------
    nusselt : float or ndarray
        1 for air at rest.  [-]

    Raises
    ------
    ValueError
        If the tilt is outside the range given above.

    Notes
    -----
    .. math:: Nu = 1 + 1.44 [1 - 1708/R]^+ [1 - 1708 (\sin 1.8\beta)^{1.6}/R]
                     + [(R/5830)^{1/3} - 1]^+, \qquad R = Ra \cos\beta

    Hollands, Unny, Raithby and Konicek, J. Heat Transfer 98 (1976) 189 (from memory, as in
    Duffie and Beckman, equation 3.11.4).
    """
    if not 0.0 <= tilt_deg <= 75.0:
        msg = "tilt_deg has to be from 0 to 75"
        raise ValueError(msg)
    beta = radians(tilt_deg)
    lean: float = sin(1.8 * beta) ** 1.6
    # The 1 only matters where the air is at rest anyway; it avoids dividing by zero.
    r = 1.0 + np.maximum(rayleigh_number * cos(beta) - 1.0, 0.0)
    calm = 1708.0 / r
    rolls = 1.44 * np.maximum(1.0 - calm, 0.0) * (1.0 - calm * lean)
    return 1.0 + rolls + np.maximum((r / 5830.0) ** (1.0 / 3.0) - 1.0, 0.0)


def gap_film_w_m2k(lower_c: Number, upper_c: Number, gap_m: float, tilt_deg: float = 0.0) -> Number:
    """Return the convection through the air between two level or leaning glasses.

    Parameters
    ----------
    lower_c : float or ndarray
        The lower glass.  [C]
    upper_c : float or ndarray
        The upper glass; when it is the warmer one the air is at rest.  [C]
    gap_m : float
        Between the glasses, above 0.  [m]
    tilt_deg : float
        From the horizontal, 0 to 75.  [deg]

    Returns
    -------
    film : float or ndarray
        Without radiation.  [W/(m2 K)]
    """
    mean = 0.5 * (lower_c + upper_c)
    ra, still = _buoyancy(lower_c - upper_c, mean_c=mean, length_m=gap_m)
    return still * hollands_nusselt(ra, tilt_deg=tilt_deg)


def vertical_gap_nusselt(rayleigh_number: Number, slenderness: float) -> Number:
    r"""Return the Nusselt number of an upright air gap between two glasses.

    Parameters
    ----------
    rayleigh_number : float or ndarray
        On the width of the gap, 0 or more.  [-]
    slenderness : float
        Height of the gap over its width.  [-]

    Returns
    -------
    nusselt : float or ndarray
        At least 1.  [-]

    Notes
    -----
    The largest of three, ElSherbiny, Raithby and Hollands, J. Heat Transfer 104 (1982) 96
    (from memory):

    .. math:: 0.0605 Ra^{1/3}, \quad
              [1 + (0.104 Ra^{0.293} / (1 + (6310/Ra)^{1.36}))^3]^{1/3}, \quad
              0.242 (Ra/A)^{0.272}
    """
    ra = np.maximum(rayleigh_number, 1.0)
    bend = 0.104 * ra**0.293 / (1.0 + (6310.0 / ra) ** 1.36)
    conduction = (1.0 + bend**3) ** (1.0 / 3.0)
    layers = 0.242 * (ra / slenderness) ** 0.272
    return np.maximum(np.maximum(0.0605 * ra ** (1.0 / 3.0), conduction), layers)


def vertical_gap_film_w_m2k(
    first_c: Number, second_c: Number, gap_m: float, height_m: float
) -> Number:
    """Return the convection through the air between two upright glasses.

    Parameters
    ----------
    first_c : float or ndarray
        One glass.  [C]
    second_c : float or ndarray
        The other glass.  [C]
    gap_m : float
        Between the glasses, above 0.  [m]
    height_m : float
        Of the glasses.  [m]

    Returns
    -------
    film : float or ndarray
        Without radiation.  [W/(m2 K)]
    """
    mean = 0.5 * (first_c + second_c)
    ra, still = _buoyancy(abs(first_c - second_c), mean_c=mean, length_m=gap_m)
    return still * vertical_gap_nusselt(ra, slenderness=height_m / gap_m)


def wall_film_w_m2k(surface_c: Number, air_c: Number, height_m: float) -> Number:
    """Return the natural convection between still air and an upright surface.

    Parameters
    ----------
    surface_c : float or ndarray
        The surface.  [C]
    air_c : float or ndarray
        The air, hotter or colder.  [C]
    height_m : float
        Of the surface.  [m]

    Returns
    -------
    film : float or ndarray
        Without radiation.  [W/(m2 K)]

    Notes
    -----
    Churchill and Chu (1975), laminar: 0.68 + 0.670 Ra^(1/4) / [1 + (0.492/Pr)^(9/16)]^(4/9)
    (from memory, as in Incropera, chapter 9).
    """
    mean = 0.5 * (surface_c + air_c)
    ra, still = _buoyancy(abs(surface_c - air_c), mean_c=mean, length_m=height_m)
    # 0.513 is 0.670 / [1 + (0.492/0.7)^(9/16)]^(4/9).
    return still * (0.68 + 0.513 * np.sqrt(np.sqrt(ra)))


def plate_film_w_m2k(surface_c: Number, air_c: Number, length_m: float, faces_up: bool) -> Number:
    """Return the natural convection between still air and a level surface.

    Parameters
    ----------
    surface_c : float or ndarray
        The surface.  [C]
    air_c : float or ndarray
        The air, hotter or colder.  [C]
    length_m : float
        Area over perimeter of the surface.  [m]
    faces_up : bool
        True for a floor or a lid, false for a pane seen from inside or a raised base.

    Returns
    -------
    film : float or ndarray
        Without radiation.  [W/(m2 K)]

    Notes
    -----
    0.54 Ra^(1/4) where buoyancy stirs the air (a warm floor, a cold pane above), half of
    it, 0.27 Ra^(1/4), where the layers rest (from memory, Incropera, chapter 9, after
    McAdams).
    """
    delta, mean = surface_c - air_c, 0.5 * (surface_c + air_c)
    size = abs(delta)
    # 2 where buoyancy stirs, 1 where it does not.
    stirred = 1.5 + (0.5 if faces_up else -0.5) * delta / (size + 1e-9)
    ra, still = _buoyancy(size, mean_c=mean, length_m=length_m)
    return still * 0.27 * stirred * np.sqrt(np.sqrt(ra))
