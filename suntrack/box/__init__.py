"""The box: its glass, its mirror, its walls, and the heat in it.  Pure."""
