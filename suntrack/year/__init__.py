"""The year: how often a box and its meals come good, and what a change would bring.  Pure."""
