"""What the web server calls: ``shared.wsgi:site``, around ``application``, which is Django's."""

import os

from django.core.wsgi import get_wsgi_application

from shared.serving.gateway import Gateway

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")

application = get_wsgi_application()
site = Gateway(application)
