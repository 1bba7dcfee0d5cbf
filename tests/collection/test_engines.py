"""The engine by its setting: a folder that lasts, is let in once, and is built anew from the files when damaged."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from typer.testing import CliRunner

from firstoff.cli import app
from firstoff.collection.engines import engine_of, following, open_answers, open_service
from firstoff.collection.shelf import Shelf
from firstoff.configuration import configured, settings_from
from firstoff.errors import BadRequest, EngineFailed
from firstoff.settings import Settings, of_answers
from firstoff.store.embedded import EmbeddedStore
from firstoff.store.remote import RemoteStore
from support.fake_engine import FakeEngine, says
from support.small_platform import TURTLE

MODEL = "box-20"
HEAVIER = TURTLE.replace('rdfs:label "small box"@en', 'rdfs:label "heavier box"@en')
SERVER = "http://localhost:1/query"


@pytest.fixture
def settings(tmp_path: Path) -> Settings:
    (tmp_path / "content").mkdir()
    (tmp_path / "content" / "small-box.ttl").write_text(TURTLE, encoding="utf-8")
    return Settings(data=tmp_path / "content", engine=str(tmp_path / "engine"))


def test_a_folder_lasts_and_what_it_holds_is_not_loaded_again(
    settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    revision = open_service(settings).collection.revision
    with monkeypatch.context() as patched:
        patched.setattr(EmbeddedStore, "put_graph", lambda *_, **__: pytest.fail("loaded again"))
        again = open_service(settings)
    assert again.collection.revision == revision
    assert again.collection.appliances(MODEL)
    del again
    (settings.data / "small-box.ttl").write_text(HEAVIER, encoding="utf-8")
    changed = open_service(settings)
    assert {each.platform.label for each in changed.collection.models} == {"heavier box"}
    del changed
    (settings.data / "small-box.ttl").unlink()
    gone = open_service(settings, may_be_empty=True)
    assert gone.collection.models == ()


def test_old_graphs_of_a_folder_are_let_go_when_it_is_opened(settings: Settings) -> None:
    shelf = following(open_service(settings), settings, lambda _: None)
    assert isinstance(shelf, Shelf)
    for text in (HEAVIER, TURTLE, HEAVIER):
        shelf.publish("small-box", text, over=["*"], who="jo", why="for a test")
    assert len(shelf.opened.store.select("graphs")) >= 3
    del shelf
    again = following(open_service(settings), settings, lambda _: None)
    assert len(again.opened.store.select("graphs")) == 2  # the platform and the vocabularies


def test_a_folder_is_for_one_process(settings: Settings) -> None:
    held = open_service(settings)
    script = "import sys; from firstoff.cli import main; sys.argv[1:] = ['serve', '--port', '0']; main()"
    environment = {
        "FIRSTOFF_ENGINE": settings.engine,
        "FIRSTOFF_DATA": str(settings.data),
        "PYTHONPATH": ":".join(sys.path),
    }
    other = subprocess.run(
        [sys.executable, "-c", script], env=environment, capture_output=True, text=True, timeout=60, check=False
    )
    assert other.returncode == 1
    assert "in use by another process" in " ".join(other.stderr.split())
    with pytest.raises(EngineFailed, match="in use"):
        engine_of(settings)
    assert held.collection.appliances(MODEL)


def damaged(settings: Settings) -> Path:
    """A folder whose files are broken."""
    open_service(settings)
    folder = Path(settings.engine)
    (folder / "CURRENT").write_text("garbage")
    return folder


def test_a_damaged_folder_is_named_with_the_way_back(settings: Settings) -> None:
    folder = damaged(settings)
    with pytest.raises(EngineFailed) as caught:
        open_service(settings)
    assert str(folder) in caught.value.detail
    assert "firstoff rebuild" in caught.value.mend


def test_a_damaged_folder_is_built_anew_from_the_files(settings: Settings) -> None:
    folder = damaged(settings)
    environment = {"FIRSTOFF_ENGINE": settings.engine, "FIRSTOFF_DATA": str(settings.data)}
    done = CliRunner().invoke(app, ["rebuild"], env=environment)
    assert done.exit_code == 0, done.output
    assert open_service(settings).collection.appliances(MODEL)
    (aside,) = folder.parent.glob("engine.aside-*")
    assert (aside / "CURRENT").read_text() == "garbage"


@pytest.mark.parametrize(
    ("environment", "said"),
    [({}, "is in memory"), ({"FIRSTOFF_ENGINE": SERVER}, "only reads")],
)
def test_what_cannot_be_built_anew_says_why(environment: dict[str, str], said: str) -> None:
    done = CliRunner().invoke(app, ["rebuild"], env=environment)
    assert isinstance(done.exception, BadRequest)
    assert said in done.exception.detail


def test_a_full_disk_is_said_and_what_was_served_is_served(settings: Settings, monkeypatch: pytest.MonkeyPatch) -> None:
    """The engine's own error for a full disk, injected where it would come from."""
    shelf = following(open_service(settings), settings, lambda _: None)
    assert isinstance(shelf, Shelf)
    store = shelf.opened.store
    engine = store._engine  # type: ignore[attr-defined]

    class Full:
        def __getattr__(self, name: str) -> object:
            def full(*_: object, **__: object) -> None:
                raise OSError("IO error: No space left on device")

            return full if name in ("load", "update") else getattr(engine, name)

    monkeypatch.setattr(store, "_engine", Full())
    with pytest.raises(EngineFailed, match="No space left") as caught:
        shelf.publish("small-box", HEAVIER, over=["*"], who="jo", why="for a test")
    assert settings.engine in caught.value.detail
    assert {each.platform.label for each in shelf.opened.collection.models} == {"small box"}
    monkeypatch.undo()
    assert shelf.refresh()  # there is room again
    assert {each.platform.label for each in shelf.opened.collection.models} == {"heavier box"}


