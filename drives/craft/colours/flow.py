"""The greatest flow through a network, and what holds it back (Dinic's algorithm, 1970)."""

from .task import Work

SOURCE, SINK = 0, 1
STEPS_OF_ONE_WAY = 30


class Network:
    """Nodes are numbers from 0; pipes carry whole numbers one way."""

    def __init__(self, work: Work) -> None:
        self._work = work
        self._out: list[list[int]] = [[], []]  # pipes by the node at which they begin
        self._end: list[int] = []
        self._room: list[int] = []  # of pipe 2i, and 2i + 1 the other way

    def node(self) -> int:
        self._out.append([])
        return len(self._out) - 1

    def pipe(self, start: int, end: int, room: int) -> int:
        """A pipe's number, for ``sent``."""
        for begin, finish, space in ((start, end, room), (end, start, 0)):
            self._out[begin].append(len(self._end))
            self._end.append(finish)
            self._room.append(space)
        return len(self._end) - 2

    def sent(self, pipe: int) -> int:
        return self._room[pipe ^ 1]

    def fill(self) -> int:
        """Send as much as possible from the source to the sink, and tell how much. Raises Spent."""
        total = 0
        while True:
            self._work.do(2 * len(self._end))
            level = self._levels()
            if level[SINK] < 0:
                return total
            tried = [0] * len(level)
            while sent := self._send(level, tried):
                self._work.do(STEPS_OF_ONE_WAY)
                total += sent

    def reached(self) -> set[int]:
        """After ``fill``: the nodes that more could be sent to. The full pipes out of them hold it
        back (Ford and Fulkerson, 1956).
        """
        return {node for node, level in enumerate(self._levels()) if level >= 0}

    def _levels(self) -> list[int]:
        level = [-1] * len(self._out)
        level[SOURCE] = 0
        ahead = [SOURCE]
        for node in ahead:
            for pipe in self._out[node]:
                end = self._end[pipe]
                if self._room[pipe] and level[end] < 0:
                    level[end] = level[node] + 1
                    ahead.append(end)
        return level

    def _send(self, level: list[int], tried: list[int]) -> int:
        """Along one way on which each pipe leads to the next level."""
        way: list[int] = []
        node = SOURCE
        while node != SINK:
            if tried[node] < len(self._out[node]):
                pipe = self._out[node][tried[node]]
                end = self._end[pipe]
                if self._room[pipe] and level[end] == level[node] + 1:
                    way.append(pipe)
                    node = end
                else:
                    tried[node] += 1
            elif way:
                node = self._end[way.pop() ^ 1]
                tried[node] += 1
            else:
                return 0
        sent = min(self._room[pipe] for pipe in way)
        for pipe in way:
            self._room[pipe] -= sent
            self._room[pipe ^ 1] += sent
        return sent
