"""Keys to the API."""

from accounts import actions
from accounts.models import ApiToken, digest_of
from tests.cast import DAY, NOW, Cast
from tests.desk import nothing_changes


def test_the_key_is_told_once_and_only_its_digest_is_kept(cast: Cast) -> None:
    token, key = actions.make_token(user=cast.stan, name="spreadsheet", now=NOW)
    stored = ApiToken.objects.filter(pk=token.pk).values().get()
    assert key not in str(stored)
    assert (stored["digest"], stored["prefix"]) == (digest_of(key), key[:6])
    assert ApiToken.objects.live(NOW).with_key(key).get().user == cast.stan


def test_no_two_keys_are_alike(cast: Cast) -> None:
    keys = {actions.make_token(user=cast.stan, name="same", now=NOW)[1] for _ in range(20)}
    assert len(keys) == 20
    assert min(map(len, keys)) >= 43  # 256 bits in base64


def test_digests_are_sha_256() -> None:
    # NIST, SHA-256 example values: the message "abc".
    assert digest_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_revoked_key_opens_nothing_and_keeps_its_date(cast: Cast) -> None:
    token, key = actions.make_token(user=cast.stan, name="old", now=NOW)
    actions.revoke_token(token=token, now=NOW + DAY)
    assert not ApiToken.objects.live(NOW).with_key(key).exists()
    with nothing_changes():
        again = actions.revoke_token(token=token, now=NOW + 2 * DAY)
    assert again.revoked_at == NOW + DAY


def test_keys_of_somebody_who_may_not_sign_in_open_nothing(cast: Cast) -> None:
    _, key = actions.make_token(user=cast.stan, name="old", now=NOW)
    cast.stan.is_active = False
    cast.stan.save(update_fields=["is_active"])
    assert not ApiToken.objects.live(NOW).with_key(key).exists()
