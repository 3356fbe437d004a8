"""What a browser sends as a passkey's answer may be anything."""

import json

import pytest
from django.test import Client

ODD = [10**30, True, "x", [], [1], {}, {"id": 5}, {"id": "x", "response": 5}, {"response": {}}]


@pytest.mark.django_db
@pytest.mark.parametrize("sent", ODD, ids=str)
def test_what_is_no_answer_signs_nobody_in(sent: object) -> None:
    client = Client()
    client.get("/account/2fa/webauthn/login/")

    answer = client.post("/account/2fa/webauthn/login/", {"credential": json.dumps(sent)})

    assert answer.status_code < 500
    assert "_auth_user_id" not in client.session
