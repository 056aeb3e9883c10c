"""People traded with: kept once, out of the journal, and erased from the file to the last byte."""

from __future__ import annotations

import sqlite3
from datetime import date

import pytest

from bench.desk import Desk
from bench.domain.lots import LotUnit
from bench.domain.offers import OfferTyped
from bench.domain.party import ERASED, PartyTyped, years_after
from bench.errors import BadInput, NotFound, Refused
from bench.store.scrubbing import scrub
from bench.views.journal import read_journal
from bench.views.parties import PartyLine, due_for_erasing, read_parties
from bench.views.sales import read_sales
from bench.views.shop import read_draft
from bench.work.buying import buy_offer, edit_offer, save_offer
from bench.work.change import change
from bench.work.drafts import drop_draft, save_draft
from bench.work.lots import buy_lot
from bench.work.parties import edit_party, erase_due, erase_party, party_within
from bench.work.purchases import edit_purchase
from bench.work.undo import undo
from bench.work.units import edit_unit
from tests.clocks import HandSetClock
from tests.work.bookkeeping import footprint, last_journal
from tests.work.sale_steps import BUYER, bought_from, sell, stocked, trading

YEAR_MINUTES = 366 * 24 * 60
TYPED = ("Quendolin Buyer", "7 Nowhere Lane", "q@example.org", "passport 99-ZZ")


def party(desk: Desk, party_id: int) -> PartyLine:
    return next(line for line in read_parties(desk) if line.party_id == party_id)


def buyer_of(desk: Desk, unit_id: int) -> int:
    party_id = read_sales(desk, unit_id).sales[-1].party_id
    assert party_id is not None
    return party_id


def bytes_of(desk: Desk) -> bytes:
    """All that stands in the data file and in the log beside it."""
    path = desk.store.path
    log = path.with_name(f"{path.name}-wal")
    return path.read_bytes() + (log.read_bytes() if log.exists() else b"")


def holds(desk: Desk, words: str) -> bool:
    return words.encode() in bytes_of(desk)


def test_what_is_typed_of_a_buyer_stands_in_no_line_of_the_journal(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, note="bring it to Quendolin's mother")
    edit_party(desk, buyer_of(desk, unit_id), PartyTyped(*TYPED))
    changes = "".join(line.changes + line.summary + line.reason for line in read_journal(desk).lines)
    assert '"party"' in changes
    for words in (*TYPED, "Quendolin", "mother"):
        assert words not in changes


def test_who_units_are_bought_from_stays_out_of_it_too(desk: Desk, clock: HandSetClock) -> None:
    trading(desk, keep_private_text="0")
    seller = PartyTyped(*TYPED)
    offer_id = save_offer(desk, OfferTyped("Model", "100", seller=seller))
    edit_offer(desk, offer_id, OfferTyped("Model", "110", seller=PartyTyped("Orla Other", "Other Street")))
    bought = buy_offer(desk, offer_id, price_text="50")
    buy_lot(desk, name="Pallet", price_text="30", units=[LotUnit("Maker", "One")], seller=seller)
    typed = {"expected_text": "", "bought_on_text": "", "invoice": ""}
    edit_purchase(desk, bought.unit_id, seller=PartyTyped("Third Person"), **typed)
    changes = "".join(line.changes + line.summary + line.reason for line in read_journal(desk).lines)
    for words in (*TYPED, "Orla", "Third Person"):
        assert words not in changes
    assert [line.name for line in due_for_erasing(desk)] == ["Orla Other"]  # of no offer or unit any more
    for unit_id in (bought.unit_id, bought.unit_id + 1):
        sell(desk, unit_id, open_tasks="skip", reason="as it came", warranty_days_text="0")
    clock.advance(minutes=YEAR_MINUTES)
    assert len(erase_due(desk, "years are over").party_ids) == 4
    for words in (*TYPED, "Orla", "Third Person", *BUYER.values()):
        assert not holds(desk, words), words


def test_someone_of_the_same_particulars_is_kept_once(desk: Desk) -> None:
    first, second, third, firm = (stocked(desk) for _ in range(4))
    sell(desk, first)
    sell(desk, second)
    sell(desk, third, buyer_address="8 Nowhere Lane")
    sell(desk, firm, private=False)
    numbers = [buyer_of(desk, unit_id) for unit_id in (first, second, third, firm)]
    assert numbers[0] == numbers[1]
    assert len(set(numbers)) == 3
    assert party(desk, numbers[0]).sold == 2


def test_nobody_typed_is_nobody(desk: Desk) -> None:
    with change(desk, "try") as made:
        assert party_within(made, None) is None
        assert party_within(made, PartyTyped("")) is None
        with pytest.raises(BadInput, match="name"):
            party_within(made, PartyTyped("", contact="q@example.org"))
    assert read_parties(desk) == ()


