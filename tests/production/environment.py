"""An environment with what ``shared/requirements/run.txt`` pins and nothing else: a host's."""

import fcntl
import hashlib
import shutil
import subprocess
import sys
import time
from functools import cache
from pathlib import Path

from shared.serving.processes import BASE_DIR

PINS = BASE_DIR / "shared" / "requirements" / "run.txt"
UV = BASE_DIR / ".venv" / "bin" / "uv"
KEPT = BASE_DIR / ".venv" / "only-run"
WEEK = 7 * 24 * 3600.0


@cache
def python_of_run() -> Path:
    """Its interpreter. The environment is made once for each state of the pins, and kept."""
    KEPT.mkdir(exist_ok=True)
    folder = KEPT / hashlib.sha256(PINS.read_bytes()).hexdigest()[:16]
    python = folder / "bin" / "python"
    with (KEPT / "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (folder / "complete").exists():
            _forget_the_unused()
            _uv("venv", "--seed", "--python", sys.executable, str(folder))
            # What only older versions of Python bring along.
            _uv("pip", "uninstall", "--python", python, "setuptools", "wheel")
            _uv("pip", "install", "--require-hashes", "--no-deps", "--python", python, "-r", PINS)
        (folder / "complete").touch()
    return python


def _forget_the_unused() -> None:
    for used in KEPT.glob("*/complete"):
        if time.time() - used.stat().st_mtime > WEEK:
            shutil.rmtree(used.parent)


def disagreements() -> str:
    """What a package asks for and the environment does not have; empty when all is well."""
    checked = subprocess.run(
        [UV, "pip", "check", "--python", python_of_run()],
        capture_output=True,
        text=True,
        check=False,
    )
    return "" if checked.returncode == 0 else checked.stderr


def _uv(*arguments: str | Path) -> None:
    subprocess.run([UV, "--quiet", *arguments], check=True)
