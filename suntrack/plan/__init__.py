"""The day: window, turns, dishes, verdict and plan, built from sky, box and food.  Pure."""
