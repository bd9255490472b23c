"""Who may speak to the desk: this machine's browser, from the page that the desk itself gave.

Walked against OWASP's list for such a page (Application Security Verification Standard 4.0, V3
sessions, V4 access control, V13 requests, V14 headers): the page listens on the loopback address
only; a foreign Host is refused, so that no name that points here can be used (DNS rebinding); a
foreign Origin is refused, and all that changes or draws needs a token that only the page knows
(cross-site request forgery); the page runs nothing but its own files and is framed by nobody.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

SHOWN_IN = "x-inkline-token"
COOKIE = "inkline-desk"
_KEY = "key"
_READING = frozenset({"GET", "HEAD"})
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob: data:; "
    "connect-src 'self'; font-src 'self'; frame-src 'self'; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'"
)
_HEADERS = {
    "content-security-policy": _POLICY,
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
}


class Guard:
    """Lets through what comes from the desk's own page, and nothing else.

    Attributes:
        token: what the page must show, 256 random bits.
    """

    def __init__(self, app: ASGIApp, *, port: int, token: str, most_bytes: int) -> None:
        self._app, self.token, self._most_bytes = app, token, most_bytes
        self._hosts = {f"{name}:{port}" for name in ("127.0.0.1", "localhost", "[::1]")}
        self._origins = {f"http://{host}" for host in self._hosts}

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        answer = self._refusal(scope)
        if answer is None:
            await self._app(scope, receive, _with_headers(send))
        else:
            await answer(scope, receive, _with_headers(send))

    def _refusal(self, scope: Scope) -> Response | None:
        request, headers = Request(scope), Headers(scope=scope)
        stranger = self._stranger(headers)
        if stranger is not None:
            return stranger
        shown = request.query_params.get(_KEY)
        if scope["path"] == "/" and shown is not None:
            return self._entrance(shown)
        if not self._knows(_cookie(headers.getlist("cookie"))):
            return PlainTextResponse(
                "Open the desk by the address that inkline desk showed.", status_code=403
            )
        return None if scope["method"] in _READING else self._refusal_to_write(headers)

    def _stranger(self, headers: Headers) -> Response | None:
        """The refusal of another host or another page."""
        if headers.get("host", "") not in self._hosts:
            return PlainTextResponse("This is not where the desk is.", status_code=421)
        origin = headers.get("origin")
        if origin is not None and origin not in self._origins:
            return PlainTextResponse("Another page may not use the desk.", status_code=403)
        return None

    def _refusal_to_write(self, headers: Headers) -> Response | None:
        """The refusal of what would change or draw something."""
        if not self._knows(headers.get(SHOWN_IN, "")):
            return PlainTextResponse("The page is an older one: load it again.", status_code=403)
        length = headers.get("content-length", "")
        if not length.isdecimal():
            return PlainTextResponse("The length of what is sent must be said.", status_code=411)
        if int(length) > self._most_bytes:
            return PlainTextResponse("This file is too large for the desk.", status_code=413)
        return None

    def _entrance(self, shown: str) -> Response:
        """The way in by the address with the key, which is then no longer seen in it."""
        if not self._knows(shown):
            return PlainTextResponse("This address is an older one.", status_code=403)
        answer = RedirectResponse("/", status_code=303)
        answer.set_cookie(COOKIE, self.token, httponly=True, samesite="strict", path="/")
        return answer

    def _knows(self, shown: str) -> bool:
        return secrets.compare_digest(shown.encode(), self.token.encode())


def _cookie(lines: Iterable[str]) -> str:
    for line in lines:
        cookie = SimpleCookie()
        try:
            cookie.load(line)
        except CookieError:
            continue
        if COOKIE in cookie:
            return cookie[COOKIE].value
    return ""


def _with_headers(send: Send) -> Send:
    async def send_with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in _HEADERS.items():
                headers.setdefault(name, value)
            if "cache-control" not in headers:
                headers["cache-control"] = "no-store"
        await send(message)

    return send_with_headers
