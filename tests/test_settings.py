"""Settings: defaults, the environment, values that cannot be, and that the documents list every one."""

from __future__ import annotations

import re
from dataclasses import fields
from pathlib import Path
from typing import Any

import pytest

from firstoff.content import context_file, data_folder, ontology_folder
from firstoff.errors import BadRequest
from firstoff.settings import Settings

DOCUMENTS = [Path(__file__).parents[1] / name for name in ("README.md", "DEVELOPERS.md")]


def test_defaults_need_no_environment() -> None:
    settings = Settings.from_environment({})
    assert settings == Settings()
    assert settings.data == data_folder()


#: IEC 60335-1, 8.1.4: accessible parts are not live at up to 42.4 V peak or direct voltage.
def test_the_safe_voltage_and_its_standard() -> None:
    assert Settings().safe_volts == 42.4
    assert "IEC 60335-1, 8.1.4" in Settings().safe_volts_standard


@pytest.mark.parametrize(
    ("environment", "name", "value"),
    [
        ({"FIRSTOFF_DATA": "/srv/content"}, "data", Path("/srv/content")),
        ({"FIRSTOFF_SAFE_VOLTS": "34", "FIRSTOFF_SAFE_VOLTS_STANDARD": "house rule"}, "safe_volts", 34.0),
        ({"FIRSTOFF_SAFE_VOLTS": "60", "FIRSTOFF_SAFE_VOLTS_STANDARD": "house rule"}, "safe_volts", 60.0),
        ({"FIRSTOFF_SAFE_VOLTS": "42.4"}, "safe_volts", 42.4),
        ({"FIRSTOFF_SAFE_VOLTS_STANDARD": "house rule"}, "safe_volts_standard", "house rule"),
        ({"FIRSTOFF_PLAN_SECONDS": "0.5"}, "plan_seconds", 0.5),
        ({"FIRSTOFF_BODY_BYTES": "1024"}, "body_bytes", 1024),
        ({"FIRSTOFF_CACHE_BYTES": "0"}, "cache_bytes", 0),
        ({"FIRSTOFF_STATE": "/srv/state"}, "state", Path("/srv/state")),
        (
            {"FIRSTOFF_STATE": "/s", "FIRSTOFF_OUTCOME_KEYS": f"{'A' * 64}, {'0' * 64},"},
            "key_digests",
            ("a" * 64, "0" * 64),
        ),
        ({"FIRSTOFF_AUTHORED_JOBS": "0.5"}, "authored_jobs", 0.5),
        ({"FIRSTOFF_UNKNOWN": "x", "firstoff_data": "x"}, "data", data_folder()),
    ],
)
def test_environment(environment: dict[str, str], name: str, value: object) -> None:
    found = getattr(Settings.from_environment(environment), name)
    assert found == value
    assert type(found) is type(value)


def test_a_key_given_for_its_digest_is_not_shown() -> None:
    with pytest.raises(BadRequest) as caught:
        Settings.from_environment({"FIRSTOFF_STATE": "s", "FIRSTOFF_OUTCOME_KEYS": "sesame"})
    assert "sesame" not in f"{caught.value.detail} {caught.value.mend}"


def test_the_process_environment_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FIRSTOFF_CACHE_BYTES", "7")
    assert Settings.from_environment().cache_bytes == 7


def test_given_values_win() -> None:
    environment = {"FIRSTOFF_CACHE_BYTES": "not a number", "FIRSTOFF_BODY_BYTES": "5"}
    settings = Settings.from_environment(environment, cache_bytes=3)
    assert (settings.cache_bytes, settings.body_bytes) == (3, 5)


