"""The author's page answers its own browser, and nobody and nothing else."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from patternpress.assembly import model
from patternpress.desk import pressing
from patternpress.desk.commands.new import starter
from patternpress.desk.preview.keeping import Recent
from patternpress.desk.preview.rounds import News
from patternpress.desk.preview.server import COOKIE, HEADERS, STATIC, application
from patternpress.desk.preview.serving import bound
from patternpress.desk.preview.workshop import ConflictError, Workshop, mark_of
from patternpress.proof.findings import Report
from patternpress.proof.prove import prove

TOKEN, PORT = "t" * 32, 8123
HOME = f"http://127.0.0.1:{PORT}"
PATIENCE = 120  # seconds; only ever used up by a failure


def settled(workshop: Workshop, mark: str = "") -> None:
    """Wait until the workshop has done what it was given."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        state = workshop.state
        if not state.busy and (state.mark == mark if mark else state.pages or state.problems):
            return
        time.sleep(0.02)
    raise AssertionError(f"still {workshop.state.busy!r}")


@pytest.fixture(scope="module")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    folder = tmp_path_factory.mktemp("desk") / "designs"
    folder.mkdir()
    (folder / "box.yaml").write_text(starter("box"), "utf-8")
    (folder.parent / "secret.txt").write_text("secret", "utf-8")
    (folder / "out").mkdir()
    (folder / "out" / "private.pdf").write_text("secret", "utf-8")
    made = Workshop(folder / "box.yaml", folder / "out")
    made.start()
    settled(made, mark_of(starter("box")))
    yield made
    made.close()


@pytest.fixture
def browser(workshop: Workshop) -> TestClient:
    """A browser that has opened the printed address."""
    client = TestClient(application(workshop, TOKEN, PORT), base_url=HOME)
    assert client.get(f"/?token={TOKEN}").status_code == 200
    return client


@pytest.fixture
def stranger(workshop: Workshop) -> TestClient:
    return TestClient(application(workshop, TOKEN, PORT), base_url=HOME)


def ask(client: TestClient, what: str, origin: str | None = HOME, **fields: object) -> object:
    headers = {"Origin": origin} if origin else {}
    return client.post(f"/ask/{what}", json=fields, headers=headers)


# --- who may ask


def test_the_printed_address_gives_the_page_and_leaves_no_token_in_it(browser: TestClient) -> None:
    answer = browser.get(f"/?token={TOKEN}", follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/"
    cookie = answer.headers["set-cookie"].lower()
    assert all(word in cookie for word in ("httponly", "samesite=strict"))
    assert TOKEN not in browser.get("/").text


PATHS = ["/", "/state", "/news", "/page/x.png", "/made/x.pdf", "/static/page.js"]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("given", ["", "wrong", TOKEN[:-1], TOKEN + "t", "é"])
def test_without_the_token_nothing_is_told(stranger: TestClient, path: str, given: str) -> None:
    cookies = {"Cookie": f"{COOKIE}={given}".encode()}
    assert stranger.get(path, headers=cookies).status_code == 403
    assert stranger.get("/", params={"token": given}).status_code == 403


@pytest.mark.parametrize(
    "host", ["evil.example", f"evil.example:{PORT}", "127.0.0.1", f"127.0.0.1.evil:{PORT}", ""]
)
def test_another_name_for_this_computer_is_refused(browser: TestClient, host: str) -> None:
    """A page elsewhere may give its own name this computer's address (DNS rebinding)."""
    for path in PATHS:
        assert browser.get(path, headers={"Host": host}).status_code == 403


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", f"https://127.0.0.1:{PORT}", HOME + "0", None]
)
def test_another_page_may_change_nothing(browser: TestClient, origin: str | None) -> None:
    for what in ("change", "undo", "build", "show", "try", "keep"):
        assert ask(browser, what, origin).status_code == 403


def test_other_methods_are_refused(browser: TestClient) -> None:
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS"):
        assert browser.request(method, "/state", headers={"Origin": HOME}).status_code == 403
    assert browser.get("/ask/undo").status_code == 405


# --- what is given out


@pytest.mark.parametrize(
    "path",
    [
        "/static/server.py",
        "/static/../server.py",
        "/static/..%2fserver.py",
        "/static/%2e%2e/%2e%2e/cli.py",
        "/made/private.pdf",
        "/made/..%2fbox.yaml",
        "/made/..%2f..%2fsecret.txt",
        "/made/%2fetc%2fpasswd",
        "/page/../../secret.txt",
        "/page/x.png?dpi=99999999",
        "/box.yaml",
    ],
)
def test_no_path_leads_to_another_file(browser: TestClient, path: str) -> None:
    answer = browser.get(path, follow_redirects=False)
    assert answer.status_code in (303, 400, 403, 404, 405, 307)
    assert "secret" not in answer.text


