"""Third revision: the keys with which scripts book once. Its rows are written once and stay."""

STATEMENTS = (
    """CREATE TABLE booking_key (
        "key" TEXT NOT NULL,
        journal_id INTEGER NOT NULL,
        asked TEXT NOT NULL,
        CONSTRAINT pk_booking_key PRIMARY KEY ("key"),
        CONSTRAINT fk_booking_key_journal_id_journal FOREIGN KEY(journal_id) REFERENCES journal (id),
        CONSTRAINT ck_booking_key_key CHECK (length(key) BETWEEN 1 AND 100)
    ) STRICT""",
    """CREATE TRIGGER booking_key_stays BEFORE UPDATE ON booking_key
    BEGIN SELECT RAISE(ABORT, 'a booking key is never changed'); END""",
    """CREATE TRIGGER booking_key_is_kept BEFORE DELETE ON booking_key
    BEGIN SELECT RAISE(ABORT, 'a booking key is never deleted'); END""",
)
