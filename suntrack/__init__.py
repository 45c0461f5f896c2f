"""Plan the day of a home-built box solar cooker, from sun to supper."""

__version__ = "0.1.0"
