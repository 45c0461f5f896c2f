"""Learning: from logged days to the factors of one box, and what came of chances.  Pure."""
