"""Settings of the site. What differs between machines is read in ``environment.py``."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import django_stubs_ext
import font_rhd

from workshops import environment

# Lets annotations such as QuerySet[Item] stand at run time.
django_stubs_ext.monkeypatch()

BASE_DIR = environment.BASE
SECRET_KEY = environment.secret_key()
DEBUG = environment.flag("DEBUG", default=False)
ALLOWED_HOSTS = environment.words("ALLOWED_HOSTS", "127.0.0.1,localhost,[::1],testserver")
CSRF_TRUSTED_ORIGINS = environment.words("CSRF_TRUSTED_ORIGINS", "")

INSTALLED_APPS = [
    "workshops.access",
    "inventory.places",
    "inventory.materials",
    "inventory.ledger",
    "inventory.readings",
    "inventory.stocktake",
    "inventory.cutting",
    "inventory.deliveries",
    "inventory.needs",
    "workshops.common",
    "workshops.club",
    "workshops.stations",
    "workshops.people",
    "workshops.nights",
    "workshops.counting",
    "workshops.quality",
    "workshops.trouble",
    "workshops.lockup",
    "workshops.mine",
    "workshops.season",
    "workshops.training",
    "workshops.tonight",
    "workshops.flow",
    "workshops.stock",
    "workshops.paper",
    "workshops.home",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "django_htmx",
    "bootstrap",
    "crispy_forms",
    "crispy_bootstrap5",
    "axes",
    "auditlog",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "workshops.common.middleware.only_from_here",
    # Pages and static files alike go over the shop's weak Wi-Fi at a fifth of their size.
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "workshops.access.tablets.end_on_shared_tablets",
    "auditlog.middleware.AuditlogMiddleware",
    # The last, as it must be: it puts the page of a name that has to wait in place of the form.
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "workshops.urls"
WSGI_APPLICATION = "workshops.wsgi.application"
ASGI_APPLICATION = "workshops.asgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "workshops.access.context.may",
            ],
        },
    },
]

DATABASES = {"default": environment.database(environment.text("DATABASE_URL"))}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

REDIS_URL = environment.text("REDIS_URL")
if REDIS_URL:
    CACHES = {
        "default": {"BACKEND": "django.core.cache.backends.redis.RedisCache", "LOCATION": REDIS_URL}
    }
CELERY_BROKER_URL = REDIS_URL
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
# A page that queues a job must not hang on a Redis that is gone: the row says so instead.
CELERY_BROKER_TRANSPORT_OPTIONS = {
    "max_retries": 1, "interval_start": 0, "interval_max": 0.2, "socket_connect_timeout": 2,
}  # fmt: skip
JOBS_RUN_AT_ONCE = False  # tests and commands that wait for the outcome set it
CELERY_TASK_IGNORE_RESULT = True  # a job is a row; its result is read from there

AUTH_USER_MODEL = "access.User"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
LOGIN_URL = "access:sign_in"
LOGIN_REDIRECT_URL = "home:front"
LOGOUT_REDIRECT_URL = "access:sign_in"
# Kept in the database, read from the cache: one query fewer on every page.
SESSION_ENGINE = "django.contrib.sessions.backends.cached_db"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SECURE_REFERRER_POLICY = "same-origin"

PASSWORD_RESET_TIMEOUT = 24 * 60 * 60  # the letter says "a day"

# Asked first: a name that has to wait is refused before its password is looked at.
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
AXES_FAILURE_LIMIT = environment.number("SIGN_IN_TRIES", 6)
AXES_COOLOFF_TIME = timedelta(minutes=environment.number("SIGN_IN_WAIT_MINUTES", 10))
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_LOCKOUT_CALLABLE = "workshops.access.throttle.locked_out"
AXES_RESET_ON_SUCCESS = True
# The wait is the one the page tells, however often somebody presses meanwhile.
AXES_RESET_COOL_OFF_ON_FAILURE_DURING_LOCKOUT = False
# Failures are counted; who signed in when and from where is not kept.
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False

# A session marked as a shared tablet at sign-in ends when it is left lying, and at this hour
# of the shop's own clock.
SHARED_TABLET_IDLE_MINUTES = environment.number("SHARED_TABLET_IDLE_MINUTES", 30)
SHARED_TABLET_ENDS_AT = environment.hour("SHARED_TABLET_ENDS_AT", "23:00")

# Who changed what, field by field. The book, the sign-offs and the lifetimes are trails of
# their own: never changed, only added to. What is private is noted as changed, without values.
AUDITLOG_INCLUDE_TRACKING_MODELS = (
    {
        "model": "people.Person",
        "exclude_fields": ["changed_by", "changed_at"],
        "mask_fields": [
            "email", "phone", "born_on", "is_adult_declared", "no_dust", "seated_only",
            "no_heavy", "emergency_contact", "note",
        ],
    },
    "people.Guardianship",
    "people.Waiver",
    "people.Bar",
    "club.Club",
    "club.ClubRule",
    "access.Membership",
    "stations.Station",
    "stations.Tool",
    "materials.Item",
)  # fmt: skip
AUDITLOG_MASK_CALLABLE = "workshops.access.trail.hidden"
AUDITLOG_DISABLE_REMOTE_ADDR = True  # an address tells where somebody lives, not what they did

LANGUAGE_CODE = "en-us"
USE_TZ = True
TIME_ZONE = "UTC"  # each shop has its own; pages switch to it

STATIC_URL = "static/"
# The heading font is served from its package, under fonts/.
STATICFILES_DIRS = [("fonts", Path(font_rhd.__file__).parent / "files")]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
# Found where they lie and compressed on the way out: a fresh clone serves them without a
# collecting step, and no collected copy can grow stale after an update.
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 3600
MEDIA_ROOT = BASE_DIR / "media"

CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"

# Letters are printed to the console until a server is named that sends them.
EMAIL_HOST = environment.text("EMAIL_HOST")
EMAIL_BACKEND = f"django.core.mail.backends.{'smtp' if EMAIL_HOST else 'console'}.EmailBackend"
EMAIL_PORT = environment.number("EMAIL_PORT", 587)
EMAIL_HOST_USER = environment.text("EMAIL_USER")
EMAIL_HOST_PASSWORD = environment.text("EMAIL_PASSWORD")
EMAIL_USE_TLS = environment.flag("EMAIL_TLS", default=True)
EMAIL_TIMEOUT = 20
DEFAULT_FROM_EMAIL = environment.text("EMAIL_FROM", "winterbench@localhost")

# One-time links to one's own nights: how long they work, how often an address may ask.
SESAME_MAX_AGE = 60 * environment.number("LINK_MINUTES", 30)
SESAME_ONE_TIME = True
LINKS_AN_HOUR = environment.number("LINKS_AN_HOUR", 4)
# How long whoever came in by a link stays in on a device of their own.
LINK_OWN_DEVICE_DAYS = environment.number("LINK_OWN_DEVICE_DAYS", 30)

# Django keeps errors from the console unless DEBUG is on; a club looks nowhere else.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "loggers": {
        "django.request": {"handlers": ["console"], "level": "ERROR", "propagate": False},
        "workshops": {"handlers": ["console"], "level": "INFO", "propagate": False},
    },
}
