"""The proxy as it is shipped, on a free port, with a certificate that it was made for."""

import os
import shutil
import socket
import ssl
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from shared.serving import processes
from tests.services import free_port

SHIPPED = processes.BASE_DIR / "shared" / "deploy" / "proxy"
PATIENCE_SECONDS = 20.0

AROUND = """
daemon off;
pid {folder}/nginx.pid;
error_log {folder}/error.log;
{user}
events {{}}
http {{
    access_log off;
    client_body_temp_path {folder}/bodies;
    proxy_temp_path {folder}/answers;
    fastcgi_temp_path {folder}/unused;
    uwsgi_temp_path {folder}/unused;
    scgi_temp_path {folder}/unused;
    include {folder}/upstream.conf;
    include {folder}/mitrewise.conf;
}}
"""


@dataclass(frozen=True)
class Proxy:
    port: int
    certificate: Path

    @property
    def url(self) -> str:
        return f"https://localhost:{self.port}"

    def trusting(self) -> ssl.SSLContext:
        return ssl.create_default_context(cafile=str(self.certificate))

    def connect(self) -> ssl.SSLSocket:
        plain = socket.create_connection(("127.0.0.1", self.port), timeout=10)
        return self.trusting().wrap_socket(plain, server_hostname="localhost")


@contextmanager
def proxy(site_port: int) -> Iterator[Proxy]:
    """In front of what listens on ``site_port``."""
    with tempfile.TemporaryDirectory(prefix="mitrewise-proxy-") as folder:
        made = _written(Path(folder), site_port)
        nginx = processes.start([program(), "-c", f"{folder}/nginx.conf"], cwd=Path(folder))
        try:
            deadline = time.monotonic() + PATIENCE_SECONDS
            while not _answers(made):
                said = Path(folder, "error.log")
                assert nginx.poll() is None, said.read_text() if said.exists() else ""
                assert time.monotonic() < deadline
                time.sleep(0.05)
            yield made
        finally:
            processes.stop([nginx])


def program() -> str:
    """Debian keeps it where only root looks."""
    return shutil.which("nginx", path=f"{os.environ['PATH']}:/usr/sbin") or "nginx"


def _written(folder: Path, site_port: int) -> Proxy:
    port, certificate = free_port(), folder / "certificate.pem"
    _make_certificate(certificate, folder / "key.pem")
    changes = {
        "server 127.0.0.1:8000;": f"server 127.0.0.1:{site_port};",
        "blankets.example": "localhost",
        "/etc/mitrewise/": f"{folder}/",
        "    listen [::]:80;\n": "",
        "    listen [::]:443 ssl;\n": "",
        "listen 80;": f"listen 127.0.0.1:{free_port()};",
        "listen 443 ssl;": f"listen 127.0.0.1:{port} ssl;",
        "Host $host;": f"Host $host:{port};",
        "auth_delay 5s;": "auth_delay 500ms;",
    }
    for name in ("upstream.conf", "mitrewise.conf"):
        text = (SHIPPED / name).read_text()
        for shipped, here in changes.items():
            text = text.replace(shipped, here)
        (folder / name).write_text(text)
    user = "user root;" if os.getuid() == 0 else ""
    (folder / "nginx.conf").write_text(AROUND.format(folder=folder, user=user))
    return Proxy(port, certificate)


def _make_certificate(certificate: Path, key: Path) -> None:
    subprocess.run(
        [
            *("openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1"),
            *("-subj", "/CN=localhost", "-addext", "subjectAltName=DNS:localhost"),
            *("-keyout", str(key), "-out", str(certificate)),
        ],
        check=True,
        capture_output=True,
    )


def _answers(made: Proxy) -> bool:
    with suppress(OSError):
        made.connect().close()
        return True
    return False
