"""The watch: what stays running, makes the plan again, and calls the cook in time."""
