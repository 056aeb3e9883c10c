"""A headless Chromium driven by its devtools protocol: pages opened, taps, keys, pictures."""

from __future__ import annotations

import asyncio
import base64
import shutil
import subprocess
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from aiohttp import ClientSession, ClientWebSocketResponse

NAMES = ("chromium", "chromium-browser", "google-chrome")
CHROMIUM = next((path for name in NAMES if (path := shutil.which(name))), None)
LONGEST_SECONDS = 60


class Page:
    """One page of the browser."""

    def __init__(self, socket: ClientWebSocketResponse) -> None:
        self._socket = socket
        self._number = 0

    async def call(self, method: str, **given: Any) -> dict[str, Any]:
        self._number += 1
        await self._socket.send_json({"id": self._number, "method": method, "params": given})
        async with asyncio.timeout(LONGEST_SECONDS):
            while True:
                answer: dict[str, Any] = await self._socket.receive_json()
                if answer.get("id") == self._number:
                    assert "error" not in answer, answer
                    result: dict[str, Any] = answer["result"]
                    return result

    async def value(self, script: str) -> Any:
        answer = await self.call("Runtime.evaluate", expression=script, returnByValue=True)
        return answer["result"].get("value")

    async def open(self, address: str, width: int, height: int) -> None:
        await self.call("Page.enable")
        await self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width,
            height=height,
            deviceScaleFactor=1,
            mobile=False,
        )
        await self.call("Emulation.setTouchEmulationEnabled", enabled=True)
        await self.call("Page.navigate", url=address)

    async def until(self, script: str) -> None:
        async with asyncio.timeout(LONGEST_SECONDS):
            while not await self.value(script):
                await asyncio.sleep(0.1)

    async def press(self, key: str, code: int, text: str = "") -> None:
        given = {"key": key, "windowsVirtualKeyCode": code, "code": key if not text else f"Key{key.upper()}"}
        await self.call(
            "Input.dispatchKeyEvent", type="keyDown" if text else "rawKeyDown", text=text, **given
        )
        await self.call("Input.dispatchKeyEvent", type="keyUp", **given)

    async def tap(self, x: float, y: float) -> None:
        await self.call("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
        await self.call("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])

    async def picture(self) -> bytes:
        return base64.b64decode((await self.call("Page.captureScreenshot", format="png"))["data"])


@asynccontextmanager
async def browser(folder: Path) -> AsyncIterator[Page]:
    """A page of a browser of its own, whose files lie in the folder."""
    assert CHROMIUM is not None
    process = subprocess.Popen(
        [
            *(CHROMIUM, "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run"),
            *("--remote-debugging-port=0", f"--user-data-dir={folder}", "about:blank"),
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        told = folder / "DevToolsActivePort"
        async with asyncio.timeout(LONGEST_SECONDS):
            while not told.exists() or not told.read_text():
                await asyncio.sleep(0.1)
        port = told.read_text().split()[0]
        async with ClientSession() as session:
            async with session.get(f"http://127.0.0.1:{port}/json") as answer:
                pages = await answer.json()
            address = next(one["webSocketDebuggerUrl"] for one in pages if one["type"] == "page")
            async with session.ws_connect(address, max_msg_size=0) as socket:
                yield Page(socket)
    finally:
        process.terminate()
        process.wait(20)
