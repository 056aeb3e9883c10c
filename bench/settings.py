"""Where the data lives and how this person likes the program: from options, environment and settings.toml."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from bench.domain.localtime import zone_named
from bench.domain.text import quoted
from bench.errors import BadInput, StoreError

APP = "bench"
DATA_FILE = "workshop.bench"
SETTINGS_FILE = "settings.toml"
KNOWN_FILES = "known-files.json"
TABLES = "tables.json"  # how a person has each table: beside the files known
LONGEST_SETTINGS = 100_000  # bytes; what is larger is some other file

_KINDS: dict[str, tuple[type, str]] = {
    "data": (str, "a path in quotation marks"),
    "person": (str, "a name in quotation marks"),
    "mouse": (bool, "true or false"),
    "scanner": (bool, "true or false"),
    "notices": (bool, "true or false"),
    "watched_folder": (str, "a path in quotation marks"),
    "keys": (dict, "a table of binding ids and keys"),
    "accounts": (dict, "a table of accounts and the names they have in the books"),
}
_NO_KEYS: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class Settings:
    """What one start goes by. `file`: where settings were looked for; `keys`: own keys by binding id.

    `data_named`: the data file's path was given by someone and is not the default; `known_files`: where it
    is kept which data files were opened on this machine. `accounts`: their names in the books, for postings.
    `watched_folder`: what a phone drops there is offered as photographs; None for no such folder.
    `notices`: the terminal is asked to tell on the desktop that a machine's time is up.
    """

    data_path: Path
    file: Path
    data_named: bool
    known_files: Path
    person: str | None = None
    keys: Mapping[str, str] = field(default_factory=lambda: _NO_KEYS)
    mouse: bool = True
    scanner: bool = True
    notices: bool = False
    watched_folder: Path | None = None
    accounts: Mapping[str, Any] = field(default_factory=lambda: _NO_KEYS)


def read_settings(environ: Mapping[str, str], *, data: Path | None = None) -> Settings:
    """The settings in force. The data file: `data`, else BENCH_DATA, else settings.toml, else the default.

    BENCH_PERSON and BENCH_WATCHED_FOLDER go before the file's `person` and `watched_folder`; BENCH_SETTINGS
    names another settings file.
    Raises StoreError for a file that cannot be read, BadInput naming the file and the key for what is in it.
    """
    path, named = _settings_path(environ)
    found = _read_file(path, named=named)
    named_path = data or _named_data(environ, found, beside=path.parent)
    from platformdirs import user_state_path

    return Settings(
        data_path=named_path or _default_data(),
        file=path,
        data_named=named_path is not None,
        known_files=user_state_path(APP) / KNOWN_FILES,
        person=environ.get("BENCH_PERSON", "").strip() or found.get("person"),
        keys=MappingProxyType(dict(_own_keys(path, found.get("keys", {})))),
        mouse=found.get("mouse", True),
        scanner=found.get("scanner", True),
        notices=found.get("notices", False),
        watched_folder=_watched_folder(environ, found, beside=path.parent),
        accounts=MappingProxyType(found.get("accounts", {})),
    )


def local_zone(environ: Mapping[str, str], *, etc: Path = Path("/etc")) -> str:
    """The IANA zone of this computer, for a new shop: TZ, /etc/timezone, /etc/localtime, else UTC."""
    for name in (environ.get("TZ", "").removeprefix(":"), _first_line(etc / "timezone"), _linked_zone(etc)):
        try:
            return zone_named(name).key
        except BadInput:
            continue
    return "UTC"


def login_name(environ: Mapping[str, str]) -> str:
    """The name under which someone is logged in, for a new shop's first person; else Me."""
    for key in ("LOGNAME", "USER", "USERNAME"):
        if name := environ.get(key, "").strip():
            return name
    return "Me"


def _settings_path(environ: Mapping[str, str]) -> tuple[Path, bool]:
    if named := environ.get("BENCH_SETTINGS"):
        return Path(named).expanduser(), True
    from platformdirs import user_config_path

    return user_config_path(APP) / SETTINGS_FILE, False


def _named_data(environ: Mapping[str, str], found: Mapping[str, Any], *, beside: Path) -> Path | None:
    if named := environ.get("BENCH_DATA"):
        return Path(named).expanduser()
    if "data" in found:
        return beside / Path(found["data"]).expanduser()
    return None


def _watched_folder(environ: Mapping[str, str], found: Mapping[str, Any], *, beside: Path) -> Path | None:
    if named := environ.get("BENCH_WATCHED_FOLDER", "").strip():
        return Path(named).expanduser()
    if "watched_folder" in found:
        return beside / Path(found["watched_folder"]).expanduser()
    return None


def _default_data() -> Path:
    from platformdirs import user_data_path

    return user_data_path(APP) / DATA_FILE


def _read_file(path: Path, *, named: bool) -> dict[str, Any]:
    try:
        with path.open("rb") as file:
            content = file.read(LONGEST_SETTINGS + 1)
    except FileNotFoundError:
        if named:
            raise StoreError(
                f"{path}, named by BENCH_SETTINGS, is not there.", "Make it or unset BENCH_SETTINGS."
            ) from None
        return {}
    except OSError as error:
        raise StoreError(f"{path} cannot be read ({error.strerror}).", "Check who may read it.") from error
    if len(content) > LONGEST_SETTINGS:
        raise BadInput(f"{path} is too long for settings.", "Check BENCH_SETTINGS.")
    import tomllib

    try:
        found = tomllib.loads(content.decode())
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadInput(f"{path} is not TOML ({error}).", "Correct that line or remove the file.") from error
    for key, value in found.items():
        _check(path, key, value)
    return found


def _check(path: Path, key: str, value: object) -> None:
    if key not in _KINDS:
        raise BadInput(
            f"{path} has an unknown setting {quoted(key)}.", f"Use one of {', '.join(sorted(_KINDS))}."
        )
    kind, wanted = _KINDS[key]
    if not isinstance(value, kind):
        raise BadInput(f"The setting {quoted(key)} in {path} cannot be used.", f"Give {wanted}.")
    if isinstance(value, str) and not value.strip():
        raise BadInput(f"The setting {quoted(key)} in {path} is empty.", f"Give {wanted} or remove the line.")


def _own_keys(path: Path, table: Mapping[str, object], above: str = "") -> Iterator[tuple[str, str]]:
    """Binding id and key of each line; `queue.start` may be written with or without quotation marks."""
    for name, keys in table.items():
        binding = f"{above}{name}"
        if isinstance(keys, dict):
            yield from _own_keys(path, keys, f"{binding}.")
        elif isinstance(keys, str) and keys.strip():
            yield binding, keys.strip()
        else:
            raise BadInput(
                f"The key for {quoted(binding)} in {path} cannot be used.",
                'Give it in quotation marks, such as "f5".',
            )


def _first_line(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8", errors="replace").partition("\n")[0].strip()
    except OSError:
        return ""


def _linked_zone(etc: Path) -> str:
    try:
        target = str((etc / "localtime").readlink())
    except OSError:
        return ""
    return target.partition("zoneinfo/")[2]
