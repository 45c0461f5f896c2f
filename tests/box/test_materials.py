"""The library of materials: every row whole, and the limits that matter."""

from __future__ import annotations

import pytest

from suntrack.box.materials import materials, pot_materials


def test_every_row_has_a_source_and_sensible_numbers() -> None:
    for name, row in materials().items():
        assert row.name == name
        assert row.source, name
        assert 0.015 < row.conductivity_w_mk < 250, name
        assert 5 < row.density_kg_m3 < 9000, name
        assert 400 < row.specific_heat_j_kgk < 2500, name


def test_every_limit_has_a_source_and_says_what_happens() -> None:
    limited = [row for row in materials().values() if row.highest_c is not None]
    assert limited
    for row in limited:
        assert row.highest_source, row.name
        assert row.spoils, row.name


@pytest.mark.parametrize(
    ("name", "highest_c"),
    [
        ("expanded polystyrene", 75),  # dcldesign, pipework insulation limits (found)
        ("extruded polystyrene", 74),  # Owens Corning data sheet, 165 F (found)
        ("polyisocyanurate", 120),  # dcldesign (found)
        ("glass wool", 250),  # dcldesign (found)
        ("loose cellulose", 90),  # ASTM C739 scope (memory)
    ],
)
def test_service_temperatures(name: str, highest_c: float) -> None:
    assert materials()[name].highest_c == highest_c


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("mineral wool", 0.033, 0.037),  # ASHRAE HoF ch. 26 table 1 (found)
        ("expanded polystyrene", 0.035, 0.037),  # the same
        ("loose cellulose", 0.039, 0.046),  # the same
        ("plywood", 0.09, 0.17),  # EN values by density (found)
        ("aluminium", 160, 160),  # EN (found)
    ],
)
def test_conductivities(name: str, low: float, high: float) -> None:
    assert low <= materials()[name].conductivity_w_mk <= high


def test_hot_fibres_insulate_less() -> None:
    """At a mean of 75 C multiply the values for 24 C by 1.2 to 1.3 (memory)."""
    wool = materials()["mineral wool"]
    assert 1.2 <= wool.conductivity_at(75.0) / wool.conductivity_at(24.0) <= 1.3


def test_the_library_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        materials()["air"] = materials()["glass"]  # type: ignore[index]


def test_pots_of_the_kitchen_are_there() -> None:
    kitchen = {"enamelled steel", "cast iron", "aluminium", "stainless steel", "glass", "stoneware"}
    assert kitchen <= set(pot_materials())
