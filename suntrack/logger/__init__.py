"""Readings from loggers' files: any table with a time and a temperature a row."""
