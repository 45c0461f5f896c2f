"""Dishes in the box: which pot, when each goes in, what becomes of it."""