def test_every_answer_shuts_scripts_and_frames_out(
    browser: TestClient, stranger: TestClient
) -> None:
    for client, path in ((browser, "/"), (browser, "/state"), (stranger, "/"), (browser, "/no")):
        answer = client.get(path)
        for name, value in HEADERS.items():
            assert answer.headers[name] == value
    policy = HEADERS["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy


def test_the_page_asks_for_nothing_from_elsewhere(browser: TestClient) -> None:
    texts = [browser.get("/").text, *(browser.get(f"/static/{name}").text for name in STATIC)]
    assert not any(word in text for text in texts for word in ("http://", "https://", "//cdn"))
    assert not any("innerHTML" in text or "eval(" in text for text in texts)
    assert "<script>" not in texts[0]
    assert " style=" not in texts[0]
    assert " onclick" not in texts[0]


def test_only_this_computer_is_listened_to() -> None:
    listening = bound(0)
    try:
        assert listening.getsockname()[0] == "127.0.0.1"
        with pytest.raises(OSError, match="in use"):
            bound(listening.getsockname()[1])
    finally:
        listening.close()


# --- questions


@pytest.mark.parametrize(
    ("what", "fields"),
    [
        ("spots", {}),
        ("spots", {"page": "x", "edition": "metric"}),
        ("try", {"mark": 3}),
        ("try", {"mark": "M", "place": "x", "kind": "figure", "new": "1"}),
        ("try", {"mark": "M", "place": "99999.1-99999.2", "kind": "figure", "new": "1 mm"}),
        ("try", {"mark": "M", "place": "-3.1--3.2", "kind": "figure", "new": "1 mm"}),
        ("change", {"mark": "M", "place": "1.1-1.2", "kind": "figure", "new": ""}),
        ("keep", {"mark": "M", "step": 999, "from": "front right above"}),
        ("keep", {"mark": "M", "step": 1, "from": "front\nsteps: []"}),
        ("show", {"editions": "metric"}),
        ("turn", {"edition": "no"}),
    ],
)
def test_a_wrong_question_is_refused_in_words(
    workshop: Workshop, browser: TestClient, what: str, fields: dict[str, object]
) -> None:
    before = workshop.path.read_bytes()
    if fields.get("mark") == "M":
        fields = {**fields, "mark": workshop.state.mark}
    answer = ask(browser, what, **fields)
    assert answer.status_code == 400
    assert answer.json()["refused"]
    assert workshop.path.read_bytes() == before


@pytest.mark.parametrize("body", [b"", b"[]", b"{", b"\xff", b"[" * 60_000, b"1"])
def test_what_is_no_question_is_refused(browser: TestClient, body: bytes) -> None:
    answer = browser.post("/ask/try", content=body, headers={"Origin": HOME})
    assert answer.status_code in (400, 409)


def test_too_much_at_once_is_refused(browser: TestClient) -> None:
    answer = browser.post("/ask/try", content=b"x" * 70_000, headers={"Origin": HOME})
    assert answer.status_code == 413


def test_state_pages_figures_and_model_are_told(workshop: Workshop, browser: TestClient) -> None:
    state = browser.get("/state").json()
    assert state["editions"] == ["metric", "inch"]
    pages = state["pages"]["metric"]
    assert len({page["id"] for page in pages}) == len(pages) > 5
    picture = browser.get(f"/page/{pages[0]['id']}.png?dpi=40")
    assert picture.content[:8] == b"\x89PNG\r\n\x1a\n"
    figures = ask(browser, "figures", edition="metric").json()["figures"]
    assert any(each["label"] == "sizes, width" and each["given"] for each in figures)
    model = ask(browser, "turn", edition="metric").json()
    assert {piece["piece"] for piece in model["pieces"]} >= {"floor", "back board"}
    for piece in model["pieces"]:
        count = len(piece["points"])
        assert all(0 <= n < count for corners in piece["triangles"] for n in corners)
        assert len(piece["triangles"]) == len(piece["looks"]) > 3
    assert ask(browser, "plan").json()["lines"]
    assert ask(browser, "source", mark=state["mark"]).json()["text"] == starter("box")


# --- changes


def fresh(tmp_path: Path, text: str = "") -> Workshop:
    path = tmp_path / "box.yaml"
    path.write_text(text or starter("box"), "utf-8")
    return Workshop(path, tmp_path / "out")


def test_a_change_is_written_and_taken_back(tmp_path: Path) -> None:
    workshop = fresh(tmp_path)
    text = starter("box")
    changed = text.replace("width: 30 mm", "width: 32 mm")
    workshop.change(changed, mark_of(text))
    assert workshop.path.read_text("utf-8") == changed
    workshop.undo()
    assert workshop.path.read_text("utf-8") == text
    with pytest.raises(ConflictError, match="nothing to take back"):
        workshop.undo()


def test_what_was_tried_need_not_be_found_again_once_it_is_accepted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop, sought = fresh(tmp_path), list[str]()
    find = model._misfits
    monkeypatch.setattr(model, "_misfits", lambda *of: (sought.append("places"), find(*of))[1])
    wider = starter("box").replace("width: 30 mm", "width: 32 mm")
    told = workshop.tried(wider)["problems"]
    assert sought == ["places"]
    assert workshop.tried(wider)["problems"] == told
    assert sought == ["places"]
    workshop.tried(wider.replace("32 mm", "33 mm"))
    assert sought == ["places", "places"]


def test_what_an_editor_wrote_meanwhile_is_never_overwritten(tmp_path: Path) -> None:
    workshop = fresh(tmp_path)
    text = starter("box")
    other = text.replace("12 mm", "13 mm")
    workshop.path.write_text(other, "utf-8")
    with pytest.raises(ConflictError, match="changed meanwhile"):
        workshop.change(text.replace("30 mm", "32 mm"), mark_of(text))
    assert workshop.path.read_text("utf-8") == other
    workshop.change(other.replace("30 mm", "32 mm"), mark_of(other))
    workshop.path.write_text(text, "utf-8")
    with pytest.raises(ConflictError):
        workshop.undo()
    assert workshop.path.read_text("utf-8") == text


def test_names_and_words_of_a_hostile_design_stay_words(tmp_path: Path) -> None:
    text = starter("box").replace("design: Box", 'design: "<script>alert(1)</script>"')
    text = text.replace("width: 30 mm", "width: 30 mmm")
    workshop = fresh(tmp_path, text)
    workshop.start()
    settled(workshop, mark_of(text))
    client = TestClient(application(workshop, TOKEN, PORT), base_url=HOME)
    client.get(f"/?token={TOKEN}")
    answer = client.get("/state")
    assert answer.headers["content-type"] == "application/json"
    assert client.get("/").text.count("<script") == 3
    workshop.close()


def test_a_thousand_quick_saves_lose_nothing_and_keep_little(tmp_path: Path) -> None:
    """The last text is the one that is shown; pictures and pages kept stay within bounds."""
    workshop = fresh(tmp_path)
    workshop.start()
    text = starter("box")
    for number in range(1000):
        text = starter("box").replace("width: 30 mm", f"width: {30 + number % 7}.{number % 10} mm")
        workshop.path.write_text(text, "utf-8")
        workshop.look()
    settled(workshop, mark_of(text))
    model = workshop.state.models["metric"]
    width = next(each for each in model.worked.book.sizes if each.name.value == "width")
    assert f"width: {width.is_.text}" in text
    assert not any(page.old for page in workshop.state.pages["metric"])
    assert len(workshop._cache) <= 500
    workshop.close()


def test_a_newer_text_ends_the_work_on_an_older_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    workshop, done = fresh(tmp_path), list[tuple[str, int]]()
    older, newer = starter("box"), starter("box").replace("30 mm", "31 mm")

    def slow(text: str, *_: object) -> Iterator[News]:
        """News without end for the older text; the newer one is saved after the second piece."""
        for number in range(1000 if text == older else 3):
            if text == older and number == 2:
                workshop.path.write_text(newer, "utf-8")
                workshop.look()
            done.append((text, number))
            yield News("old", edition="metric")

    monkeypatch.setattr("patternpress.desk.preview.workshop.work", slow)
    workshop.start()
    settled(workshop, mark_of(newer))
    workshop.close()
    assert done == [*((older, n) for n in range(3)), *((newer, n) for n in range(3))]


def test_what_is_kept_stays_within_bounds() -> None:
    kept = Recent(3)
    for number in range(5):
        kept[str(number)] = number
        kept.get("2")
    assert sorted(kept) == ["2", "3", "4"]
    del kept["3"]
    assert len(kept) == 2


def test_building_tells_how_far_it_is_and_proves_every_edition(
    workshop: Workshop, browser: TestClient
) -> None:
    told: list[tuple[str, int, int]] = []
    refused: list[str] = []

    def hear() -> None:
        if making := workshop.state.making:
            told.append((making.edition, making.done, len(workshop.state.built)))

    end = workshop.listen(hear)
    building = threading.Thread(target=workshop.build)
    building.start()
    while workshop.state.making is None and building.is_alive():
        time.sleep(0.001)
    try:
        workshop.build()
    except ConflictError as error:
        refused.append(str(error))
    building.join()
    end()
    assert refused == ["the editions are being built already."]
    assert {(name, done) for name, done, _ in told} == {("metric", 0), ("inch", 1)}
    files = [count for _, _, count in told]
    assert files == sorted(files)
    assert files[0] == 0
    assert len(workshop.state.built) == files[-1] > 0
    assert workshop.state.making is None
    proved = ask(browser, "proof").json()["proved"]
    assert [each["sound"] for each in proved] == [True, True]
    page = browser.get("/made/box-metric-proof.html")
    assert page.headers["content-disposition"] == "attachment"
    assert page.text.startswith("<!doctype html>")


def test_what_the_proof_refuses_is_not_written(
    workshop: Workshop, browser: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A proof that is told of other facts than the booklet was made of."""
    for each in workshop.out.glob("box-*"):
        each.unlink()

    def other(pdf: bytes, facts: dict[str, Any], **more: Any) -> Report:
        return prove(pdf, {**facts, "version": "9"}, **more)

    monkeypatch.setattr(pressing, "prove", other)
    made = ask(browser, "build").json()
    assert made["made"] == []
    assert [each["sound"] for each in made["proved"]] == [False, False]
    assert "Refused" in made["proved"][0]["lines"][0]
    assert list(workshop.out.glob("box-*")) == []
