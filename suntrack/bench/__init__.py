"""The test stand: standard tests, trials in the sun, and the sheet of a box.  Pure."""
