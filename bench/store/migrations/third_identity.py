"""Which file this is and which of its states: what `bench/store/marks.py` goes by."""

STATEMENTS = (
    """CREATE TABLE file_identity (
        id INTEGER NOT NULL,
        identity TEXT NOT NULL,
        mark TEXT NOT NULL,
        previous TEXT NOT NULL,
        CONSTRAINT pk_file_identity PRIMARY KEY (id),
        CONSTRAINT ck_file_identity_one_row CHECK (id = 1)
    ) STRICT""",
    """INSERT INTO file_identity (id, identity, mark, previous) VALUES
    (1, 'bench-file:' || lower(hex(randomblob(16))), lower(hex(randomblob(8))), '0000000000000000')""",
)
