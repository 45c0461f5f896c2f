"""The dashboard of `watch`."""
