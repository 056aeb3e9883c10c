"""What is told of one unit's bad life, in the words in which it is typed."""

SUPPLIER, BREAKER = "Dunmere Supplies", "Fenwold Boards"
LEAD, CAUSE = "fan lead torn off its plug", "pulled at the lead, not at the plug"
MENDED = "fan renewed, lead and all"
SHUTDOWN, SHORTED = "shuts down under load", "shorted regulator on the board"
