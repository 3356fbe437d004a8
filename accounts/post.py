"""Sending one e-mail, so that none is lost."""

import logging
from collections.abc import Callable
from contextlib import ExitStack
from datetime import datetime

from django.core.mail import EmailMessage
from django.utils import timezone

from accounts import actions
from accounts.models import Posted
from accounts.models.posted import LEASE
from shared.workers.lease import held
from shared.workers.post import ServerAnswer, hand_in, mail_server

logger = logging.getLogger(__name__)

BEAT_SECONDS = LEASE.total_seconds() / 4


def deliver(row: Posted, write: Callable[[], EmailMessage | None], now: datetime) -> None:
    """Send what ``write`` writes of the row, None for nothing to say, unless another has the row.

    Held all the while: when we are killed, another takes it up soon.
    """
    if not actions.take_post(row=row, now=now):
        return
    called = f"{row._meta.model_name} {row.pk}"

    def beat() -> None:
        actions.keep_post(row=row, now=timezone.now())

    with held(beat, every=BEAT_SECONDS), ExitStack() as opened:
        try:
            message = write()
            server = opened.enter_context(mail_server()) if message else None
        except Exception:
            logger.exception("%s cannot be sent now", called)
            actions.put_back_post(row=row, now=now)
            return
        if message is None or server is None:
            actions.drop_post(row=row, now=now)
            return
        message.extra_headers["Message-ID"] = row.message_id
        match hand_in(message, server, called=called):
            case ServerAnswer.ACCEPTED:
                actions.note_post_sent(row=row, now=now)
            case ServerAnswer.NEVER:
                actions.drop_post(row=row, now=now)
            case ServerAnswer.NOT_NOW:
                actions.put_back_post(row=row, now=now)
            case ServerAnswer.UNCLEAR:
                actions.note_post_unclear(row=row, now=now)
