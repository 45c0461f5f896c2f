"""Alerts: which are due and what state each is in.  Pure: nothing is sent from here."""
