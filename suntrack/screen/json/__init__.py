"""Answers for programs: what `--json` prints."""
