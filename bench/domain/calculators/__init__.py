"""The calculators, one calculator a file: pure functions first, then what screen and command show."""
