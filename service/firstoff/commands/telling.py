"""Tell what a job has shown, see what jobs have shown, make a key to tell with."""

from __future__ import annotations

import os
import urllib.error
import urllib.request
import uuid
from pathlib import Path
from typing import Annotated

import typer
from pydantic import ValidationError

from firstoff.commands.diagnosing import seen
from firstoff.commands.shared import ERR, AsJson, Data, Model, Serial, State, ask, show
from firstoff.errors import BadRequest, FirstoffError, WritingOff
from firstoff.tables import outcomes as tables
from firstoff_contract.outcomes import OutcomeKept, OutcomeReport
from firstoff_contract.problem import Problem

#: Seconds to wait for a server. Common practice, no source.
_PATIENCE = 30
_KEY = "FIRSTOFF_KEY"


def outcome(
    model: Model,
    fault: Annotated[
        str | None, typer.Option(help="The fault that was confirmed. Not needed where the remedy ends one alone.")
    ] = None,
    remedy: Annotated[str | None, typer.Option(help="The remedy that worked.")] = None,
    symptom: Annotated[list[str] | None, typer.Option(help="Symptom that was there, by name. Repeats.")] = None,
    absent: Annotated[list[str] | None, typer.Option(help="Symptom that was not there, by name. Repeats.")] = None,
    check: Annotated[
        list[str] | None, typer.Option(help="What a check showed, as CHECK=LABEL or CHECK=VALUE. Repeats.")
    ] = None,
    code: Annotated[list[str] | None, typer.Option(help="Code on the display. Repeats.")] = None,
    on: Annotated[str | None, typer.Option(help="Day of the job, such as 2026-11-27. Default: today (UTC).")] = None,
    server: Annotated[
        str | None,
        typer.Option(help=f"Service to tell it, such as http://localhost:8080; its key is read from {_KEY}."),
    ] = None,
    key_file: Annotated[Path | None, typer.Option(help=f"File that holds the key, in place of {_KEY}.")] = None,
    idempotency_key: Annotated[
        str | None, typer.Option(help="UUID of the report: sent again with the same one it counts once. Default: new.")
    ] = None,
    state: State = None,
    data: Data = None,
    as_json: AsJson = False,
) -> None:
    """Keep what a job has shown: which fault it was. Diagnosis then begins from it.

    Into a folder (`--state`, or FIRSTOFF_STATE), or through a service (`--server`). Only names of the content and a day
    are taken; nothing of a person. Try:

        firstoff outcome tgd27-460-s --fault fault-heater-open --symptom no-heat --state state
    """
    once = _uuid(idempotency_key)
    try:
        asked = OutcomeReport(
            model=model,
            fault=fault,
            remedy=remedy,
            symptoms=symptom or [],
            absent=absent or [],
            outcomes=[seen(each, "--check") for each in check or []],
            codes=code or [],
            on=on,
        )
    except ValidationError as error:
        wrong = error.errors()[0]
        raise BadRequest(
            f"{wrong['loc'][0]}: {wrong['msg']}.", mend="See `firstoff outcome --help` for what it takes."
        ) from error
    if server is None:
        ask(data, as_json, lambda desk: desk.outcome(asked, once), tables.kept, state)
    else:
        show(_told(server, asked, once, _key(key_file)), as_json, tables.kept)


def learned(
    model: Model, serial: Serial = None, state: State = None, data: Data = None, as_json: AsJson = False
) -> None:
    """What jobs have shown of a model: how often each fault is the one, as authored and as learned."""
    ask(data, as_json, lambda desk: desk.outcome_summary(model, serial), tables.summary, state)


def _uuid(text: str | None) -> str:
    if text is None:
        return str(uuid.uuid4())
    try:
        return str(uuid.UUID(text))
    except ValueError as error:
        raise BadRequest(
            f"{text!r} is no UUID.", mend="Leave --idempotency-key out, or give the one that was printed."
        ) from error


def _key(file: Path | None) -> str:
    """The key from ``file`` or the environment: never from the command line, where others on the machine can see it."""
    if file is None:
        key = os.environ.get(_KEY, "").strip()
    else:
        try:
            key = file.read_text(encoding="utf-8").strip()
        except (OSError, UnicodeDecodeError) as error:
            raise BadRequest(f"Cannot read {str(file)!r}: {error}.", mend="Name another file.") from error
    if not key or not key.isascii() or not key.isprintable():
        raise WritingOff("There is no key to tell outcomes with.", mend=f"Set {_KEY}, or name a file with --key-file.")
    return key


def _told(server: str, asked: OutcomeReport, once: str, key: str) -> OutcomeKept:
    again = f"Send it again with --idempotency-key {once}: it then counts once."
    address = f"{server.rstrip('/')}/v1/outcomes"
    if not address.startswith(("http://", "https://")):
        raise BadRequest(f"{server!r} is no address of a service.", mend="Give --server http://localhost:8080.")
    headers = {"content-type": "application/json", "authorization": f"Bearer {key}", "idempotency-key": once}
    body = asked.model_dump_json(exclude_defaults=True).encode()
    ERR.print(f"idempotency key {once}", markup=False, highlight=False)
    try:
        request = urllib.request.Request(address, body, headers)
        with urllib.request.urlopen(request, timeout=_PATIENCE) as response:
            return OutcomeKept.model_validate_json(response.read())
    except urllib.error.HTTPError as error:
        raise _refused(error, again) from error
    except ValidationError as error:
        raise FirstoffError(f"{address} answered something else.", mend=again) from error
    except (OSError, ValueError) as error:
        raise FirstoffError(f"{address} cannot be asked: {error}.", mend=again) from error


def _refused(error: urllib.error.HTTPError, again: str) -> FirstoffError:
    """The problem document of a service as an error of ours."""
    try:
        problem = Problem.model_validate_json(error.read())
    except (ValidationError, OSError):
        return FirstoffError(f"The service answered {error.code} {error.reason}.", mend=again)
    return FirstoffError(problem.detail, mend=problem.mend if error.code < 500 else f"{problem.mend} {again}")
