"""Codes on paper: what they tell, when they end, and the messages that finders leave."""

import re

import pytest
from django.http import Http404

from drives.access import code_for
from drives.actions.paper import finders
from drives.actions.paper.codes import code_of, codes_of, link, renew_codes, slug_in
from drives.models import Code, FinderNote, Letter
from tests.cast import Cast, found, login
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, new_blanket, nothing_changes, refused
from tests.racing import while_open

TOO_MANY = (
    "too-many-notes",
    "Enough messages came in by this for today. Please try once more tomorrow.",
)


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """Vera has finished A1, which is a piece."""
    desk = plan()
    desk.knit("A1", cast.vera)
    return desk


def token(code: Code) -> str:
    return link(code).rstrip("/").rpartition("/")[2]


def leave(code: Code, text: str = "On the bus.", contact: str = "", days: float = 0) -> FinderNote:
    return finders.leave_note(code=code, text=text, contact=contact, now=NOW + days * DAY)


def test_a_code_stays_the_same_until_it_is_renewed(desk: Desk, cast: Cast) -> None:
    square = desk.square("B1")
    first = code_of(square, now=NOW)
    assert code_of(square, now=NOW + DAY) == first
    assert renew_codes(blanket=desk.blanket, by=cast.cora, now=NOW, target=square) == 1
    second = code_of(square, now=NOW)
    assert second.slug != first.slug
    assert code_for(token(second)) == second
    with pytest.raises(Http404):
        code_for(token(first))


def test_renewing_one_leaves_the_others(desk: Desk, cast: Cast) -> None:
    square, piece = desk.square("A1"), desk.piece("A1")
    of_square, of_piece = code_of(square, now=NOW), code_of(piece, now=NOW)
    renew_codes(blanket=desk.blanket, by=cast.cora, now=NOW, target=piece)
    assert list(Code.objects.live()) == [of_square]
    of_piece.refresh_from_db()
    assert of_piece.ended_at == NOW


def test_all_codes_of_a_blanket_end_together_and_no_others(desk: Desk, cast: Cast) -> None:
    other = Desk(new_blanket(cast.olga, desk.blanket.layout()))
    kept = code_of(other.square("A1"), now=NOW)
    squares = [desk.square(name) for name in ("A1", "B1")]
    assert len(codes_of(desk.blanket, squares, now=NOW)) == 2
    code_of(desk.piece("A1"), now=NOW)
    assert renew_codes(blanket=desk.blanket, by=cast.cora, now=NOW) == 3
    assert list(Code.objects.live()) == [kept]
    event = desk.events()[-1]
    assert (event.verb, event.facts, event.by) == ("codes-renewed", {"codes": 3}, cast.cora)
    with nothing_changes():
        assert renew_codes(blanket=desk.blanket, by=cast.cora, now=NOW) == 0


def test_a_link_tells_nothing_and_cannot_be_made_up(desk: Desk) -> None:
    code = code_of(desk.square("B1"), now=NOW)
    signed = token(code)
    slug, signature = signed.split(".")
    assert re.fullmatch("[2-9a-z]{12}", slug)
    assert len(signature) == 43  # all 256 bits of the HMAC
    for forged in (
        slug,
        f"{slug}.",
        signed[:-1],
        signed[1:],
        signed.replace(slug, slug[::-1]),
        f"{slug}.{'A' * 43}",
        f"{slug}..{signature}",
        "",
    ):
        assert slug_in(forged) is None
        with pytest.raises(Http404):
            code_for(forged)


def test_slugs_are_random(desk: Desk) -> None:
    squares = list(desk.blanket.squares.all())
    slugs = {code.slug for code in codes_of(desk.blanket, squares, now=NOW).values()}
    assert len(slugs) == len(squares)
    assert len({slug[:4] for slug in slugs}) == len(squares)


def test_a_note_is_told_to_those_who_look_after_the_circle(desk: Desk, cast: Cast) -> None:
    note = leave(code_of(desk.piece("A1"), now=NOW), contact="0123 456")
    assert (note.text, note.contact, note.read_at) == ("On the bus.", "0123 456", None)
    event = desk.events()[-1]
    assert (event.verb, event.by, event.facts) == ("note-left", None, {"of": "A1"})
    letters = Letter.objects.filter(note=note, subject="found")
    assert {letter.member for letter in letters} == {cast.olga, cast.cora}


def test_seeing_to_a_note_wipes_the_contact_once(desk: Desk, cast: Cast) -> None:
    note = leave(code_of(desk.piece("A1"), now=NOW), contact="0123 456")
    assert finders.read_note(note=note, by=cast.cora, now=NOW + DAY)
    note.refresh_from_db()
    assert (note.contact, note.read_by, note.read_at) == ("", cast.cora, NOW + DAY)
    assert note.text == "On the bus."
    event = desk.events()[-1]
    assert (event.verb, event.by, event.facts) == ("note-read", cast.cora, {"of": "A1"})
    with nothing_changes():
        assert not finders.read_note(note=note, by=cast.olga, now=NOW + DAY)


def test_five_notes_a_day_for_a_code(desk: Desk) -> None:
    code, other = (code_of(desk.square(name), now=NOW) for name in ("A1", "B1"))
    for _ in range(5):
        leave(code)
    with refused(*TOO_MANY):
        leave(code, days=0.9)
    leave(other)
    leave(code, days=1)


def test_notes_of_a_clock_that_was_put_back_keep_nobody_from_writing(desk: Desk) -> None:
    code = code_of(desk.square("A1"), now=NOW)
    for _ in range(5):
        leave(code, days=120)
    leave(code)


def test_twenty_notes_a_day_for_a_circle(desk: Desk, cast: Cast) -> None:
    names = ["A1", "A2", "B1", "B2"]
    codes = [code_of(desk.square(name), now=NOW) for name in names]
    one_more = code_of(desk.piece("A1"), now=NOW)
    for code in codes * 5:
        leave(code)
    with refused(*TOO_MANY):
        leave(one_more)
    elsewhere = found("Mill Lane", login("Mia"), NOW)
    leave(code_of(Desk(new_blanket(elsewhere, desk.blanket.layout())).square("A1"), now=NOW))


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_of_two_who_renew_at_once_one_does(desk: Desk, cast: Cast) -> None:
    code_of(desk.square("A1"), now=NOW)
    ended: list[int] = []

    def renew() -> None:
        ended.append(renew_codes(blanket=desk.blanket, by=cast.cora, now=NOW))

    assert while_open(renew, renew) == "done"
    assert ended == [1, 0]
    assert desk.verbs().count("codes-renewed") == 1


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_of_two_last_notes_at_once_one_is_kept(desk: Desk) -> None:
    code = code_of(desk.square("A1"), now=NOW)
    for _ in range(4):
        leave(code)
    assert while_open(lambda: leave(code), lambda: leave(code)) == "too-many-notes"
    assert FinderNote.objects.count() == 5
