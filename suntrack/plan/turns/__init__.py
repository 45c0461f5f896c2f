"""Turning the box: the light of every aim, and the few turns that the meal needs."""
