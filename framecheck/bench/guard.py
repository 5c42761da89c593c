"""Who may ask: a browser on this machine with the token, at this address, from this page. Every answer says what it may load."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from secrets import compare_digest
from typing import Any

from framecheck.value_class import value_class

Scope = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[MutableMapping[str, Any]]]
Send = Callable[[MutableMapping[str, Any]], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]

MOST_BYTES = 3_000_000
"""The longest request: two texts of the longest file, in JSON."""
HEADERS = (
    (b"content-security-policy", b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
     b"base-uri 'none'; form-action 'none'; frame-ancestors 'none'"),
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)  # fmt: skip


@value_class
class Guard:
    """Refuses what does not come from the page itself. token: the first part of every address; port: the one that is listened on."""

    app: App
    token: str
    port: int

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or refuse it."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        why = self.refusal(scope) if scope["type"] == "http" else "only pages are served here"
        if why:
            await refuse(send, why)
            return
        inner = {**scope, "root_path": f"/{self.token}"}

        async def with_headers(message: MutableMapping[str, Any]) -> None:
            if message["type"] == "http.response.start":
                message = {**message, "headers": [*message.get("headers", ()), *HEADERS]}
            await send(message)

        await self.app(inner, receive, with_headers)

    def refusal(self, scope: Scope) -> str:
        """Return why a request is refused, "" where it is not."""
        found = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        own = {f"127.0.0.1:{self.port}", f"localhost:{self.port}"}
        if found.get(b"host", "") not in own:
            return "this address is not the page's own"
        origin = found.get(b"origin")
        if origin is not None and origin.removeprefix("http://") not in own:
            return "another page asked"
        if found.get(b"sec-fetch-site", "none") not in ("none", "same-origin"):
            return "another page asked"
        steps = scope["path"].split("/", 2)
        if len(steps) < 3 or not compare_digest(steps[1].encode(), self.token.encode()):
            return "the address lacks its token: open the one that was printed"
        length = found.get(b"content-length", "0")
        if not length.isdigit() or int(length) > MOST_BYTES or b"transfer-encoding" in found:
            return "the request is too long"
        return ""


async def refuse(send: Send, why: str) -> None:
    """Send a refusal."""
    headers = [(b"content-type", b"text/plain; charset=utf-8"), *HEADERS]
    await send({"type": "http.response.start", "status": 403, "headers": headers})
    await send({"type": "http.response.body", "body": f"Refused: {why}.\n".encode()})
