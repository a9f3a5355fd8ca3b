"""Who may ask: this machine's own pages, by this machine's own names; and what every answer forbids.

A name that a stranger's server points at this machine (DNS rebinding) shows in the Host header; a
stranger's page that posts here shows in the Origin header.
"""

from __future__ import annotations

from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from rewriter.web.problems import ProblemResponse, problem_of

HOSTS = frozenset({"127.0.0.1", "localhost"})
_READING = frozenset({"GET", "HEAD"})
_POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    "content-security-policy": _POLICY,
    "cache-control": "no-store",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), geolocation=(), microphone=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
}


class Guard:
    """Refuses requests under other names or from other sites, and sets the headers of every answer."""

    def __init__(self, app: ASGIApp) -> None:
        """Stand before `app`."""
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer a request, or refuse it."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(_HEADERS)
            await send(message)

        refused = _refusal(scope["method"], Headers(scope=scope))
        await (refused or self.app)(scope, receive, guarded)


def _refusal(method: str, headers: Headers) -> ProblemResponse | None:
    host = headers.get("host", "")
    if _name(host) not in HOSTS:
        detail = "ask this server as 127.0.0.1 or localhost: it serves its own machine alone"
        return ProblemResponse(problem_of("host", detail))
    if method in _READING:
        return None
    origin = headers.get("origin")
    own = origin is None or origin == f"http://{host}"
    # a browser that sends no Origin still says whether another site asks
    if own and headers.get("sec-fetch-site", "none") in ("same-origin", "none"):
        return None
    return ProblemResponse(problem_of("elsewhere", "only the page of this server may ask it"))


def _name(host: str) -> str:
    try:
        return urlsplit(f"//{host}").hostname or ""
    except ValueError:
        return ""