def test_a_party_taken_back_with_its_sale_is_due_at_once(desk: Desk) -> None:
    sell(desk, stocked(desk))
    undo(desk)
    assert [line.name for line in due_for_erasing(desk)] == [BUYER["buyer_name"]]
    erase_due(desk, "taken back")
    assert due_for_erasing(desk) == read_parties(desk) == ()
    assert not holds(desk, BUYER["buyer_name"])


def test_an_edit_sets_right_and_is_not_taken_back(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    party_id = buyer_of(desk, unit_id)
    edit_party(desk, party_id, PartyTyped("Other Name", "New Street", private=False))
    line = party(desk, party_id)
    assert (line.name, line.address, line.contact, line.private) == ("Other Name", "New Street", "", False)
    assert "cannot be undone" in last_journal(desk)[0]
    assert undo(desk).summary.startswith("Sold")


def test_data_are_due_years_after_the_last_business(desk: Desk, clock: HandSetClock) -> None:
    """Six years after a sale on 2026-11-25: 2032-11-25."""
    unit_id = stocked(desk)
    sell(desk, unit_id)
    party_id = buyer_of(desk, unit_id)
    line = party(desk, party_id)
    assert (line.last_on, line.erase_on) == (date(2026, 11, 25), date(2032, 11, 25))
    assert due_for_erasing(desk) == ()
    with pytest.raises(Refused, match="2032-11-25"):
        erase_party(desk, party_id, "asked for")
    with pytest.raises(NotFound, match="due"):
        erase_due(desk, "years are over")
    clock.advance(minutes=6 * YEAR_MINUTES)
    assert [one.party_id for one in due_for_erasing(desk)] == [party_id]
    assert erase_due(desk, "years are over").party_ids == (party_id,)


def test_a_running_warranty_keeps_them_longer(desk: Desk) -> None:
    trading(desk, keep_private_text="0")
    unit_id = stocked(desk)
    sell(desk, unit_id, warranty_days_text="30")
    assert party(desk, buyer_of(desk, unit_id)).erase_on == date(2026, 12, 25)


def test_a_seller_is_kept_while_the_unit_is_in_stock_and_counts_from_its_sale(
    desk: Desk, clock: HandSetClock
) -> None:
    """Bought 2020-01-15, sold 2026-11-25: the register's line is whole only then."""
    unit_id = stocked(desk)
    seller = bought_from(desk, unit_id, "Zebulon Seller", "2020-01-15")
    line = party(desk, seller)
    assert (line.bought, line.in_stock, line.erase_on) == (1, True, None)
    with pytest.raises(Refused, match="still in the queue"):
        erase_party(desk, seller, "asked for")
    sell(desk, unit_id, sold_on_text="2026-11-20")
    assert party(desk, seller).erase_on == date(2032, 11, 20)


def test_a_lots_seller_and_a_donor_count_from_the_purchase(desk: Desk) -> None:
    donor = stocked(desk)
    seller = bought_from(desk, donor, "Zebulon Seller", "2020-02-29", lot="Pallet", donor=True)
    line = party(desk, seller)
    assert (line.last_on, line.erase_on) == (date(2020, 2, 29), date(2026, 3, 1))
    assert [one.party_id for one in due_for_erasing(desk)] == [seller]


def test_a_firm_is_never_due(desk: Desk, clock: HandSetClock) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, private=False)
    clock.advance(minutes=20 * YEAR_MINUTES)
    assert due_for_erasing(desk) == ()
    with pytest.raises(Refused, match="is a business"):
        erase_party(desk, buyer_of(desk, unit_id), "asked for")


def test_years_after_a_leap_day() -> None:
    assert years_after(date(2024, 2, 29), 4) == date(2028, 2, 29)
    assert years_after(date(2024, 2, 29), 6) == date(2030, 3, 1)


def test_after_erasing_the_figures_stay_and_the_rest_reads_erased(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id, note="charger")
    party_id = buyer_of(desk, unit_id)
    before = read_sales(desk, unit_id).sales[0]
    erased = erase_party(desk, party_id, "asked for by letter", early=True)
    assert (erased.party_ids, erased.left_in, erased.not_rewritten) == ((party_id,), (), "")
    after = read_sales(desk, unit_id).sales[0]
    assert (after.buyer, after.note) == (ERASED, "")
    assert (after.price_minor, after.sold_on) == (before.price_minor, before.sold_on)
    line = party(desk, party_id)
    assert (line.name, line.address, line.contact, line.identity_seen) == (ERASED, "", "", "")
    assert line.erased_us == desk.clock.now_us()
    assert last_journal(desk)[1] == "asked for by letter"


