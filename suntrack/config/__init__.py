"""The config: from the cook's files to the project's records, all mistakes at once."""
