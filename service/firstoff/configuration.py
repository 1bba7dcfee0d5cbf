"""Where settings come from: their defaults, a TOML file, the environment, the options of a command; the later wins."""

from __future__ import annotations

import os
import stat
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import MISSING, Field, dataclass, fields
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import SecretStr

from firstoff.errors import BadRequest
from firstoff.settings import Settings, is_secret, variable

CONFIG = "FIRSTOFF_CONFIG"
DEFAULT, OPTION = "default", "option"
HIDDEN = "(hidden)"

#: Variables with our prefix that are no settings: the file, a key to a service, who the service is to its engine.
_OTHERS = (CONFIG, "FIRSTOFF_KEY", "FIRSTOFF_ENGINE_USER", "FIRSTOFF_ENGINE_PASSWORD")


@dataclass(frozen=True, slots=True)
class Configured:
    """The settings; ``origins`` says where each came from: the default, a file, a variable or an option."""

    settings: Settings
    origins: Mapping[str, str]
    unknown: tuple[str, ...]
    """Variables that begin as ours do and name no setting."""


def configured(environment: Mapping[str, str], given: Mapping[str, Any], config: Path | None = None) -> Configured:
    """Settings from the file ``config`` (or the one that FIRSTOFF_CONFIG names), ``environment`` and ``given`` values.

    :raises BadRequest: the file cannot be read or names what is no setting, a value is of another type, or fails its
        check.
    """
    known = fields(Settings)
    values: dict[str, Any] = {}
    origins = dict.fromkeys((each.name for each in known), DEFAULT)
    named = _of_environment(CONFIG, environment[CONFIG], "Path") if CONFIG in environment and not config else config
    if named is not None:
        found = _of_file(named)
        values |= found
        origins |= dict.fromkeys(found, str(named))
    for each in known:
        name = variable(each)
        if name in environment and each.name not in given:
            values[each.name] = _of_environment(name, environment[name], str(each.type))
            origins[each.name] = name
    values |= given
    origins |= dict.fromkeys(given, OPTION)
    names = {*map(variable, known), *_OTHERS}
    unknown = tuple(sorted(each for each in environment if each.startswith("FIRSTOFF_") and each not in names))
    return Configured(Settings(**values), origins, unknown)


def settings_from(environment: Mapping[str, str] = os.environ, config: Path | None = None, **given: Any) -> Settings:
    """The settings of :func:`configured`."""
    return configured(environment, given, config).settings


def _truth(text: str) -> bool:
    found = {"true": True, "yes": True, "1": True, "false": False, "no": False, "0": False}.get(text.strip().lower())
    if found is None:
        raise ValueError
    return found


def _several(text: str) -> tuple[str, ...]:
    return tuple(each.strip() for each in text.split(",") if each.strip())


#: How a text is read, for each type of a setting.
_READERS: dict[str, Callable[[str], Any]] = {
    "Path": Path,
    "Path | None": Path,
    "float": float,
    "int": int,
    "bool": _truth,
    "str": str,
    "SecretStr": SecretStr,
    "tuple[str, ...]": _several,
}

#: What a value of a TOML file must be, for each type; a boolean is no number there.
_IN_TOML: dict[str, tuple[type, ...]] = {
    "float": (int, float),
    "int": (int,),
    "bool": (bool,),
    "tuple[str, ...]": (list,),
}

_SAID = {
    "Path": "path",
    "Path | None": "path",
    "float": "number",
    "int": "whole number",
    "bool": "true or false",
    "str": "text",
    "SecretStr": "text",
    "tuple[str, ...]": "list of texts",
}


def _of_environment(name: str, text: str, kind: str) -> Any:
    if not text.strip():
        raise BadRequest(f"{name} is empty.", mend="Give it a value, or take it away.")
    try:
        return _READERS[kind](text)
    except ValueError as error:
        raise BadRequest(f"{name} is {text[:100]!r}.", mend=f"Set it to a value of type {_SAID[kind]}.") from error


def _of_file(file: Path) -> dict[str, Any]:
    """The values of a TOML file by their settings; a path in it begins at the file's folder."""
    known = {each.name: each for each in fields(Settings)}
    try:
        with file.open("rb") as opened:
            mode = stat.S_IMODE(file.stat().st_mode)
            told = tomllib.load(opened)
    except OSError as error:
        raise BadRequest(
            f"The settings in {str(file)!r} cannot be read: {error.strerror}.",
            mend=f"Name a file that is there with --config or {CONFIG}; `firstoff settings --example` prints one.",
        ) from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        reason = str(error) if isinstance(error, tomllib.TOMLDecodeError) else "it is not UTF-8"
        raise BadRequest(
            f"{file} is no TOML: {reason}.", mend="Correct it; `firstoff settings --example` prints one that is."
        ) from error
    for name in told:
        if name not in known:
            nearest = get_close_matches(name, known, n=3)
            hint = f" Nearest: {', '.join(nearest)}." if nearest else ""
            raise BadRequest(
                f"{file} sets {name!r}, and there is no such setting.{hint}",
                mend="Take it away or correct its name; `firstoff settings` lists every one.",
            )
    if mode & 0o077 and any(is_secret(known[name]) for name in told):
        raise BadRequest(
            f"{file} holds a secret, and others on this machine may read it.", mend=f"Run chmod 600 {file}."
        )
    return {name: _in_toml(file, known[name], value) for name, value in told.items()}


def _in_toml(file: Path, setting: Field[Any], value: Any) -> Any:
    kind = str(setting.type)
    wanted = _IN_TOML.get(kind, (str,))
    wrong = not isinstance(value, wanted) or (isinstance(value, bool) and bool not in wanted)
    if wrong or value == "" or (isinstance(value, list) and not all(isinstance(each, str) for each in value)):
        raise BadRequest(
            f"{setting.name} in {file} is {'empty' if value == '' else 'of another type'}.",
            mend=f"Set it to a value of type {_SAID[kind]}, or take it away.",
        )
    if kind == "float":
        return float(value)
    if kind.startswith("Path"):
        return file.parent / value
    return tuple(value) if isinstance(value, list) else SecretStr(value) if kind == "SecretStr" else value


def default_of(setting: Field[Any]) -> Any:
    """The default of a setting."""
    return setting.default_factory() if setting.default_factory is not MISSING else setting.default


def shown(setting: Field[Any], value: Any) -> str:
    """A value as people are shown it: of a secret only that there is one."""
    if value in (None, "", ()) or (isinstance(value, SecretStr) and not value.get_secret_value()):
        return "none"
    if is_secret(setting):
        return HIDDEN
    return ", ".join(value) if isinstance(value, tuple) else str(value)


def example() -> str:
    """A commented TOML file that sets nothing: each setting with its help and its default, or a value it could have."""
    lines = [
        "# Settings of firstoff. Take away the sign before a line to set it; name the file in",
        f"# {CONFIG} or with --config. A variable FIRSTOFF_<NAME> wins over this file; a path",
        "# begins at this file's folder.",
    ]
    for each in fields(Settings):
        value = each.metadata["example"] or default_of(each)
        lines += ["", f"# {each.metadata['help']}"]
        if is_secret(each):
            lines.append("# (a secret: only in a file that nobody else may read)")
        lines.append(f"#{each.name} = {_toml(value)}")
    return "\n".join(lines) + "\n"


def _toml(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return repr(value)
    if isinstance(value, (tuple, list)):
        return f"[{', '.join(map(_toml, value))}]"
    if value in (None, "") or isinstance(value, SecretStr):
        return '"…"'
    escaped = str(value).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'
