"""Who may speak to the desk; the list walked is that of OWASP's verification standard."""

import pytest
from starlette.applications import Starlette
from starlette.responses import PlainTextResponse
from starlette.routing import Route
from starlette.testclient import TestClient

from inkline.desk.guard import COOKIE, SHOWN_IN, Guard

PORT = 4711
KEY = "a-key-of-this-test"


async def answer(_):
    return PlainTextResponse("hello")


@pytest.fixture
def client():
    app = Starlette(routes=[Route("/", answer), Route("/do", answer, methods=["POST"])])
    guarded = Guard(app, port=PORT, token=KEY, most_bytes=100)
    return TestClient(guarded, base_url=f"http://127.0.0.1:{PORT}", follow_redirects=False)


@pytest.fixture
def known(client):
    client.get("/", params={"key": KEY})
    return client


def test_the_address_with_the_key_opens_the_desk_and_hides_the_key(client):
    came = client.get("/", params={"key": KEY})
    assert (came.status_code, came.headers["location"]) == (303, "/")
    cookie = came.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert client.get("/").text == "hello"


@pytest.mark.parametrize("key", ["", "wrong", KEY[:-1]])
def test_without_the_key_it_stays_closed(client, key):
    assert client.get("/", params={"key": key}).status_code == 403
    assert client.get("/").status_code == 403


@pytest.mark.parametrize("host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1:80", ""])
def test_another_host_is_refused(known, host):
    assert known.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", ["http://evil.example", "null", f"https://127.0.0.1:{PORT}"])
def test_another_page_is_refused(known, origin):
    headers = {"origin": origin, SHOWN_IN: KEY}
    assert known.post("/do", content=b"", headers=headers).status_code == 403


def test_its_own_page_may_write(known):
    headers = {"origin": f"http://127.0.0.1:{PORT}", SHOWN_IN: KEY}
    assert known.post("/do", content=b"x", headers=headers).text == "hello"


@pytest.mark.parametrize("shown", [None, "", "wrong"])
def test_nothing_is_written_without_the_token(known, shown):
    headers = {} if shown is None else {SHOWN_IN: shown}
    assert known.post("/do", content=b"x", headers=headers).status_code == 403


def test_the_token_alone_is_not_enough(client):
    assert client.post("/do", content=b"x", headers={SHOWN_IN: KEY}).status_code == 403


def test_what_is_sent_is_limited_and_says_its_length(known):
    headers = {SHOWN_IN: KEY}
    assert known.post("/do", content=b"x" * 101, headers=headers).status_code == 413
    pieces = (b"x" for _ in range(3))
    assert known.post("/do", content=pieces, headers=headers).status_code == 411


def test_every_answer_keeps_the_page_to_itself(known, client):
    for came in (known.get("/"), client.get("/", headers={"host": "evil.example"})):
        policy = came.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert came.headers["x-content-type-options"] == "nosniff"
        assert came.headers["cache-control"] == "no-store"


def test_a_broken_cookie_is_none(client):
    for cookie in (f"{COOKIE}=", "=;;", f"{COOKIE}={KEY[:-2]}"):
        assert client.get("/", headers={"cookie": cookie}).status_code == 403
