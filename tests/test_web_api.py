"""The HTTP interface: what it takes, gives and refuses, without a browser."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import jsonschema
import pytest
from starlette.testclient import TestClient

from rewriter import check, read, rewrite
from rewriter.options import Options
from rewriter.web import bodies
from rewriter.web.app import build_app
from rewriter.web.problems import MEDIA_TYPE, Problem
from rewriter.web.workers import here
from tests.booklet import booklet

OWN = "http://127.0.0.1:8000"
DRAFT = (
    "BACK\nWork in st st until armholes measure 20(21) cm, ending with a WS row.\nShape shoulders\n"
    "Cast off 8(9) sts at beg of next 6 rows.\nCast off rem 28(30) sts.\n"
)


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient]:
    with TestClient(build_app(here), base_url=OWN, raise_server_exceptions=False) as client:
        yield client


def problem(answer: Any, status: int, kind: str) -> Problem:
    assert answer.status_code == status
    assert answer.headers["content-type"] == MEDIA_TYPE
    told = Problem.model_validate_json(answer.content)
    assert told.status == status
    assert told.type == f"urn:slopewise:problem:{kind}"
    return told


def test_rewrite_gives_the_report(client: TestClient) -> None:
    options = {"turn": "wrap", "shoulders": "three-needle", "markers": False}
    answer = client.post("/api/rewrite", json={"text": DRAFT, "options": options})
    expected = rewrite(DRAFT, Options(turn="wrap", shoulders="three-needle", markers=False))
    assert answer.status_code == 200
    assert answer.json() == json.loads(expected.to_json())


def test_read_and_check_give_their_models(client: TestClient) -> None:
    answer = client.post("/api/read", json={"text": DRAFT})
    assert answer.json() == json.loads(read(DRAFT).to_json())
    revised = rewrite(DRAFT).output
    answer = client.post("/api/check", json={"original": DRAFT, "revised": revised})
    assert answer.json() == json.loads(check(DRAFT, revised).to_json())


def test_a_file_of_any_format_is_taken(client: TestClient) -> None:
    answer = client.post(
        "/api/rewrite",
        files={"file": ("booklet.docx", booklet())},
        data={"options": '{"turn": "shadow"}'},
    )
    report = answer.json()
    assert report["source"] == {**report["source"], "name": "booklet.docx", "format": "docx"}
    assert report["options"]["turn"] == "shadow"
    two = {"original": ("a.txt", DRAFT), "revised": ("b.txt", rewrite(DRAFT).output)}
    assert client.post("/api/check", files=two).json()["result"] == "same"


def test_the_description_holds_for_what_is_taken_and_given(client: TestClient) -> None:
    described = client.get("/api/openapi.json").json()
    assert described["openapi"].startswith("3.1")
    validate = jsonschema.Draft202012Validator

    def named(name: str) -> Any:
        return validate({"$ref": f"#/components/schemas/{name}", **described})

    for path, taken, given, body in (
        ("/api/rewrite", "DraftIn", "Report", {"text": DRAFT, "options": {"turn": "german"}}),
        ("/api/read", "DraftIn", "Report", {"text": DRAFT}),
        ("/api/check", "CheckIn", "Comparison", {"original": DRAFT, "revised": DRAFT}),
    ):
        post = described["paths"][path]["post"]
        assert post["requestBody"]["content"]["application/json"]["schema"]["$ref"].endswith(taken)
        named(taken).validate(body)
        named(given).validate(client.post(path, json=body).json())
        named("Problem").validate(client.post(path, json={}).json())
    with pytest.raises(jsonschema.ValidationError):
        named("DraftIn").validate({"text": DRAFT, "options": {"turn": "sideways"}})


@pytest.mark.parametrize(
    ("body", "status", "kind", "told"),
    [
        ('{"text": "x", "options": {"assume": {"stitches": "some"}}}', 422, "invalid", "stitches"),
        ("{", 400, "bad-request", "JSON"),
        ("[" * 100_000, 400, "bad-request", "JSON"),
        ('{"text": "x", "size": 3}', 422, "invalid", "/size"),
        ('{"text": "x", "options": {"turn": "sideways"}}', 422, "invalid", "/options/turn"),
        ('{"text": "x", "options": {"exact_live": true}}', 422, "invalid", "exact_live"),
        ('{"text": "x", "options": {"assume": {"side": "RS"}}}', 422, "invalid", "assume"),
        ('{"text": ""}', 422, "invalid", "/text"),
        ('{"text": "  "}', 422, "unreadable", "empty"),
        ('{"text": "\\ud800"}', 422, "invalid", "/text"),
    ],
)
def test_what_is_wrong_is_told(
    client: TestClient, body: str, status: int, kind: str, told: str
) -> None:
    answer = client.post(
        "/api/rewrite", content=body.encode(), headers={"content-type": "application/json"}
    )
    assert told in problem(answer, status, kind).detail


def test_addresses_methods_and_kinds_of_content(client: TestClient) -> None:
    problem(client.get("/nothing"), 404, "not-found")
    problem(client.get("/static/secret.txt"), 404, "not-found")
    problem(client.get("/static/..%2fapp.py"), 404, "not-found")
    answer = client.get("/api/rewrite")
    assert "POST" in problem(answer, 405, "method").detail
    assert answer.headers["allow"] == "POST"
    text = {"content-type": "text/plain"}
    problem(client.post("/api/rewrite", content=b"x", headers=text), 415, "media-type")
    form = {"content-type": "multipart/form-data"}
    problem(client.post("/api/read", content=b"x", headers=form), 400, "bad-request")
    problem(client.post("/api/check", files={"original": b"x"}), 422, "invalid")
    damaged = {"file": ("draft.docx", b"PK\x03\x04 and no more")}
    problem(client.post("/api/rewrite", files=damaged), 422, "unreadable")
    assert "cannot be read" in client.post("/result", files=damaged).text


def test_sizes_have_limits(client: TestClient, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bodies, "LONGEST_TEXT", 100)
    long = {"text": DRAFT}
    assert (
        "100 characters" in problem(client.post("/api/rewrite", json=long), 413, "too-large").detail
    )
    monkeypatch.setattr(bodies, "LARGEST", 2_000_000)
    big = {"file": ("draft.txt", b"x" * 2_000_001)}
    assert "2 MB" in problem(client.post("/api/rewrite", files=big), 413, "too-large").detail
    assert "2 MB" in client.post("/result", files=big).text


def test_a_fault_is_told_without_the_words_of_the_draft(
    client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> str:
        raise RuntimeError(DRAFT)

    monkeypatch.setattr("rewriter.web.jobs.rewritten", fails)
    told = problem(client.post("/api/rewrite", json={"text": DRAFT}), 500, "fault")
    assert "RuntimeError" in told.detail and "Cast off" not in told.detail


# --- who may ask ------------------------------------------------------------------------------------


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1.evil.example:8000", "", "[::bad"])
def test_other_names_of_the_server_are_refused(client: TestClient, host: str) -> None:
    for path in ("/", "/api/openapi.json"):
        problem(client.get(path, headers={"host": host}), 421, "host")


def test_localhost_and_a_forwarded_port_are_its_own(client: TestClient) -> None:
    for host in ("localhost:8000", "127.0.0.1:9"):
        assert client.get("/", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://evil.example"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:9"},
        {"origin": "https://127.0.0.1:8000"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
    ],
)
def test_other_sites_may_not_post(client: TestClient, headers: dict[str, str]) -> None:
    for path in ("/result", "/picture", "/download/own", "/api/rewrite", "/api/check"):
        problem(client.post(path, data={"text": DRAFT}, headers=headers), 403, "elsewhere")


def test_its_own_page_and_programs_may_post(client: TestClient) -> None:
    own: list[dict[str, str]] = [{"origin": OWN, "sec-fetch-site": "same-origin"}, {}]
    for headers in own:
        answer = client.post("/api/read", json={"text": DRAFT}, headers=headers)
        assert answer.status_code == 200


def test_every_answer_forbids_other_places_and_keeping(client: TestClient) -> None:
    for answer in (
        client.get("/"),
        client.get("/nothing"),
        client.get("/static/app.js"),
        client.post("/api/read", json={"text": DRAFT}),
        client.get("/", headers={"host": "evil.example"}),
    ):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy and "unsafe" not in policy
        assert answer.headers["cache-control"] == "no-store"
        assert answer.headers["x-content-type-options"] == "nosniff"
        assert "set-cookie" not in answer.headers
        assert "access-control-allow-origin" not in answer.headers


def test_the_page_names_no_other_place_and_has_no_script_of_its_own(client: TestClient) -> None:
    page = client.get("/").text
    assert "http" not in page.replace("http-equiv", "")
    assert '<script type="module" src="/static/app.js"></script>' in page
    assert page.count("<script") == 1 and "style=" not in page and " on" + "click" not in page
    for name in ("app.css", "app.js", "icon.svg", "literata.woff2"):
        assert client.get(f"/static/{name}").status_code == 200
    for source in ("app.js", "app.css"):
        text = client.get(f"/static/{source}").text
        assert "://" not in text
        for keeping in ("localStorage", "sessionStorage", "indexedDB", "cookie ="):
            assert keeping not in text
