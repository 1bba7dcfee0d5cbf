"""Settings: defaults, the environment, values that cannot be, and that the documents list every one."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

import pytest
from pydantic import SecretStr

from firstoff.configuration import configured, example, settings_from, shown
from firstoff.content import context_file, data_folder, ontology_folder
from firstoff.errors import BadRequest
from firstoff.settings import Settings, of_answers, setting, variable

DEVELOPERS = Path(__file__).parents[1] / "DEVELOPERS.md"


def test_defaults_need_no_environment() -> None:
    settings = settings_from({})
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
            {"FIRSTOFF_CORS_ORIGINS": "https://a.example, http://[::1]:80"},
            "cors_origins",
            ("https://a.example", "http://[::1]:80"),
        ),
        ({"FIRSTOFF_KEYS": "/k", "FIRSTOFF_READING": "key"}, "reading", "key"),
        ({"FIRSTOFF_AUTHORED_JOBS": "0.5"}, "authored_jobs", 0.5),
        ({"FIRSTOFF_UNKNOWN": "x", "firstoff_data": "x"}, "data", data_folder()),
    ],
)
def test_environment(environment: dict[str, str], name: str, value: object) -> None:
    found = getattr(settings_from(environment), name)
    assert found == value
    assert type(found) is type(value)


def test_the_process_environment_is_read(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("FIRSTOFF_CACHE_BYTES", "7")
    assert settings_from().cache_bytes == 7


def test_given_values_win() -> None:
    environment = {"FIRSTOFF_CACHE_BYTES": "not a number", "FIRSTOFF_BODY_BYTES": "5"}
    settings = settings_from(environment, cache_bytes=3)
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
    ({"FIRSTOFF_CORS_ORIGINS": "*"}, "FIRSTOFF_CORS_ORIGINS"),
    ({"FIRSTOFF_CORS_ORIGINS": "https://shop.example/"}, "FIRSTOFF_CORS_ORIGINS"),  # browsers send no slash
    ({"FIRSTOFF_CORS_ORIGINS": "shop.example"}, "FIRSTOFF_CORS_ORIGINS"),
    ({"FIRSTOFF_TRUSTED_PROXIES": "*"}, "FIRSTOFF_TRUSTED_PROXIES"),
    ({"FIRSTOFF_RATE_READING": "-1"}, "FIRSTOFF_RATE_READING"),
    ({"FIRSTOFF_COMPUTATIONS": "0"}, "FIRSTOFF_COMPUTATIONS"),
    ({"FIRSTOFF_READING": "closed"}, "FIRSTOFF_READING"),
    ({"FIRSTOFF_READING": "key"}, "FIRSTOFF_KEYS"),  # and nobody could read
    ({"FIRSTOFF_AUTHORED_JOBS": "0"}, "FIRSTOFF_AUTHORED_JOBS"),
    ({"FIRSTOFF_AUTHORED_JOBS": "inf"}, "FIRSTOFF_AUTHORED_JOBS"),
    ({"FIRSTOFF_AUTHORED_JOBS": "nan"}, "FIRSTOFF_AUTHORED_JOBS"),
]


@pytest.mark.parametrize(("environment", "named"), BAD)
def test_values_that_cannot_be(environment: dict[str, str], named: str) -> None:
    with pytest.raises(BadRequest) as caught:
        settings_from(environment)
    assert re.search(rf"\b{named}\b", f"{caught.value.detail} {caught.value.mend}")


@pytest.mark.parametrize(
    "given",
    [{"safe_volts": float("nan")}, {"safe_volts": 50.0}, {"safe_volts_standard": ""}, {"plan_seconds": float("inf")}],
    ids=repr,
)
def test_values_given_in_code_are_held_to_the_same(given: dict[str, Any]) -> None:
    with pytest.raises(BadRequest):
        Settings(**given)


# --- the file -----------------------------------------------------------------------------------------


def test_a_file_gives_way_to_the_environment_and_that_to_an_option(tmp_path: Path) -> None:
    file = tmp_path / "firstoff.toml"
    file.write_text('shop = "of the file"\nbody_bytes = 7\ncache_bytes = 7\nplan_seconds = 3\nstate = "kept"\n')
    found = configured({"FIRSTOFF_BODY_BYTES": "8", "FIRSTOFF_CACHE_BYTES": "8"}, {"cache_bytes": 9}, file)
    its = found.settings
    assert (its.shop, its.body_bytes, its.cache_bytes, its.plan_seconds) == ("of the file", 8, 9, 3.0)
    assert its.state == tmp_path / "kept"  # a path begins at the file's folder
    assert [found.origins[each] for each in ("shop", "body_bytes", "cache_bytes", "graph_bytes")] == [
        str(file),
        "FIRSTOFF_BODY_BYTES",
        "option",
        "default",
    ]


def test_the_file_is_named_by_an_option_or_the_environment(tmp_path: Path) -> None:
    for name in ("one", "two"):
        (tmp_path / name).write_text(f'shop = "{name}"')
    environment = {"FIRSTOFF_CONFIG": str(tmp_path / "one")}
    assert settings_from(environment).shop == "one"
    assert settings_from(environment, tmp_path / "two").shop == "two"


#: text of a file, what is said of it
BAD_FILES = [
    ("shopp = 'x'", "Nearest: shop"),
    ("[service]\nshop = 'x'", "no such setting"),
    ("shop =", "no TOML"),
    ("shop = 'x'\nshop = 'y'", "no TOML"),
    ("shop = 5", "of another type"),
    ("shop = ''", "empty"),
    ("body_bytes = '5'", "whole number"),
    ("body_bytes = 1.5", "whole number"),
    ("body_bytes = true", "whole number"),
    ("plan_seconds = true", "number"),
    ("plan_seconds = nan", "FIRSTOFF_PLAN_SECONDS"),
    ("state = ['x']", "path"),
    ("safe_volts = 50", "FIRSTOFF_SAFE_VOLTS_STANDARD"),
    (b"shop = '\xff'", "not UTF-8"),
]


@pytest.mark.parametrize(("text", "said"), BAD_FILES)
def test_files_that_cannot_be(tmp_path: Path, text: str | bytes, said: str) -> None:
    file = tmp_path / "firstoff.toml"
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    with pytest.raises(BadRequest) as caught:
        settings_from({}, file)
    assert said in f"{caught.value.detail} {caught.value.mend}"


@pytest.mark.parametrize("name", ["none.toml", "."])
def test_a_file_that_is_none(tmp_path: Path, name: str) -> None:
    with pytest.raises(BadRequest, match="cannot be read"):
        settings_from({}, tmp_path / name)


def test_the_example_sets_nothing_and_its_lines_can_be_set(tmp_path: Path) -> None:
    file = tmp_path / "firstoff.toml"
    file.write_text(example(), encoding="utf-8")
    assert settings_from({}, file) == Settings()
    names = {each.name for each in fields(Settings)}
    lines = [line[1:] for line in example().splitlines() if re.match(r"#[a-z]", line)]
    assert [line.partition(" = ")[0] for line in lines] == [each.name for each in fields(Settings)]
    file.write_text("\n".join(lines), encoding="utf-8")
    file.chmod(0o600)
    assert configured({}, {}, file).origins == dict.fromkeys(names, str(file))


def test_what_is_set_is_told_with_where_it_came_from(tmp_path: Path) -> None:
    file = tmp_path / "firstoff.toml"
    file.write_text('shop = "Larkfield Appliance Repair"')
    environment = {"FIRSTOFF_CACHE_BYTES": "5", "FIRSTOFF_CACHE_BITES": "6", "COLUMNS": "200"}
    done = subprocess.run(
        [sys.executable, "-m", "firstoff.cli", "settings", "--config", str(file)],
        env={**{k: v for k, v in os.environ.items() if not k.startswith("FIRSTOFF_")}, **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    told = done.stdout.splitlines()
    for each in fields(Settings):
        assert each.metadata["help"] in done.stdout
        assert any(line.startswith(f"{each.name} = ") for line in told)
    at = told.index("cache_bytes = 5")
    assert told[at + 1].strip() == "from: FIRSTOFF_CACHE_BYTES; default 64000000"
    at = told.index("shop = Larkfield Appliance Repair")
    assert told[at + 1].strip() == f"from: {file}; default none"
    assert "FIRSTOFF_CACHE_BITES" in done.stderr


# --- secrets ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Guarded:
    """A setting as a secret is one."""

    plain: str = setting("", "Shown.")
    word: SecretStr = setting(
        SecretStr(""), "Hidden.", (lambda value: len(value.get_secret_value()) < 9, "to less"), secret=True
    )


def test_a_secret_is_shown_nowhere() -> None:
    held = Guarded(word=SecretStr("sesame"))
    by_name = {each.name: each for each in fields(held)}
    assert "sesame" not in f"{held} {held!r} {held.word} {held.word!r}"
    assert shown(by_name["word"], held.word) == "(hidden)"
    assert shown(by_name["word"], SecretStr("")) == "none"
    assert of_answers(held) == {"plain": ""}  # type: ignore[arg-type]


def test_of_a_secret_that_cannot_be_nothing_is_told() -> None:
    check = Settings.__post_init__
    with pytest.raises(BadRequest) as caught:
        check(Guarded(word=SecretStr("sesame of the cave")))  # type: ignore[arg-type]
    assert "sesame" not in f"{caught.value.detail} {caught.value.mend}"
    assert "FIRSTOFF_WORD" in caught.value.mend


# --- the documents ------------------------------------------------------------------------------------


@pytest.mark.parametrize("setting", fields(Settings), ids=lambda setting: setting.name)
def test_every_setting_has_a_help_text(setting: Any) -> None:
    assert re.fullmatch(r"[A-Z].*\.", setting.metadata["help"])


def listed() -> str:
    """The table of settings as DEVELOPERS.md has it."""
    plain = {"data": "the demo machines"}
    rows = [
        f"| `{variable(each)}` | {plain.get(each.name) or shown(each, each.default)} | {each.metadata['help']} |"
        for each in fields(Settings)
    ]
    return "\n".join(["| variable | default | what it does |", "| --- | --- | --- |", *rows, ""])


_TABLE = re.compile(r"\| variable \| default .*?\n(?!\|)", re.DOTALL)


def test_developers_lists_every_setting_as_it_is() -> None:
    (found,) = _TABLE.findall(DEVELOPERS.read_text(encoding="utf-8") + "\n")
    assert found == listed(), "run python tests/test_settings.py"


def test_content_lies_where_it_is_said_to() -> None:
    assert (ontology_folder() / "core.ttl").is_file()
    assert (ontology_folder() / "shapes.ttl").is_file()
    assert list((ontology_folder() / "vocabularies").glob("*.ttl"))
    assert list(data_folder().glob("*.ttl"))
    assert context_file().is_file()


if __name__ == "__main__":
    told = DEVELOPERS.read_text(encoding="utf-8") + "\n"
    DEVELOPERS.write_text(_TABLE.sub(lambda _: listed(), told, count=1).rstrip("\n") + "\n", encoding="utf-8")
