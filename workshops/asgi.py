"""The door through which a ASGI server reaches the site."""

import os

from django.core.asgi import get_asgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "workshops.settings")
application = get_asgi_application()