def test_commands_answer_from_the_files_beside_a_service_on_a_folder(settings: Settings) -> None:
    held = open_service(settings)
    assert open_answers(settings).collection.revision == held.collection.revision


# --- the settings ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("engine", "update", "reads_only"),
    [("memory", "", False), ("/srv/engine", "", False), (SERVER, "", True), (SERVER, "https://x/update", False)],
)
def test_what_a_service_is_by_its_engine(engine: str, update: str, reads_only: bool) -> None:
    assert Settings(engine=engine, engine_update=update).reads_only is reads_only


@pytest.mark.parametrize(
    ("given", "named"),
    [
        ({"engine": " "}, "FIRSTOFF_ENGINE"),
        ({"engine": "ftp://x/"}, "FIRSTOFF_ENGINE"),
        ({"engine_update": SERVER}, "FIRSTOFF_ENGINE"),
        ({"engine": SERVER, "engine_update": "/srv/engine"}, "FIRSTOFF_ENGINE_UPDATE"),
        ({"engine_seconds": 0}, "FIRSTOFF_ENGINE_SECONDS"),
        ({"engine": "http://jo:sesame@x/query"}, "FIRSTOFF_ENGINE_PASSWORD"),
        ({"engine": "ftp://jo:sesame@x/query"}, "FIRSTOFF_ENGINE_PASSWORD"),
        ({"engine": SERVER, "engine_update": "http://jo:sesame@x/"}, "FIRSTOFF_ENGINE_PASSWORD"),
    ],
)
def test_an_engine_that_cannot_be(given: dict[str, object], named: str) -> None:
    with pytest.raises(BadRequest) as caught:
        Settings(**given)  # type: ignore[arg-type]
    assert named in f"{caught.value.mend}"
    assert "sesame" not in f"{caught.value.detail} {caught.value.mend}"


def test_user_and_password_are_no_settings_and_no_mistakes() -> None:
    environment = {"FIRSTOFF_ENGINE_USER": "jo", "FIRSTOFF_ENGINE_PASSWORD": "sesame"}
    found = configured(environment, {})
    assert found.unknown == ()
    assert "sesame" not in repr(found.settings) + json.dumps(of_answers(found.settings), default=str)
    store = RemoteStore(SERVER)
    assert not store.writes
    store.close()


def test_answers_do_not_depend_on_the_engine() -> None:
    assert of_answers(Settings(engine=SERVER, publisher="https://x/")) == of_answers(settings_from({}))


def test_an_engine_that_is_no_engine_is_refused_when_it_is_probed() -> None:
    fake = FakeEngine(says(b'{"head":{},"boolean":false}'))
    try:
        with pytest.raises(EngineFailed, match="answers wrongly to ASK"):
            engine_of(Settings(engine=fake.address), {})
    finally:
        fake.stop()
