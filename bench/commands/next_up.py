"""What next, and when it will be done."""

from __future__ import annotations

import typer

from bench.commands.arguments import AsJson
from bench.commands.opening import desk_for
from bench.commands.printing import say_sheet


def what_next(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Rank the queue by earnings for the time still to spend."""
    from bench.reports.next_up import next_json, next_text
    from bench.views.next_up import read_ranking

    view = read_ranking(desk_for(ctx))
    say_sheet(next_json(view) if as_json else next_text(view))


def forecast(ctx: typer.Context, as_json: AsJson = False) -> None:
    """Show when units will be done and where the queue jams."""
    from bench.reports.forecast import forecast_json, forecast_text
    from bench.views.forecast import read_forecast

    view = read_forecast(desk_for(ctx))
    say_sheet(forecast_json(view) if as_json else forecast_text(view))
