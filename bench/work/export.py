"""Read everything the data file holds, in one snapshot."""

from __future__ import annotations

from bench.desk import Desk
from bench.domain.export import Export, ExportTable
from bench.views import export as reads
from bench.views.shop import facts


def read_everything(desk: Desk) -> Export:
    """Every table with every row, removed ones and half-filled forms too, as the file keeps them."""
    made_us = desk.clock.now_us()
    with desk.store.read() as connection:
        tables = tuple(
            ExportTable(name, *reads.columns_and_rows(connection, name))
            for name in reads.table_names(connection)
        )
        zone = facts(connection).zone
        return Export(tables, reads.revision(connection), made_us, zone)
