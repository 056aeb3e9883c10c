"""Every screen and main dialog says at three sizes what it said when someone looked at it."""

from __future__ import annotations

import pytest

from screenshots.pictures import PICTURES, Picture
from tests.docs.screens_as_text import FOLDER, as_text
from tests.screen.idle import drawn_whole

pytestmark = pytest.mark.usefixtures("quiet_terminal")


@pytest.mark.parametrize("picture", PICTURES, ids=lambda picture: picture.name)
async def test_it_looks_as_it_did(picture: Picture) -> None:
    kept = (FOLDER / f"{picture.name}.txt").read_text(encoding="utf-8")
    assert await as_text(picture, kept, whole=lambda app: drawn_whole(app.screen)) == kept


def test_every_snapshot_is_there_no_other_and_none_twice() -> None:
    """Keys that lead nowhere would leave a snapshot of another screen."""
    assert {path.stem for path in FOLDER.glob("*.txt")} == {picture.name for picture in PICTURES}
    seen = {path.read_text(encoding="utf-8") for path in FOLDER.glob("*.txt")}
    assert len(seen) == len(PICTURES)
