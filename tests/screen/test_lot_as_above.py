"""A lot of like units: a field as above, a whole unit like the last, each with its own serial and tag."""

from __future__ import annotations

from bench.dashboard.screens.dialogs.lot import LotForm
from bench.desk import Desk
from tests.screen.host import Host, opened, settled, typed


def form_of(app: Host) -> LotForm:
    assert isinstance(app.screen, LotForm)
    return app.screen


async def test_a_field_is_filled_as_above_and_the_next_one_follows(desk: Desk) -> None:
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        form = form_of(app)
        for name, text in (("maker", "Fenn"), ("model", "[b]9[/b]"), ("serial", "S 1"), ("tag_text", "7")):
            form.field(f"{name}_1").put(text)
        form.field("maker_2").take_focus()
        await pilot.press("f3", "f3", "f3")
        await settled(pilot)
        assert (form.value("maker_2"), form.value("model_2")) == ("Fenn", "[b]9[/b]")
        assert form.value("serial_2") == "", "a serial number is one unit's alone"
        assert form.focused is form.field("serial_2").control
        form.field("maker_1").take_focus()
        await pilot.press("f3")
        assert form.value("maker_1") == "Fenn", "nothing stands above the first"
        form.field("name_of_lot").take_focus()
        await pilot.press("f3")
        assert form.value("name_of_lot") == ""


async def test_one_like_the_last_fills_the_empty_one_then_adds_and_waits_for_the_serial(desk: Desk) -> None:
    async with opened(desk, LotForm(), (120, 36)) as (app, pilot):
        form = form_of(app)
        for name, text in (("maker", "Fenn"), ("model", "9"), ("expected_text", "150"), ("donor", "yes")):
            form.field(f"{name}_1").put(text)
        for number in (2, 3):
            await pilot.press("f5")
            await settled(pilot)
            assert form.units == number
            assert form.focused is form.field(f"serial_{number}").control
            await typed(pilot, f"S{number}")
        likes = [form.value(f"{name}_3") for name in ("maker", "model", "expected_text", "donor")]
        assert likes == ["Fenn", "9", "150", "yes"]
        assert [form.value(f"serial_{number}") for number in (1, 2, 3)] == ["", "S2", "S3"]
        assert form.value("tag_text_3") == ""
