"""A mail server of the tests' own, which answers as it is told, or not at all."""

import socketserver
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

HANG_UP = ""
"""An answer: none, and the connection is closed."""
SILENCE = "…"
"""An answer: none, for some seconds."""

SILENT_SECONDS = 30.0


@dataclass
class MailServer:
    """``answers`` by the word that they answer: ``hello`` to begin with, ``MAIL``, ``RCPT``,
    ``DATA``, or ``.`` at the end.

    ``got`` are the letters that it has read, whatever it then said, after ``seconds``; ``talks``
    counts those who have come.
    """

    answers: dict[str, str] = field(default_factory=dict)
    got: list[str] = field(default_factory=list)
    port: int = 0
    seconds: float = 0.0
    talks: int = 0
    over: threading.Event = field(default_factory=threading.Event)

    def answer(self, word: str, usual: str = "250 fine") -> str:
        return self.answers.get(word, usual)


@contextmanager
def running(server: MailServer) -> Iterator[MailServer]:
    """On a free port of this machine, until the end of the block."""

    class Talk(socketserver.StreamRequestHandler):
        def say(self, line: str) -> bool:
            if line == SILENCE:
                server.over.wait(SILENT_SECONDS)
                line = HANG_UP
            if line != HANG_UP:
                self.wfile.write(f"{line}\r\n".encode())
            return line != HANG_UP

        def handle(self) -> None:
            server.talks += 1
            going = self.say(server.answer("hello", "220 ready"))
            while going and (line := self.rfile.readline()):
                word = line.decode().upper().split()[0]
                if word == "DATA" and server.answer("DATA", "354 go on").startswith("354"):
                    self.say("354 go on")
                    server.got.append(self.read_letter())
                    server.over.wait(server.seconds)
                    word = "."
                going = self.say(server.answer(word)) and word != "QUIT"

        def read_letter(self) -> str:
            lines = []
            while (line := self.rfile.readline().decode()) not in (".\r\n", ""):
                lines.append(line)
            return "".join(lines)

    with socketserver.ThreadingTCPServer(("127.0.0.1", 0), Talk) as listening:
        listening.daemon_threads = True
        server.port = listening.server_address[1]
        thread = threading.Thread(target=listening.serve_forever, args=[0.01])
        thread.start()
        try:
            yield server
        finally:
            server.over.set()
            listening.shutdown()
            thread.join()
