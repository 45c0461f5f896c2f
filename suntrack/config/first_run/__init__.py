"""The first run: what a cook answers, and the config that is written from it."""
