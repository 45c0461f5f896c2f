"""Properties of the air and vapour in and around the box.

Only what the films of `suntrack.box.heat.convection` and the steam of a pot need.  How heat moves
is not decided here.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from suntrack.box.heat.number import Number

KELVIN = 273.15
"""Absolute temperature of 0 C.  [K]"""
GRAVITY_M_S2 = 9.80665
AIR_J_KGK = 1007.0
"""Specific heat of air near 350 K.  [J/(kg K)]"""
AIR_J_KG_K_GAS = 287.05
"""Gas constant of dry air.  [J/(kg K)]"""
VAPOUR_J_KG_K_GAS = 461.5
"""Gas constant of water vapour.  [J/(kg K)]"""
SEA_LEVEL_PA = 101325.0


class AirProperties(NamedTuple):
    """What air does with heat at one temperature."""

    conductivity_w_mk: Number
    """How readily heat passes.  [W/(m K)]"""
    viscosity_m2_s: Number
    """Kinematic viscosity.  [m2/s]"""
    diffusivity_m2_s: Number
    """How quickly it evens out.  [m2/s]"""


def air_properties(air_c: Number, pressure_pa: float = SEA_LEVEL_PA) -> AirProperties:
    """Return conductivity, viscosity and diffusivity of dry air.

    Parameters
    ----------
    air_c : float or ndarray
        Temperature of the air.  [C]
    pressure_pa : float
        Pressure of the air; the simulator keeps to sea level, which makes natural
        convection about 5 % strong at 1000 m.  [Pa]

    Returns
    -------
    properties : AirProperties
        In the shape of `air_c`.

    Notes
    -----
    Sutherland's law: for viscosity 1.458e-6 T^1.5 / (T + 110.4), U.S. Standard Atmosphere,
    1976, equation 51; for conductivity 0.0241 W/(m K) at 273 K and a constant of 194 K,
    White, "Viscous Fluid Flow", table 1-3 (both from memory).
    """
    air_k = air_c + KELVIN
    root = air_k * np.sqrt(air_k)
    conductivity = 2.4944e-3 * root / (air_k + 194.0)
    density = pressure_pa / (AIR_J_KG_K_GAS * air_k)
    return AirProperties(
        conductivity_w_mk=conductivity,
        viscosity_m2_s=1.458e-6 * root / (air_k + 110.4) / density,
        diffusivity_m2_s=conductivity / (density * AIR_J_KGK),
    )


def vapour_density_kg_m3(water_c: Number) -> Number:
    """Return the density of saturated vapour over water.

    Parameters
    ----------
    water_c : float or ndarray
        Temperature of the water, 0 to 100.  [C]

    Returns
    -------
    density : float or ndarray
        In the shape of `water_c`.  [kg/m3]

    Notes
    -----
    Antoine's equation for water from 1 to 100 C, 8.07131 - 1730.63 / (233.426 + T) for
    the decimal logarithm of the pressure in mmHg (constants from memory), and the gas law.
    """
    pressure_pa = 133.322 * 10.0 ** (8.07131 - 1730.63 / (233.426 + water_c))
    return pressure_pa / (VAPOUR_J_KG_K_GAS * (water_c + KELVIN))


def evaporation_heat_j_kg(water_c: Number) -> Number:
    """Return the heat that turns a kilogram of water to vapour.

    Parameters
    ----------
    water_c : float or ndarray
        Temperature of the water, 0 to 100.  [C]

    Returns
    -------
    heat : float or ndarray
        A straight line through the steam tables, within 0.2 %.  [J/kg]
    """
    return 2.501e6 - 2420.0 * water_c


def open_water_loss_w_m2k(water_c: Number, air_c: Number) -> Number:
    """Return the heat that open water loses by vapour, for each degree above the air.

    Parameters
    ----------
    water_c : float or ndarray
        Temperature of the water.  [C]
    air_c : float or ndarray
        Temperature of the air outdoors; the air over the water is taken as full of
        vapour at this temperature.  [C]

    Returns
    -------
    loss : float or ndarray
        Never negative, so that it works as a plain conductance.  [W/(m2 K)]

    Notes
    -----
    The mass flux is 0.0055 m/s times the difference of vapour densities, from a film of
    5 W/(m2 K) by the likeness of heat and mass transfer (Lewis number 0.85).
    """
    # The thousandth keeps the slope finite where the two are alike.
    cool_c = air_c - 0.001
    flux = 0.0055 * (vapour_density_kg_m3(water_c) - vapour_density_kg_m3(cool_c))
    return abs(flux * evaporation_heat_j_kg(water_c) / (water_c - cool_c + 1e-12))
