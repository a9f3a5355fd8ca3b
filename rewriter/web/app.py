"""The server: one page, its parts, and the HTTP interface. It keeps nothing between two requests."""

from __future__ import annotations

from collections.abc import AsyncGenerator, Awaitable, Callable
from contextlib import asynccontextmanager
from functools import cache, wraps
from importlib.resources import files
from urllib.parse import quote

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from rewriter.options import Options
from rewriter.samples import SAMPLE
from rewriter.web import bodies, jobs
from rewriter.web.charting import CHART_CSS
from rewriter.web.choices import choices_of
from rewriter.web.downloads import download
from rewriter.web.guard import Guard
from rewriter.web.models import OptionsIn
from rewriter.web.openapi import openapi
from rewriter.web.page import page
from rewriter.web.problems import Problem, ProblemResponse, Refused, problem_of
from rewriter.web.result import picture_of, refusal, result_of
from rewriter.web.workers import Run, Workers

Answer = Callable[[Request], Awaitable[Response]]
_ASSETS = {
    "app.css": "text/css",
    "app.js": "text/javascript",
    "icon.svg": "image/svg+xml",
    "literata.woff2": "font/woff2",
}


def build_app(run: Run | None = None) -> Starlette:
    """Return the server; `run` does the work, by default in processes of its own."""
    workers = Workers() if run is None else None
    do: Run = workers or run  # type: ignore[assignment]

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncGenerator[None, None]:
        if workers is not None:
            workers.start()
        yield
        if workers is not None:
            workers.stop()

    async def result(request: Request) -> Response:
        # told in the page itself: a browser would note another status on its console
        try:
            form = await bodies.read_form(request)
            shown = await do(result_of, _draft(form), choices_of(form))
        except Refused as refused:
            shown = refusal(refused.problem)
        return _html(shown)

    async def picture(request: Request) -> Response:
        form = await bodies.read_form(request)
        return _html(await do(picture_of, _draft(form), choices_of(form)))

    async def take(request: Request) -> Response:
        form = await bodies.read_form(request)
        key = request.path_params["key"]
        sent = await do(download, _draft(form), choices_of(form), key)
        named = f"attachment; filename*=UTF-8''{quote(sent.name)}"
        return Response(sent.data, headers={"content-disposition": named}, media_type=sent.media)

    async def rewrite(request: Request) -> Response:
        file, options = await bodies.read_draft(request)
        return _json(await do(jobs.rewritten, file, _options(options)))

    async def read(request: Request) -> Response:
        file, options = await bodies.read_draft(request)
        return _json(await do(jobs.read, file, _options(options)))

    async def check(request: Request) -> Response:
        return _json(await do(jobs.checked, *await bodies.read_two(request)))

    routes = [
        Route("/", _page),
        Route("/sample", _sample),
        Route("/static/{name}", _asset),
        Route("/result", _refusing(result), methods=["POST"]),
        Route("/picture", _refusing(picture), methods=["POST"]),
        Route("/download/{key}", _refusing(take), methods=["POST"]),
        Route("/api/rewrite", _refusing(rewrite), methods=["POST"]),
        Route("/api/read", _refusing(read), methods=["POST"]),
        Route("/api/check", _refusing(check), methods=["POST"]),
        Route("/api/openapi.json", _openapi),
    ]
    return Starlette(
        routes=routes,
        middleware=[Middleware(Guard)],
        lifespan=lifespan,
        exception_handlers={HTTPException: _http_problem},
    )


def _options(sent: OptionsIn) -> Options:
    try:
        return sent.options()
    except ValueError as error:
        raise Refused("invalid", f"/options: {error}") from None


def _draft(form: bodies.Form) -> bodies.File:
    """Return the draft of the page's form: its file, or the text as a browser sends it."""
    if "file" in form.files:
        return form.files["file"]
    # a form's line ends are always CR LF, whatever was pasted
    text = form.get("text").replace("\r\n", "\n")
    if not text.strip():
        raise Refused("invalid", "there is no text yet")
    return bodies.text_file(text, form.get("name", "pattern"))


def _refusing(answer: Answer) -> Answer:
    @wraps(answer)
    async def answered(request: Request) -> Response:
        try:
            return await answer(request)
        except Refused as refused:
            return ProblemResponse(refused.problem)
        except ClientDisconnect:
            return Response(status_code=400)  # nobody is there to read it
        except (
            Exception
        ) as error:  # caught here, or the server would log it, words of the draft and all
            return ProblemResponse(_fault(error))

    return answered


async def _http_problem(_: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException)
    if error.status_code == 405:
        allowed = (error.headers or {}).get("Allow", "")
        problem = problem_of("method", f"this address takes {allowed}")
    elif error.status_code == 404:
        problem = problem_of("not-found", "the page is at /, the interface at /api/openapi.json")
    else:
        problem = problem_of("bad-request", error.detail)
    return ProblemResponse(problem, dict(error.headers or {}))


def _fault(error: Exception) -> Problem:
    detail = (
        f"a fault of the program stopped it ({type(error).__name__}); nothing was stored. Please report "
        "it with the pattern, or the paragraph it happens with"
    )
    return problem_of("fault", detail)


def _html(body: str) -> Response:
    return Response(body, media_type="text/html")


def _json(body: str) -> Response:
    return Response(body, media_type="application/json")


async def _page(_: Request) -> Response:
    return _html(page())


async def _openapi(_: Request) -> Response:
    return JSONResponse(openapi())


async def _sample(_: Request) -> Response:
    sample = (files("rewriter.samples") / SAMPLE).read_bytes()
    return Response(sample, media_type="text/plain")


@cache
def _read_asset(name: str) -> bytes:
    return (files("rewriter.web.static") / name).read_bytes()


async def _asset(request: Request) -> Response:
    name = request.path_params["name"]
    if name == "chart.css":
        return Response(CHART_CSS, media_type="text/css")
    if name not in _ASSETS:
        raise HTTPException(404)
    return Response(_read_asset(name), media_type=_ASSETS[name])
