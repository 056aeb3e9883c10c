"""`bench serve`: who may come in, what the pages load, and a tablet's taps and keys, held either way."""

from __future__ import annotations

import asyncio
import re
import sqlite3
from contextlib import closing
from io import BytesIO
from pathlib import Path

import pytest
from aiohttp import ClientSession, CookieJar, WSServerHandshakeError
from PIL import Image

from bench.web.server import BenchServer
from tests.pty.program import did, environment, run
from tests.web.browser import CHROMIUM, Page, browser
from tests.web.serving import served

PASSWORD = "a few plain words"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    """A shop with one unit that can be started."""
    env = environment(tmp_path)
    path = tmp_path / "web.bench"
    did(env, "--data", str(path), "--new", "add", "Oxlip 14", "--maker", "Fenn", "--route", "full refurbish")
    return path


def running(path: Path) -> int:
    with closing(sqlite3.connect(path)) as file:
        return int(file.execute("SELECT COUNT(*) FROM time_entry WHERE stopped_us IS NULL").fetchone()[0])


async def until(path: Path, count: int) -> None:
    async with asyncio.timeout(30):
        while running(path) != count:
            await asyncio.sleep(0.1)


async def opened(page: Page, port: int, width: int, height: int) -> None:
    await page.open(f"http://127.0.0.1:{port}/", width, height)
    await page.until("document.body && document.body.classList.contains('-first-byte')")
    await asyncio.sleep(1.5)  # what the terminal's own script sets up has no sign of its end


@pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
@pytest.mark.parametrize(("width", "height"), [(820, 1180), (1180, 820)])
async def test_a_tablet_starts_by_key_and_stops_by_tap(
    shop: Path, tmp_path: Path, width: int, height: int
) -> None:
    with served(shop, environment(tmp_path)) as (port, _):
        async with browser(tmp_path / "chromium") as page:
            await opened(page, port, width, height)
            await page.press("s", 83, "s")
            await until(shop, 1)
            await page.press("F9", 120)
            await asyncio.sleep(1.0)
            picture = Image.open(BytesIO(await page.picture())).convert("RGB")
            assert picture.size == (width, height)
            assert len(picture.getcolors(1 << 20) or ()) > 20, "something is drawn"
            loaded = await page.value(
                "JSON.stringify(performance.getEntriesByType('resource').map(one => one.name))"
            )
            assert all(f"127.0.0.1:{port}" in one for one in re.findall(r'"([^"]+)"', loaded))
            # The three areas stand above the key bar: the middle one starts and stops.
            await page.tap(width / 2, height - 55)
            await until(shop, 0)


async def test_without_the_password_nothing_is_to_be_had(shop: Path, tmp_path: Path) -> None:
    env = {**environment(tmp_path), "BENCH_WEB_PASSWORD": PASSWORD}
    with served(shop, env) as (port, _):
        at = f"http://127.0.0.1:{port}"
        async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as session:
            async with session.get(f"{at}/") as answer:
                page = await answer.text()
                assert "not encrypted" in page
                assert "terminal" not in page
            async with session.get(f"{at}/static/js/textual.js") as answer:
                assert answer.status == 401
            with pytest.raises(WSServerHandshakeError, match="401"):
                await session.ws_connect(f"{at}/ws", headers={"Origin": at})
            async with session.post(f"{at}/login", data={"password": "wrong"}) as answer:
                assert answer.status == 401
                assert "not the password" in await answer.text()
            async with session.post(f"{at}/login", data={"password": PASSWORD}) as answer:
                assert answer.status == 200
                assert 'id="terminal"' in await answer.text()
            async with session.ws_connect(f"{at}/ws", headers={"Origin": at}) as socket:
                assert await socket.receive() is not None
            for other in ({"Origin": "http://elsewhere.example"}, {}):
                with pytest.raises(WSServerHandshakeError, match="403"):
                    await session.ws_connect(f"{at}/ws", headers=other)


async def test_another_name_for_the_loopback_address_is_turned_away(shop: Path, tmp_path: Path) -> None:
    with served(shop, environment(tmp_path)) as (port, _):
        async with ClientSession(cookie_jar=CookieJar(unsafe=True)) as session:
            headers = {"Host": f"elsewhere.example:{port}"}
            async with session.get(f"http://127.0.0.1:{port}/", headers=headers) as answer:
                assert answer.status == 403


def test_listening_anywhere_else_needs_a_password_and_says_what_it_is_not(shop: Path, tmp_path: Path) -> None:
    env = environment(tmp_path)
    data = ("--data", str(shop))
    assert "no password is set" in run(env, *data, "serve", "--host", "0.0.0.0").err
    short = {**env, "BENCH_WEB_PASSWORD": "short"}
    assert "fewer than 8" in run(short, *data, "serve", "--host", "0.0.0.0").err
    with pytest.raises(ValueError, match="needs a password"):
        BenchServer("x", "0.0.0.0", 8017, "bench", None)
    with served(shop, {**env, "BENCH_WEB_PASSWORD": PASSWORD}, "--host", "0.0.0.0") as (_, told):
        pass
    assert "is served on http://0.0.0.0" in told.out
    assert "The line is not encrypted" in told.err
    assert told.code == 0


def test_the_pages_name_nothing_elsewhere() -> None:
    for page in (Path(__file__).parents[2] / "bench" / "web").glob("*.html"):
        assert "http" not in page.read_text().replace("{{socket}}", "")
