"""What was measured on a unit: what may be typed, readers of files from the unit itself, verdicts.

A reading's figures are plain names and whole numbers with the unit of measure in the name
(`full_uwh`, `room_tenths_c`), the same whether they were typed or read from a file.
"""
