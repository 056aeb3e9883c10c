"""Keys that come as fast as a machine sends them do not scroll a dialog away from what can be seen anyway."""

from __future__ import annotations

from textual.containers import VerticalScroll

from bench.dashboard.app import BenchApp
from bench.dashboard.screens.dialogs.lot import LotForm
from bench.desk import Desk
from tests.screen.host import settled
from tests.screen.scanner import send
from tests.screen.waiting import until


async def test_a_form_filled_in_as_it_opens_stays_at_its_top(desk: Desk) -> None:
    app, form = BenchApp(desk), LotForm()
    app.ear.hears = False
    async with app.run_test(size=(120, 36)) as pilot:
        app.push_screen(form)
        await until(pilot, lambda: bool(form.query("#field-maker_2")))
        send(app, "seven\t220\t\t\t\tR 17\tA School\t\t\t\t", 0)
        await until(pilot, lambda: app.focused is form.field("firm").control)
        await settled(pilot)
        assert [form.value(name) for name in ("name_of_lot", "price_text", "name")] == [
            "seven",
            "220",
            "A School",
        ]
        assert form.query_one(VerticalScroll).scroll_y == 0
        send(app, "\t" * 14, 0)
        await until(pilot, lambda: app.focused is form.field("tag_text_2").control)
        await settled(pilot)
        assert form.query_one(VerticalScroll).can_view_entire(form.field("tag_text_2"))