def test_not_a_byte_is_left_in_the_file_or_its_log(desk: Desk, clock: HandSetClock) -> None:
    """Enough buyers to split pages, an edit and a dropped draft: their old bytes lie about until then."""
    units = [stocked(desk) for _ in range(60)]
    for number, unit_id in enumerate(units):
        sell(desk, unit_id, buyer_name=f"Quendolin Buyer {number}", buyer_address=f"{number} " + "Lane " * 60)
    edit_party(desk, buyer_of(desk, units[7]), PartyTyped(*TYPED))
    save_draft(desk, "sale", {"buyer": "Draft Quendolin"})
    drop_draft(desk, "sale")
    clock.advance(minutes=7 * YEAR_MINUTES)
    assert holds(desk, "Quendolin Buyer 3")
    assert holds(desk, TYPED[3])
    erased = erase_due(desk, "their years are over")
    assert (len(erased.party_ids), erased.left_in, erased.not_rewritten) == (60, (), "")
    for words in (*TYPED, "Quendolin", "Lane Lane"):
        assert not holds(desk, words), words
    assert len(read_sales(desk, units[7]).sales) == 1


def test_bytes_left_by_a_library_that_zeroes_nothing_go_too(desk: Desk) -> None:
    """Some builds of SQLite zero what is deleted, others leave it in free pages until VACUUM."""
    unit_id = stocked(desk)
    sell(desk, unit_id)
    connection = sqlite3.connect(desk.store.path, isolation_level=None)
    connection.execute("PRAGMA secure_delete = OFF")
    for number in range(50):
        body = "Moved Quendolin " * 200
        connection.execute("INSERT INTO draft (form, body, saved_us) VALUES (?, ?, 0)", (str(number), body))
    connection.execute("DELETE FROM draft")
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    connection.close()
    assert holds(desk, "Moved Quendolin")
    erase_party(desk, buyer_of(desk, unit_id), "asked for", early=True)
    assert not holds(desk, "Moved Quendolin")


def test_another_reader_puts_off_the_rewriting_and_it_is_said(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    with desk.store.read() as connection:
        connection.execute("SELECT COUNT(*) FROM party").fetchone()
        erased = erase_party(desk, buyer_of(desk, unit_id), "asked for", early=True)
    assert erased.not_rewritten
    assert party(desk, erased.party_ids[0]).name == ERASED
    assert scrub(desk.store.path) == ""
    assert not holds(desk, BUYER["buyer_name"])


def test_a_file_that_is_being_written_is_said_too(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("bench.store.scrubbing.PATIENCE_SECONDS", 0.01)
    with desk.store.write() as session:
        session.connection().exec_driver_sql("UPDATE shop SET name = 'Busy'")
        assert "locked" in scrub(desk.store.path)


def test_it_says_where_else_the_words_stand(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    particulars = {"maker": "", "model": "M", "serial": "", "due_text": "", "price_text": "", "tag_text": ""}
    edit_unit(desk, unit_id, note="Quendolin Buyer rang twice", **particulars)
    erased = erase_party(desk, buyer_of(desk, unit_id), "asked for", early=True)
    assert erased.left_in == ("journal changes (1)", "unit note (1)")


def test_erasing_is_for_good(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    party_id = buyer_of(desk, unit_id)
    erase_party(desk, party_id, "asked for", early=True)
    for attempt in (
        lambda: erase_party(desk, party_id, "again", early=True),
        lambda: edit_party(desk, party_id, PartyTyped("Back Again")),
    ):
        with pytest.raises(Refused, match="erased"):
            attempt()
    assert undo(desk).summary.startswith("Sold")
    assert read_parties(desk) == ()
    assert not holds(desk, BUYER["buyer_name"])


def test_an_erased_party_is_not_taken_again(desk: Desk) -> None:
    first, second = stocked(desk), stocked(desk)
    sell(desk, first)
    erase_party(desk, buyer_of(desk, first), "asked for", early=True)
    sell(desk, second, buyer_name=ERASED, buyer_address="", buyer_contact="")
    assert buyer_of(desk, second) != buyer_of(desk, first)


def test_a_reason_that_names_them_or_is_empty_erases_nothing(desk: Desk) -> None:
    unit_id = stocked(desk)
    sell(desk, unit_id)
    party_id = buyer_of(desk, unit_id)
    before = footprint(desk)
    for reason in ("quendolin BUYER wrote", ""):
        with pytest.raises(BadInput):
            erase_party(desk, party_id, reason, early=True)
    assert footprint(desk) == before
    assert party(desk, party_id).name == BUYER["buyer_name"]


def test_an_unknown_party_is_not_found(desk: Desk) -> None:
    with pytest.raises(NotFound):
        erase_party(desk, 99, "asked for")
    with pytest.raises(NotFound):
        edit_party(desk, 99, PartyTyped("Someone"))


def test_a_half_filled_form_with_the_name_goes_too(desk: Desk) -> None:
    sell(desk, stocked(desk), buyer_name='Ann "Al" Smith')
    party = read_parties(desk)[0]
    save_draft(desk, "sell 1", {"buyer": party.name, "price_text": "12"})
    save_draft(desk, "add unit", {"maker": "Alder"})
    erased = erase_party(desk, party.party_id, "asked for", early=True)
    assert read_draft(desk, "sell 1") == {}
    assert read_draft(desk, "add unit") == {"maker": "Alder"}
    assert erased.left_in == ()
