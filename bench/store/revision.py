"""Which revisions of the data file this program knows. A test keeps this in step with migrations/versions."""

KNOWN = ("0004", "0005", "0006", "0007")
HEAD = KNOWN[-1]
# Of these no file was ever released, and none is brought up to date any more.
EARLY = ("0001", "0002", "0003")

APPLICATION_ID = 0x62656E63  # "benc", SQLite's own place for telling one program's files from another's

# How a line of the journal writes its changes down: names of tables and columns, what goes along with what.
# Of shape 0 are moves between stages of before they were rows: they are replayed, but not undone.
SHAPE = 1
SHAPES_REPLAYED = (0, SHAPE)
