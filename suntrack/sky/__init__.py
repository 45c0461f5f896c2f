"""Light: where the sun stands, what blocks it, how much reaches a surface.  Pure."""
