"""Every limit and constant that a sum or a verdict goes by: value, unit, source, edition, day checked."""
