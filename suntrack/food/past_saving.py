"""What a cook is told of food whose safety clock has run out: words only, light to import."""

from __future__ import annotations

NEVER_EAT = (
    "Do not taste it, and do not cook it on: food that stood warm too long can make you ill, even "
    "boiled. Follow your local food authority."
)
THROW_AWAY = f"Throw it away. {NEVER_EAT}"
"""USDA FSIS: what stood too long between cold and hot is thrown away; never taste food to find
out whether it is safe (consumer advice, from memory)."""
