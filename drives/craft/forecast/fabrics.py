"""The pieces in one run of a forecast: what is one fabric by now, and who has it in hand."""

from collections.abc import Collection, Sequence

from .prepared import Prepared


class Fabrics:
    """Lists by the number of a piece (see ``prepared``); ``holding`` by knitter.

    ``root`` leads from a piece that was joined to another one on to that one. ``busy``: people at
    work on a piece. ``hands``: who has it, where pieces travel, and ``turn`` for how many squares
    already. ``holding``: pieces in one's hands.
    """

    def __init__(self, prepared: Prepared) -> None:
        self._prepared = prepared
        self.root = list(range(len(prepared.first)))
        self.busy = [0] * len(prepared.first)
        self.hands = list(prepared.hands)
        self.turn = [0] * len(prepared.first)
        self.holding = [0] * len(prepared.people)
        for hands in prepared.hands:
            for knitter in hands:
                self.holding[knitter] += 1

    def whole(self, piece: int) -> int:
        """The piece that ``piece`` has become a part of, or itself."""
        root = self.root
        while root[piece] != piece:
            root[piece] = piece = root[root[piece]]
        return piece

    def under(self, square: int) -> list[int]:
        """The pieces that ``square`` is worked on; it stays with the first of them."""
        piece, joins = self._prepared.piece[square], self._prepared.joins[square]
        if not joins:
            return [self.whole(piece)]
        return list(dict.fromkeys(map(self.whole, (piece, *joins))))

    def room(self, pieces: Sequence[int]) -> bool:
        """Whether one more can work on all ``pieces`` as one."""
        return sum(self.busy[piece] for piece in pieces) < self._prepared.room[pieces[0]]

    def needed(self, pieces: Sequence[int], who: int) -> int:
        """How many of ``pieces`` would have to be handed over to ``who``."""
        return sum(bool(self.hands[piece]) and who not in self.hands[piece] for piece in pieces)

    def at_hand(self, pieces: Sequence[int], free: Sequence[int], keeper: int | None) -> int:
        """Somebody ``free`` who has all ``pieces`` in hand, or nobody (-1).

        Nobody either where the pieces are full, the square is kept for another ``keeper``, or a
        turn is over.
        """
        if not self.room(pieces) or any(map(self._passes_on, pieces)):
            return -1
        held = [self.hands[piece] for piece in pieces if self.hands[piece]]
        if held:
            able = [who for who in held[0] if all(who in hands for hands in held[1:])]
        elif self._prepared.travelling[pieces[0]]:  # a new piece: rather to somebody without any
            able = sorted(free, key=lambda who: (self.holding[who], -who))
        else:
            able = list(free[-1:])
        if keeper is not None:
            able = [keeper] if keeper in able or not held else []
        return next((who for who in able if who in free), -1)

    def receiver(self, pieces: Sequence[int], free: Sequence[int], keeper: int | None) -> int:
        """Who shall get ``pieces`` that nobody has at hand: the one with the fewest hand-overs.

        Whose turn is over only when nobody else is free.
        """
        able = free if keeper is None else [keeper] if keeper in free else []
        if not able or not self.room(pieces):
            return -1

        passed_on = [piece for piece in pieces if self._passes_on(piece)]

        def merit(who: int) -> tuple[bool, int, int, int]:
            had = any(who in self.hands[piece] for piece in passed_on)
            return had, self.needed(pieces, who), self.holding[who], -who

        return min(able, key=merit)

    def _passes_on(self, piece: int) -> bool:
        travelling = self._prepared.travelling[piece]
        if not travelling or not travelling.turn or travelling.meetings:
            return False
        return self.turn[piece] >= travelling.turn

    def begin(self, pieces: Sequence[int], knitter: int, idle: Collection[int]) -> None:
        """``knitter`` begins a square on ``pieces``, which makes them one, the first."""
        piece, *others = pieces
        had = list(self.hands[piece])
        for other in others:
            self.root[other] = piece
            self.busy[piece] += self.busy[other]
            had += self.hands[other]
        self.busy[piece] += 1
        if self._prepared.travelling[piece]:
            self.turn[piece] = self.turn[piece] + 1 if knitter in self.hands[piece] else 1
            for who in had:
                self.holding[who] -= 1
            # Of several who share a piece, those at work keep it.
            had.sort(key=idle.__contains__)
            hands = dict.fromkeys([knitter, *had])
            self.hands[piece] = tuple(hands)[: self._prepared.room[piece]]
            for who in self.hands[piece]:
                self.holding[who] += 1
