"""All sentences a cook reads, by subject."""
