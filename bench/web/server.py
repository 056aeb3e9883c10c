"""The server: the framework's, with our own page, a password where others can reach it, checked origins."""

from __future__ import annotations

import asyncio
import hmac
import secrets
from collections.abc import Awaitable, Callable
from importlib.resources import files
from urllib.parse import urlsplit

from aiohttp import web
from textual_serve.server import Server

COOKIE = "bench_session"
LOOPBACK = ("127.0.0.1", "localhost", "::1")
AFTER_A_WRONG_ONE_SECONDS = 1.0
PAGES = files("bench.web")
# Only what this server sends is loaded; the page's own script and style stand in it.
POLICY = (
    "default-src 'self'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data:; connect-src 'self' ws: wss:; frame-ancestors 'none'"
)
Handler = Callable[[web.Request], Awaitable[web.StreamResponse]]


def is_loopback(host: str) -> bool:
    """Whether only this machine can reach what listens on this address."""
    return host in LOOPBACK


class BenchServer(Server):
    """One dashboard process a visit. `password`: asked of everyone; None for the loopback address alone."""

    def __init__(self, command: str, host: str, port: int, title: str, password: str | None) -> None:
        if password is None and not is_loopback(host):
            raise ValueError("an address that others can reach needs a password")
        super().__init__(command, host=host, port=port, title=title)
        self._password = password
        self._sessions: set[str] = set()

    def initialize_logging(self) -> None:
        """Keep the framework's log to itself."""

    async def on_startup(self, app: web.Application) -> None:
        """Nothing is printed but what the command says."""

    async def _make_app(self) -> web.Application:
        app: web.Application = await super()._make_app()
        app.middlewares.append(self._guard)
        app.router.add_post("/login", self._log_in)
        return app

    async def handle_index(self, request: web.Request) -> web.Response:
        """The page with the terminal in it; what it loads and speaks to is this server, by any name of it."""
        page = PAGES.joinpath("page.html").read_text(encoding="utf-8")
        secure = "wss" if request.secure else "ws"
        page = page.replace("{{socket}}", f"{secure}://{request.host}/ws")
        return _html(page)

    @web.middleware
    async def _guard(self, request: web.Request, handler: Handler) -> web.StreamResponse:
        if not self._may_be_asked(request):
            raise web.HTTPForbidden(text="This address is not the one that is served.")
        if request.path != "/login" and not self._is_known(request):
            if request.path == "/":
                return _login_page()
            raise web.HTTPUnauthorized(text="Log in first.")
        return await handler(request)

    def _may_be_asked(self, request: web.Request) -> bool:
        """No other site's page may speak to it, nor by another name for the loopback address."""
        host = urlsplit(f"//{request.host}").hostname or ""
        origin = request.headers.get("Origin")
        same = origin is None or urlsplit(origin).netloc == request.host
        needs_origin = request.path == "/ws" and origin is None
        return same and not needs_origin and (not is_loopback(self.host) or is_loopback(host))

    def _is_known(self, request: web.Request) -> bool:
        if self._password is None:
            return True
        token = request.cookies.get(COOKIE, "")
        return any(hmac.compare_digest(token, one) for one in self._sessions)

    async def _log_in(self, request: web.Request) -> web.StreamResponse:
        typed = str((await request.post()).get("password", ""))
        if self._password is None or not hmac.compare_digest(typed.encode(), self._password.encode()):
            await asyncio.sleep(AFTER_A_WRONG_ONE_SECONDS)
            return _login_page(wrong=True)
        token = secrets.token_urlsafe(32)
        self._sessions.add(token)
        answer = web.HTTPSeeOther("/")
        answer.set_cookie(COOKIE, token, httponly=True, samesite="Strict", secure=request.secure)
        return answer


def _login_page(*, wrong: bool = False) -> web.Response:
    page = PAGES.joinpath("login.html").read_text(encoding="utf-8")
    says = "That is not the password." if wrong else ""
    return _html(page.replace("{{says}}", says), status=401 if wrong else 200)


def _html(page: str, status: int = 200) -> web.Response:
    headers = {
        "Content-Security-Policy": POLICY,
        "X-Content-Type-Options": "nosniff",
        "Cache-Control": "no-store",
    }
    return web.Response(text=page, content_type="text/html", status=status, headers=headers)
