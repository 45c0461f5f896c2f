"""The day: window, turns, verdict and plan, built from sky, box and food.  Pure."""
