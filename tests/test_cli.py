"""The command line, as its user runs it."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from firstoff_contract.catalogue import ComponentDetail, ComponentList, ModelDetail
from firstoff_contract.codes import CodeDetail, CodeList, ServiceModeList
from firstoff_contract.diagnosis import CarryAnswer, Diagnosis
from firstoff_contract.energies import ComponentCurves, Energies, Saturation
from firstoff_contract.energy import IsolationAnswer, LivePoints
from firstoff_contract.outcomes import OutcomeSummary
from firstoff_contract.procedure import Procedure
from firstoff_contract.reading import ReadingAnswer
from firstoff_contract.record import SafetyRecord
from firstoff_contract.removal import RemovalPlan
from firstoff_contract.search import SearchAnswer, SuggestAnswer
from firstoff_contract.socket import SocketCheck


def firstoff(*arguments: str, cwd: Path | None = None) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "firstoff.cli", *arguments],
        capture_output=True,
        text=True,
        timeout=120,
        cwd=cwd,
        check=False,
    )


COMMANDS = (
    "serve", "mcp", "check", "plan", "pareto", "sheet", "picture", "record", "exposed", "while-open", "hidden", "live",
    "supply", "isolate", "make-safe", "reading", "socket", "energies", "curve", "refrigerant", "diagnose", "carry",
    "outcome", "learned", "new-key", "settings", "audit", "codes", "service-modes", "search", "suggest", "models",
    "show", "parts",
)  # fmt: skip


READING = (
    "diagnose", "tgd27-460-s", "--symptom", "no-heat",
    "--reading", "heater-1 heater-2 resistance=OL; opened supply-plug; released bus-capacitor filter-capacitor",
)  # fmt: skip
CONTRADICTING = (
    "diagnose", "flb-316-k", "--serial", "1", "--outcome", "check-settings=showroom symbol lit",
    "--outcome", "check-loading = food stands against outlets or is still warm",
)  # fmt: skip


def test_help_teaches() -> None:
    done = firstoff("--help")
    assert done.returncode == 0
    for command in COMMANDS:
        assert re.search(rf"\b{command}\b", done.stdout), command
    assert "firstoff plan tgd27-460-s drum-belt" in done.stdout


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_explains_itself(command: str) -> None:
    done = firstoff(command, "--help")
    assert done.returncode == 0
    assert "Usage" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "model", "said"),
    [
        (("plan", "TGD27/46O S", "drum-belt"), RemovalPlan, "minutes out and back"),  # number off a plate
        (("live", "tgd27-460-s", "--opened", "power-control"), LivePoints, "LIVE"),
        (("isolate", "tgd27-460-s", "drive-motor"), IsolationAnswer, "Prove dead"),
        (
            ("record", "tgd27-460-s", "--earth", "0.08", "--insulation", "12", "--leakage", "0.4"),
            SafetyRecord,
            "hand over",
        ),
        (("make-safe", "tgd27-460-s", "terminal-block:live-test"), Procedure, "With the supply on"),
        (("reading", "tgd27-460-s", "tb-l1", "tb-l2"), ReadingAnswer, "240 V (216 to 264)"),
        (("socket", "tgd27-460-s", "--measured", "line1-earth:2"), SocketCheck, "line 1 and neutral exchanged DANGER"),
        (("energies", "tgd27-460-s"), Energies, "isolated by: four-pin plug"),
        (("curve", "tgd27-460-s", "cycling-thermistor"), ComponentCurves, "10000"),
        (("refrigerant", "R600a", "--celsius", "-20"), Saturation, "-28.85 kPa gauge"),
        (("diagnose", "tgd27-460-s", "--symptom", "Trommel dreht nicht"), Diagnosis, "drum does not turn"),
        (("diagnose", "flb-316-k", "--serial", "1", "--code", "C 2"), Diagnosis, "do not replace on suspicion"),
        (("diagnose", "flb-316-k", "--serial", "1", "--code", "B 1", "--tree"), Diagnosis, "next: "),
        (READING, Diagnosis, "speaks for: heater coil broken"),
        (CONTRADICTING, Diagnosis, "check again: Settings and symbols on the panel: showroom symbol lit"),
        (("carry", "flb-316-k", "--serial", "1", "--symptom", "fridge-warm"), CarryAnswer, "one visit suffices"),
        (("learned", "tgd27-460-s"), OutcomeSummary, "no job counts for this machine yet"),
        (("codes", "tgd27-460-s"), CodeList, "motor did not come to speed"),
        (("codes", "tgd27-460-s", "e-5"), CodeDetail, "It does not prove:"),
        (("service-modes", "tgd27-460-s", "--kind", "component-test"), ServiceModeList, "LIVE in step 3: heater tag"),
        (("show", "tgd27-460-s"), ModelDetail, "supply-plug"),
        (("show", "tgd27-460-s", "drive-motor"), ComponentDetail, "motor-m5"),
        (("parts", "tgd27-460-s"), ComponentList, "GW-70210"),
        (("search", "drum", "wont", "turn"), SearchAnswer, "drum does not turn"),
        (("suggest", "drumm", "do"), SuggestAnswer, "drum does not turn"),
    ],
)
def test_tables_for_people_and_json_for_programs(arguments: tuple[str, ...], model: type, said: str) -> None:
    for_people = firstoff(*arguments)
    assert for_people.returncode == 0, for_people.stderr
    assert " ".join(said.lower().split()) in " ".join(for_people.stdout.lower().split())
    for_programs = firstoff(*arguments, "--json")
    assert for_programs.returncode == 0, for_programs.stderr
    model.model_validate_json(for_programs.stdout)


@pytest.mark.parametrize(("command", "begins"), [("sheet", "<!doctype html>"), ("picture", "<svg ")])
def test_sheet_and_picture_are_written(command: str, begins: str, tmp_path: Path) -> None:
    out = tmp_path / "out"
    done = firstoff(command, "tgd27-460-s", "lint-filter:inspect", "--out", str(out))
    assert done.returncode == 0, done.stderr
    assert done.stdout == ""
    printed = firstoff(command, "tgd27-460-s", "lint-filter:inspect")
    assert printed.stdout.startswith(begins)
    assert printed.stdout == out.read_text(encoding="utf-8") + "\n"
    nowhere = firstoff(command, "tgd27-460-s", "lint-filter:inspect", "--out", str(tmp_path / "none" / "out"))
    assert nowhere.returncode == 1
    assert "Cannot write" in nowhere.stderr


def test_plan_sheet_and_picture_take_the_same_question() -> None:
    from inspect import signature

    from firstoff.commands import planning

    own = {"plan": {"as_json"}, "sheet": {"out"}, "picture": {"out"}}
    asked = [signature(getattr(planning, name)).parameters.keys() - extra for name, extra in own.items()]
    assert asked[0] == asked[1] == asked[2]


def test_models_lists_and_resolves() -> None:
    assert "TGD27/460 S" in firstoff("models").stdout
    found = json.loads(firstoff("models", "tgd27 46o s", "--json").stdout)
    assert [each["id"] for each in found["models"]] == ["tgd27-460-s"]
    assert "nearest" in firstoff("models", "TGD27/46").stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("plan", "tgd27-460-x", "drum-belt"), "tgd27-460-s"),  # the nearest model
        (("plan", "tgd27-460-s", "drum-bellt"), "drum-belt"),  # the nearest component
        (("live", "tgd27-460-s", "--opened", "supply-plugs"), "supply-plug"),
        (("search", "drum", "--kind", "part"), "component"),
        (("plan", "tgd27-460-s", "drive-motor", "--tools", "multimeter"), "needs"),
        (("diagnose", "tgd27-460-s", "--symptom", "qzxv"), "There is no symptom 'qzxv'"),
        (("diagnose", "tgd27-460-s", "--code", "Z9"), "There is no code 'Z9'"),
        (("codes", "tgd27-460-s", "E44"), "Nearest: E4."),
        (("service-modes", "tgd27-460-s", "--kind", "clean"), "clearing"),
        (("diagnose", "tgd27-460-s", "--tried", "replace-nothing"), "There is no remedy 'replace-nothing'"),
        (("diagnose", "tgd27-460-s", "--outcome", "check-belt"), "CHECK=LABEL"),
        (("diagnose", "tgd27-460-s", "--outcome", "check-bellt=torn"), "There is no check 'check-bellt'"),
        (("diagnose", "tgd27-460-s", "--symptom", "no-heat", "--absent", "no-heat"), "present and as absent"),
        (("diagnose", "tgd27-460-s", "--reading", "tb-l1=3"), "tb-l1=3"),
        (("carry", "tgd27-460-s", "--symptom", "qzxv"), "There is no symptom 'qzxv'"),
        (("models", "--data", "no-such-folder"), "no-such-folder"),
        (("check", "no-such-file.ttl"), "no-such-file.ttl"),
    ],
)
def test_an_error_is_two_plain_lines(arguments: tuple[str, ...], said: str) -> None:
    done = firstoff(*arguments)
    assert done.returncode == 1
    assert said in done.stderr
    assert done.stderr.startswith("firstoff: ")
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_misspelt_command_is_a_usage_error() -> None:
    assert firstoff("plam").returncode == 2


def test_check_passes_the_demo_content() -> None:
    done = firstoff("check")
    assert done.returncode == 0, done.stdout
    assert "0 errors" in done.stdout


def test_check_names_the_line_and_fails(tmp_path: Path) -> None:
    file = tmp_path / "broken.ttl"
    file.write_text(
        "@prefix fo: <https://firstoff.example/ontology#> .\n<urn:a> a fo:Component\n<urn:b> a fo:Zone .\n", "utf-8"
    )
    done = firstoff("check", str(file))
    assert done.returncode == 1
    assert "line 3" in done.stdout
    found = json.loads(firstoff("check", str(file), "--json").stdout)
    assert found[0]["ok"] is False
    assert found[0]["findings"][0]["line"] == 3


def test_check_keeps_a_record_on_request(tmp_path: Path) -> None:
    from firstoff.content import data_folder

    file = tmp_path / "tolvane-galewood.ttl"
    file.write_bytes((data_folder() / file.name).read_bytes())
    assert firstoff("check", "--data", str(tmp_path), "--record").returncode == 0
    assert file.name in json.loads((tmp_path / "checked.json").read_text(encoding="utf-8"))


def test_serve_prints_its_address_and_answers() -> None:
    with subprocess.Popen(
        [sys.executable, "-u", "-m", "firstoff.cli", "serve", "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
    ) as served:
        try:
            assert served.stdout is not None
            printed = [served.stdout.readline() for _ in range(2)]
            address = re.search(r"http://\S+", printed[1])
            assert address, printed
            body = urllib.request.urlopen(address[0] + "v1/models/tgd27-460-s/removal-plan?reach=drum-belt").read()
            assert RemovalPlan.model_validate_json(body).minutes > 0
        finally:
            served.terminate()
            assert served.wait(timeout=20) in (0, -15)


def test_a_port_in_use_is_said(tmp_path: Path) -> None:
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        done = firstoff("serve", "--port", str(taken.getsockname()[1]))
    assert done.returncode == 1
    assert "in use" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.parametrize("command", ["search", "suggest"])
@pytest.mark.parametrize(
    "query",
    [
        "",
        "x" * 10_000,
        "😀",
        "\u202e\u0627\u0644\u062b\u0644\u0627\u062c\u0629",  # right to left
        "\x1b[31m\x07",  # a terminal would obey
        "\udcff",  # a byte that is no text
    ],
)
def test_queries_that_are_no_words_are_answered(command: str, query: str) -> None:
    for form in ((), ("--json",)):
        answered = firstoff(command, *form, "--", query)
        assert answered.returncode == 0, answered.stderr
        assert "\x1b" not in answered.stdout
        assert "\x07" not in answered.stdout
        assert ("[]" if form else "no word" if command == "search" else "Nothing goes on") in answered.stdout or (
            "Nothing good" in answered.stdout
        )
