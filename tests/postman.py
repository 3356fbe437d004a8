"""What has gone out by e-mail, once the postman has been."""

from django.core import mail
from django.core.mail import EmailMessage
from django.utils import timezone

from accounts.models import Mail
from accounts.tasks import send_mail


def outbox() -> list[EmailMessage]:
    """``mail.outbox``, with the mails that waited in their rows."""
    for mail_id in list(Mail.objects.to_send(timezone.now()).values_list("pk", flat=True)):
        send_mail(mail_id=mail_id)
    return mail.outbox
