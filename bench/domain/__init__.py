"""The rules and arithmetic of the trade, on plain frozen values: no clock, file, database or screen."""
