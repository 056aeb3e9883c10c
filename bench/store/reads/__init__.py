"""The reading room: every SELECT of the program, over the plain driver, answered as frozen values."""
