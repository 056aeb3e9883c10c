"""What the keys of the trading settings do to the settings, the channel or the step under the cursor."""

from __future__ import annotations

from abc import abstractmethod

from bench.dashboard.doing import Doing, say
from bench.desk import Desk
from bench.domain.grading import Step
from bench.views.trade import ChannelLine


class TradeActions(Doing):
    """Mixed into the screen of the trading settings, which says where its cursor is."""

    @abstractmethod
    def currency_shown(self) -> str:
        """The shop's currency."""

    @abstractmethod
    def channel_here(self) -> ChannelLine | None:
        """The channel under the cursor."""

    @abstractmethod
    def step_here(self) -> Step | None:
        """The step of the scale under the cursor."""

    def action_edit(self) -> None:
        """Change the channel, the step, or the settings."""
        channel, step = self.channel_here(), self.step_here()
        if channel is not None:
            from bench.dashboard.screens.dialogs.settings_forms import channel_form

            self.app.push_screen(channel_form(self.currency_shown(), channel))
        elif step is not None:
            from bench.dashboard.screens.dialogs.settings_forms import step_form

            self.app.push_screen(step_form(step.side, step))
        else:
            from bench.dashboard.screens.dialogs.settings_forms import trade_form

            self.app.push_screen(trade_form())

    def action_add(self) -> None:
        """A new step on the side of the one under the cursor, anywhere else a new channel."""
        step = self.step_here()
        if step is not None:
            from bench.dashboard.screens.dialogs.settings_forms import step_form

            self.app.push_screen(step_form(step.side))
        else:
            from bench.dashboard.screens.dialogs.settings_forms import channel_form

            self.app.push_screen(channel_form(self.currency_shown()))

    def action_earlier(self) -> None:
        """The step one place up."""
        self._reorder(-1)

    def action_later(self) -> None:
        """The step one place down."""
        self._reorder(1)

    def action_remove(self) -> None:
        """Take the channel or the step off the list; what was sold or graded with it keeps it."""
        channel, step, desk = self.channel_here(), self.step_here(), self.desk
        if channel is not None:
            self.take_off(lambda: _remove_channel(desk, channel.channel_id), channel.name)
        elif step is not None:
            self.take_off(lambda: _remove_step(desk, step.step_id), step.name)
        else:
            say(self.app, "Put the cursor on a channel or a step first.")

    def _reorder(self, steps: int) -> None:
        step, desk = self.step_here(), self.desk
        if step is None:
            say(self.app, "Put the cursor on a step of the scale first.")
            return

        def work() -> None:
            from bench.work.grades import reorder_step

            reorder_step(desk, step.step_id, steps)

        self.change(work)


def _remove_channel(desk: Desk, channel_id: int) -> None:
    from bench.work.trade import remove_channel

    remove_channel(desk, channel_id)


def _remove_step(desk: Desk, step_id: int) -> None:
    from bench.work.grades import remove_step

    remove_step(desk, step_id)
