"""A host on which Mitrewise is brought up as README.md says, and nothing else."""

import os
import re
import shutil
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from shared.serving.processes import BASE_DIR
from tests.production.environment import PINS, python_of_run

SECTION = "### On one machine"
# What changes the machine itself; the test has its own servers, and no users of the system.
OF_THE_MACHINE = (
    *("apt-get", "libpango", "useradd", "install -d -m 700", "runuser -u postgres"),
    *("cd ", "editor", "chown", "cp ", "systemctl"),
)


def commands() -> tuple[list[str], list[str]]:
    """README's, before the site is started and after it."""
    readme = (BASE_DIR / "README.md").read_text()
    block = readme.split(SECTION)[1].split("```sh\n")[1].split("```")[0]
    before, after = block.split("systemctl enable")
    return _ours(before), _ours(after.partition("\n")[2])


def _ours(block: str) -> list[str]:
    lines = [line.strip() for line in block.splitlines()]
    return [
        line.removeprefix("runuser -u mitrewise -- ")
        for line in lines
        if line and not line.startswith(("#", *OF_THE_MACHINE))
    ]


class Host:
    """The program in ``folder / "site"``, its settings in ``folder / "etc"``."""

    def __init__(self, folder: Path, settings: Mapping[str, str]) -> None:
        self.program, self.etc = folder / "site", folder / "etc"
        self._settings = settings
        _copy_program(self.program)
        (self.program / ".venv").symlink_to(python_of_run().parent.parent)
        self._leave_a_stamp()

    def carry_out(self, lines: list[str]) -> str:
        """As one script; what it said. Between the lines the settings are edited by hand."""
        edited = [self._here(line) + f"\n{self._edit(line)}" for line in lines]
        ended = subprocess.run(
            ["sh", "-euc", "\n".join(edited)],
            cwd=self.program,
            env=self._bare(),
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        assert ended.returncode == 0, ended.stdout
        return ended.stdout

    @contextmanager
    def serving(self, port: int, log: Path) -> Iterator[None]:
        """As the unit of systemd does; ends only when all has stopped."""
        unit = (self.program / "shared/deploy/systemd/mitrewise.service").read_text()
        (start,) = re.findall(r"^ExecStart=(.*)$", unit, re.MULTILINE)
        command = start.replace("/opt/mitrewise", str(self.program)).replace("8000", str(port))
        with log.open("w") as said:
            process = subprocess.Popen(
                ["sh", "-euc", f"set -a; . {self.etc}/mitrewise.env; set +a; exec {command}"],
                cwd=self.program,
                env=self._bare(),
                stdout=said,
                stderr=said,
                start_new_session=True,
            )
        try:
            yield
        finally:
            process.terminate()
            assert process.wait(40) == 0

    def _here(self, line: str) -> str:
        return line.replace("/etc/mitrewise", str(self.etc))

    def _edit(self, line: str) -> str:
        if not line.startswith("sed"):
            return ""
        edits = [f"s|^{name}=.*|{name}={value}|" for name, value in self._settings.items()]
        return "\n".join(f"sed -i '{edit}' {self.etc}/mitrewise.env" for edit in edits)

    def _bare(self) -> dict[str, str]:
        """No variable of the tests; what is needed to find programs, and who we trust."""
        kept = ("PATH", "HOME", "LANG", "SSL_CERT_FILE")
        return {name: os.environ[name] for name in kept if name in os.environ}

    def _leave_a_stamp(self) -> None:
        """The packages are there already: ``./dev`` need not install them again."""
        pins = [self.program / "shared/requirements" / name for name in ("tools.txt", PINS.name)]
        both = b"".join(pin.read_bytes() for pin in pins)
        stamp = subprocess.run(["cksum"], input=both, capture_output=True, check=True).stdout
        (self.program / ".venv" / ".run-done").write_bytes(stamp)


def _copy_program(to: Path) -> None:
    listed = subprocess.run(
        ["git", "ls-files", "--cached", "--others", "--exclude-standard", "-z"],
        cwd=BASE_DIR,
        capture_output=True,
        check=True,
        text=True,
    ).stdout
    for name in filter(None, listed.split("\0")):
        if not name.startswith("tests/") and (BASE_DIR / name).is_file():
            (to / name).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy(BASE_DIR / name, to / name)
