"""What is shipped for hosts says the same as the program, and each file the same as the others."""

import configparser
import os
import re
import runpy
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml
from django.core.management import get_commands, load_command_class

from shared.serving.processes import BASE_DIR
from shared.serving.services import PARTS
from shared.settings import environment
from tests.production.proxy import program

DEPLOY = BASE_DIR / "shared" / "deploy"
PORT = "8000"
FILES = sorted(file for file in DEPLOY.rglob("*") if file.is_file())


def text(name: str) -> str:
    return (DEPLOY / name).read_text()


def compose() -> Any:
    return yaml.safe_load(text("compose.yaml"))


def unit(name: str) -> configparser.ConfigParser:
    parser = configparser.ConfigParser(interpolation=None)
    parser.optionxform = str  # type: ignore[method-assign,assignment]
    parser.read_string(text(f"systemd/{name}"))
    return parser


def variables_of_the_example() -> dict[str, str]:
    lines = [line for line in text("mitrewise.env.example").splitlines() if line and line[0] != "#"]
    return dict(line.split("=", 1) for line in lines)


def lines_of_manage() -> Iterator[list[str]]:
    """Every call of manage.py that a file makes."""
    for service in compose()["services"].values():
        if service.get("image") == "mitrewise":
            yield service["command"]
            test = service.get("healthcheck", {}).get("test", [])
            if "manage.py" in test:
                yield test[test.index("manage.py") + 1 :]
    start = shlex.split(unit("mitrewise.service")["Service"]["ExecStart"])
    yield start[start.index("manage.py") + 1 :]
    (given,) = re.findall(r"^CMD \[(.*)\]$", text("Containerfile"), re.MULTILINE)
    yield [word.strip('" ') for word in given.split(",")]


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_every_setting_is_one_that_the_site_knows(file: Path) -> None:
    named = set(re.findall(r"MITREWISE_[A-Z_]+", file.read_text()))

    assert named <= environment.known


def test_the_example_of_settings_is_understood(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    for name in [name for name in os.environ if name.startswith("MITREWISE_")]:
        monkeypatch.delenv(name)
    given = variables_of_the_example()
    assert given["MITREWISE_SECRET_KEY"] == "change-me"
    changed = {"MITREWISE_SECRET_KEY": "long and random" * 4, "MITREWISE_DATA": str(tmp_path)}
    for name, value in (given | changed).items():
        monkeypatch.setenv(name, value)

    settings = runpy.run_path(str(BASE_DIR / "shared/settings.py"))

    assert settings["PRODUCTION"]
    assert settings["SITE_URL"] == "https://blankets.example"


@pytest.mark.parametrize("line", list(lines_of_manage()), ids=" ".join)
def test_every_command_is_one_that_there_is(line: list[str]) -> None:
    name, *arguments = line

    command = load_command_class(get_commands()[name], name)
    command.create_parser("manage.py", name).parse_args(arguments)


def test_the_ports_agree() -> None:
    assert f"server 127.0.0.1:{PORT};" in text("proxy/upstream.conf")
    assert f"server web:{PORT} resolve;" in text("proxy/upstream.compose.conf")
    assert unit("mitrewise.socket")["Socket"]["ListenStream"] == f"127.0.0.1:{PORT}"
    assert f"EXPOSE {PORT}\n" in text("Containerfile")
    given = {line[line.index("--port") + 1] for line in lines_of_manage() if "--port" in line}
    assert given == {PORT}
    services = compose()["services"]
    published = {name: service["ports"] for name, service in services.items() if "ports" in service}
    assert published == {"proxy": ["80:80", "443:443"]}  # nothing is reached past the proxy


def test_the_folders_agree() -> None:
    data = variables_of_the_example()["MITREWISE_DATA"]
    service = unit("mitrewise.service")["Service"]
    assert f"/var/lib/{service['StateDirectory']}" == data
    assert f"MITREWISE_DATA={data} " in text("Containerfile")
    services = compose()["services"]
    for name in ("prepare", "web", "worker", "beat"):
        assert services[name]["volumes"] == [f"data:{data}"]
        assert services[name]["environment"]["MITREWISE_DATA"] == data
    mounted = dict(volume.split(":")[:2] for volume in services["proxy"]["volumes"])
    for source in mounted:
        assert source == "./certificate" or (DEPLOY / source).is_file()
    for certificate in re.findall(r"ssl_certificate\S* (\S+);", text("proxy/mitrewise.conf")):
        assert str(Path(certificate).parent) == mounted["./certificate"]


def test_every_part_runs_somewhere_and_is_watched() -> None:
    services = compose()["services"]
    commands = [service["command"] for service in services.values() if "command" in service]
    served = [line[line.index("--only") + 1] for line in commands if "--only" in line]
    assert sorted(served) == sorted(PARTS)
    unwatched = {name for name, service in services.items() if "healthcheck" not in service}
    assert unwatched == {"prepare"}


def test_the_container_has_what_the_program_needs() -> None:
    containerfile = text("Containerfile")
    for source in re.findall(r"^COPY (\S+) ", containerfile, re.MULTILINE):
        assert (BASE_DIR / source).exists()
    (libraries,) = re.findall(r'"(libpango-1.0-0 .*)" "pango"', (BASE_DIR / "dev").read_text())
    (installed,) = re.findall(r"(libpango-1.0-0 .*) \\$", containerfile, re.MULTILINE)
    assert installed == libraries


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.name)
def test_nothing_is_fetched_from_a_named_address(file: Path) -> None:
    """Images and packages come from wherever the operator has them."""
    addresses = set(re.findall(r"https?://([\w.$-]+)", file.read_text()))

    assert addresses <= {"blankets.example", "localhost", "$host$request_uri", "mitrewise"}
    assert "--index" not in file.read_text()


def test_the_unit_renews_and_stops_as_the_program_does() -> None:
    service = unit("mitrewise.service")["Service"]

    assert service["ExecReload"].endswith("kill -USR1 $MAINPID")
    assert service["EnvironmentFile"] == "/etc/mitrewise/mitrewise.env"
    assert unit("mitrewise.service")["Unit"]["Requires"] == "mitrewise.socket"


@pytest.mark.skipif(shutil.which("systemd-analyze") is None, reason="a machine with systemd")
def test_systemd_understands_its_units(tmp_path: Path) -> None:
    for file in (DEPLOY / "systemd").iterdir():
        here = file.read_text().replace("/opt/mitrewise/.venv/bin/python", sys.executable)
        (tmp_path / file.name).write_text(here)

    verified = subprocess.run(
        ["systemd-analyze", "verify", "--man=no", *map(str, sorted(tmp_path.iterdir()))],
        capture_output=True,
        text=True,
        check=False,
    )

    assert (verified.returncode, verified.stderr) == (0, "")


def test_nginx_understands_its_configuration(tmp_path: Path) -> None:
    """With the upstream of compose, as far as this version of nginx goes."""
    upstream = text("proxy/upstream.compose.conf").replace("web:8000 resolve", "127.0.0.1:8000")
    site = text("proxy/mitrewise.conf").split("server {", 1)[0]
    whole = tmp_path / "nginx.conf"
    whole.write_text(
        f"pid {tmp_path}/pid; error_log stderr; events {{}} http {{ {upstream} {site} }}"
    )

    tried = subprocess.run(
        [program(), "-t", "-q", "-c", str(whole)], capture_output=True, text=True, check=False
    )

    assert tried.returncode == 0, tried.stderr
