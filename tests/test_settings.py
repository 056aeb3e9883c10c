"""Where data lives and what a person may set: precedence, and errors that name the file and the key."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from bench.errors import BadInput, StoreError
from bench.settings import local_zone, login_name, read_settings


def settings_file(folder: Path, text: str) -> dict[str, str]:
    path = folder / "settings.toml"
    path.write_text(text, encoding="utf-8")
    return {"BENCH_SETTINGS": str(path)}


def test_everything_can_be_set_in_the_file(tmp_path: Path) -> None:
    environ = settings_file(
        tmp_path,
        'data = "/shop/a.bench"\nperson = "Ada"\nmouse = false\n'
        '[keys]\nqueue.start = "f5"\n"unit.done" = "x"\n',
    )
    settings = read_settings(environ)
    assert settings.data_path == Path("/shop/a.bench")
    assert settings.person == "Ada"
    assert settings.mouse is False
    assert dict(settings.keys) == {"queue.start": "f5", "unit.done": "x"}


def test_the_option_goes_before_the_environment_and_that_before_the_file(tmp_path: Path) -> None:
    environ = settings_file(tmp_path, 'data = "/shop/file.bench"\nperson = "File"\n')
    assert read_settings(environ).data_path == Path("/shop/file.bench")
    environ |= {"BENCH_DATA": "/shop/env.bench", "BENCH_PERSON": "Env"}
    assert read_settings(environ).data_path == Path("/shop/env.bench")
    assert read_settings(environ).person == "Env"
    assert read_settings(environ, data=Path("/shop/option.bench")).data_path == Path("/shop/option.bench")


def test_a_relative_path_in_the_file_lies_beside_the_file(tmp_path: Path) -> None:
    environ = settings_file(tmp_path, 'data = "shop.bench"\n')
    assert read_settings(environ).data_path == tmp_path / "shop.bench"


def test_the_watched_folder_is_none_unless_it_is_named(tmp_path: Path) -> None:
    path = tmp_path / "settings.toml"
    path.write_text("")
    assert read_settings({"BENCH_SETTINGS": str(path)}).watched_folder is None
    path.write_text('watched_folder = "from phone"')
    assert read_settings({"BENCH_SETTINGS": str(path)}).watched_folder == tmp_path / "from phone"
    named = {"BENCH_SETTINGS": str(path), "BENCH_WATCHED_FOLDER": "/srv/phone"}
    assert read_settings(named).watched_folder == Path("/srv/phone")
    path.write_text("watched_folder = 3")
    with pytest.raises(BadInput, match="watched_folder"):
        read_settings({"BENCH_SETTINGS": str(path)})


def test_without_a_file_the_platform_says_where(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    settings = read_settings({})
    assert settings.data_path == tmp_path / "data" / "bench" / "workshop.bench"
    assert (settings.person, settings.mouse, dict(settings.keys)) == (None, True, {})
    assert not (tmp_path / "data").exists(), "reading settings makes no folder"


def test_the_platforms_settings_file_is_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    (tmp_path / "bench").mkdir()
    (tmp_path / "bench" / "settings.toml").write_text('person = "Ada"\n')
    assert read_settings({}).person == "Ada"


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("colour = 1\n", "colour"),
        ("mouse = 1\n", "mouse"),
        ('mouse = "no"\n', "mouse"),
        ("person = 5\n", "person"),
        ('person = " "\n', "person"),
        ("data = true\n", "data"),
        ('keys = "x"\n', "keys"),
        ("[keys]\nqueue.start = 5\n", "queue.start"),
        ('[keys]\nqueue.start = ""\n', "queue.start"),
        ('person = "A\n', "line 1"),
    ],
)
def test_a_mistake_names_the_file_and_the_key(tmp_path: Path, text: str, key: str) -> None:
    environ = settings_file(tmp_path, text)
    with pytest.raises(BadInput) as caught:
        read_settings(environ)
    assert environ["BENCH_SETTINGS"] in str(caught.value)
    assert key in str(caught.value)


@pytest.mark.parametrize("content", [b"\xff\xfe\x00", b"\x00" * 10, b"# " + b"x" * 200_000])
def test_a_file_that_is_no_settings_file_is_refused(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "settings.toml"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=r"settings\.toml"):
        read_settings({"BENCH_SETTINGS": str(path)})


def test_a_named_file_must_be_there_and_be_a_file(tmp_path: Path) -> None:
    with pytest.raises(StoreError, match="not there"):
        read_settings({"BENCH_SETTINGS": str(tmp_path / "none.toml")})
    with pytest.raises(StoreError, match="cannot be read"):
        read_settings({"BENCH_SETTINGS": str(tmp_path)})


def test_zone_comes_from_tz_then_timezone_then_the_link(tmp_path: Path) -> None:
    assert local_zone({}, etc=tmp_path) == "UTC"
    (tmp_path / "localtime").symlink_to("/usr/share/zoneinfo/Australia/Lord_Howe")
    assert local_zone({}, etc=tmp_path) == "Australia/Lord_Howe"
    (tmp_path / "timezone").write_text("Asia/Kolkata\n")
    assert local_zone({}, etc=tmp_path) == "Asia/Kolkata"
    assert local_zone({"TZ": ":Europe/Berlin"}, etc=tmp_path) == "Europe/Berlin"
    assert local_zone({"TZ": "Nowhere/Atall"}, etc=tmp_path) == "Asia/Kolkata"


def test_zone_of_a_computer_with_odd_files_is_utc(tmp_path: Path) -> None:
    (tmp_path / "timezone").write_bytes(b"\xff\xfe not a zone")
    (tmp_path / "localtime").write_text("a copy, not a link")
    assert local_zone({"TZ": "/etc/../../x"}, etc=tmp_path) == "UTC"


def test_the_first_person_is_who_is_logged_in() -> None:
    assert login_name({"LOGNAME": "ada", "USER": "other"}) == "ada"
    assert login_name({"USERNAME": "bo"}) == "bo"
    assert login_name({}) == "Me"


def test_importing_settings_reads_no_environment() -> None:
    """The module is imported under an environment that raises when it is read."""
    code = (
        "import os, sysconfig, zoneinfo\n"  # the standard library reads its own variables once
        "class Closed(dict):\n"
        "    def get(self, *a): raise RuntimeError('read')\n"
        "    __getitem__ = __contains__ = get\n"
        "os.environ = Closed()\n"
        "import bench.settings\n"
        "bench.settings.login_name({})\n"
        "try: bench.settings.login_name(os.environ)\n"
        "except RuntimeError: print('closed')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "closed\n", "")