#: environment, the setting that is named
BAD = [
    ({"FIRSTOFF_SAFE_VOLTS": "many"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "0"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "-5"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "60.1"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "nan"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "inf"}, "FIRSTOFF_SAFE_VOLTS"),
    ({"FIRSTOFF_SAFE_VOLTS": "50"}, "FIRSTOFF_SAFE_VOLTS_STANDARD"),
    ({"FIRSTOFF_SAFE_VOLTS_STANDARD": " "}, "FIRSTOFF_SAFE_VOLTS_STANDARD"),
    ({"FIRSTOFF_PLAN_SECONDS": "0"}, "FIRSTOFF_PLAN_SECONDS"),
    ({"FIRSTOFF_PLAN_SECONDS": "nan"}, "FIRSTOFF_PLAN_SECONDS"),
    ({"FIRSTOFF_PLAN_SECONDS": "inf"}, "FIRSTOFF_PLAN_SECONDS"),
    ({"FIRSTOFF_PLAN_SECONDS": "two"}, "FIRSTOFF_PLAN_SECONDS"),
    ({"FIRSTOFF_BODY_BYTES": "0"}, "FIRSTOFF_BODY_BYTES"),
    ({"FIRSTOFF_BODY_BYTES": "1.5"}, "FIRSTOFF_BODY_BYTES"),
    ({"FIRSTOFF_CACHE_BYTES": "-1"}, "FIRSTOFF_CACHE_BYTES"),
    ({"FIRSTOFF_DATA": ""}, "FIRSTOFF_DATA"),
    ({"FIRSTOFF_STATE": " "}, "FIRSTOFF_STATE"),
    ({"FIRSTOFF_STATE": "s", "FIRSTOFF_OUTCOME_KEYS": "a key"}, "FIRSTOFF_OUTCOME_KEYS"),  # the key, not its digest
    ({"FIRSTOFF_STATE": "s", "FIRSTOFF_OUTCOME_KEYS": "a" * 63}, "FIRSTOFF_OUTCOME_KEYS"),
    ({"FIRSTOFF_OUTCOME_KEYS": "a" * 64}, "FIRSTOFF_STATE"),  # nowhere to keep them
    ({"FIRSTOFF_AUTHORED_JOBS": "0"}, "FIRSTOFF_AUTHORED_JOBS"),
    ({"FIRSTOFF_AUTHORED_JOBS": "inf"}, "FIRSTOFF_AUTHORED_JOBS"),
    ({"FIRSTOFF_AUTHORED_JOBS": "nan"}, "FIRSTOFF_AUTHORED_JOBS"),
]


@pytest.mark.parametrize(("environment", "named"), BAD)
def test_values_that_cannot_be(environment: dict[str, str], named: str) -> None:
    with pytest.raises(BadRequest) as caught:
        Settings.from_environment(environment)
    assert re.search(rf"\b{named}\b", f"{caught.value.detail} {caught.value.mend}")


@pytest.mark.parametrize(
    "given",
    [{"safe_volts": float("nan")}, {"safe_volts": 50.0}, {"safe_volts_standard": ""}, {"plan_seconds": float("inf")}],
    ids=repr,
)
def test_values_given_in_code_are_held_to_the_same(given: dict[str, Any]) -> None:
    with pytest.raises(BadRequest):
        Settings(**given)


@pytest.mark.parametrize("setting", fields(Settings), ids=lambda setting: setting.name)
def test_every_setting_has_a_help_text_and_is_documented(setting: Any) -> None:
    assert re.fullmatch(r"[A-Z].*\.", setting.metadata["help"])
    variable = f"FIRSTOFF_{setting.name.upper()}"
    listed = [path.name for path in DOCUMENTS if re.search(rf"\b{variable}\b", path.read_text(encoding="utf-8"))]
    assert listed, f"neither README.md nor DEVELOPERS.md lists {variable}"


def test_content_lies_where_it_is_said_to() -> None:
    assert (ontology_folder() / "core.ttl").is_file()
    assert (ontology_folder() / "shapes.ttl").is_file()
    assert list((ontology_folder() / "vocabularies").glob("*.ttl"))
    assert list(data_folder().glob("*.ttl"))
    assert context_file().is_file()
