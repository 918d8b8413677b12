"""Every setting of the service, read from the environment once, at start-up.

Embedded: nothing set, SQLite beside the project. Grown: `DATABASE_URL` and `REDIS_URL`.
"""

from __future__ import annotations

import os
from pathlib import Path

from csp.constants import NONE, SELF

from api.environment import (
    broker,
    database,
    flag,
    mail,
    own_address,
    secret_key,
    state_folder,
    words,
)
from api.throttles.limits import limits_said

ROOT = Path(__file__).resolve().parent.parent
STATE = state_folder(ROOT / ".state")

DEBUG = flag("DYE_LARDER_DEBUG", default=False)
SECRET_KEY = secret_key(STATE)
ALLOWED_HOSTS = words("DYE_LARDER_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])
# As readers reach the service; empty: by the names above.
ADDRESS = own_address(os.environ.get("DYE_LARDER_ADDRESS", ""))

INSTALLED_APPS = [
    "django.contrib.contenttypes",
    "django.contrib.auth",
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "csp",
    "rest_framework",
    "inventory",
    "sourcing",
    "api",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    # Before anything reads: what is too long, too large or of a kind that nobody asked for.
    "api.bounds.Bounds",
    # What is compressed has a length that is padded at random, so it tells nothing of secrets.
    "api.compressed.Compressed",
    "api.program_answers.ForPrograms",
    "api.static_names.FilesFromTheCode",
    # Before anything answers: a Host that is not ours is refused by CommonMiddleware, a method
    # that no page knows by KnownMethods. Plain views would answer both.
    "api.tongue.reader.InTheirTongue",
    "django.middleware.common.CommonMiddleware",
    "api.methods.KnownMethods",
    "api.throttles.addresses.ByAddress",
    "django.middleware.http.ConditionalGetMiddleware",
    # Reads nothing before somebody asks who is signed in, and nothing without a cookie.
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "api.hindered.Hindered",
]
ROOT_URLCONF = "api.urls"
WSGI_APPLICATION = "api.wsgi.application"
TEMPLATES: list[dict[str, object]] = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "api" / "templates"],
        "APP_DIRS": False,
        "OPTIONS": {
            "autoescape": True,
            "libraries": {"sheets": "api.web.sheets.tag"},
            # What a page says is looked up while it is compiled; see api/templating/words.py.
            "builtins": ["api.templating.words", "api.templating.kept"],
            "loaders": [
                (
                    "api.templating.by_language.KeptByLanguage",
                    ["django.template.loaders.filesystem.Loader"],
                )
            ],
        },
    }
]

STATIC_URL = "/static/"
STATICFILES_DIRS = [ROOT / "api" / "static"]
STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.FileSystemFinder"]
STORAGES = {"staticfiles": {"BACKEND": "api.static_names.NamedByContent"}}
# Straight from the code, so that nobody has to collect anything before serving.
WHITENOISE_USE_FINDERS = True
WHITENOISE_ALLOW_ALL_ORIGINS = False

# Nothing but our own files, no inline style, no inline script, no frame round it.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "style-src": [SELF],
        "img-src": [SELF],
        "font-src": [SELF],
        "manifest-src": [SELF],
        "script-src": [SELF],
        "worker-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
# The few forms that change something guard themselves (`csrf_protect`); no script reads the cookie.
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_AGE = None
CSRF_FAILURE_VIEW = "api.web.errors.not_from_there"

# Who comes in. While nobody has an account and no host is named, whoever sits at this machine is
# the owner; api/visitor.py decides.
AUTH_USER_MODEL = "api.Account"
THIS_MACHINE_ONLY = "DYE_LARDER_HOSTS" not in os.environ
PASSWORD_HASHERS = ["api.passwords.SmallMachineArgon2"]
AUTH_PASSWORD_VALIDATORS: list[dict[str, object]] = [
    {
        "NAME": f"django.contrib.auth.password_validation.{name}",
        "OPTIONS": options,
    }
    for name, options in (
        ("MinimumLengthValidator", {"min_length": 10}),
        ("UserAttributeSimilarityValidator", {"user_attributes": ("email", "name")}),
        ("CommonPasswordValidator", {}),
        ("NumericPasswordValidator", {}),
    )
]
PASSWORD_RESET_TIMEOUT = 3600  # of a link for a new password
SESSION_ENGINE = "api.sessions"
SESSION_COOKIE_AGE = 30 * 24 * 3600
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = ADDRESS.startswith("https:")
# Said outright, as much hangs on it: no script reads the cookie, no other site sends it along.
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"

# How large a body may be is said for each address in api/bounds.py, from its Content-Length.
DATA_UPLOAD_MAX_MEMORY_SIZE = None
FILE_UPLOAD_HANDLERS = ["api.no_files.NoFiles"]

# ATOMIC_REQUESTS stays off: with IMMEDIATE transactions it would make every GET wait for whoever
# is writing. A verb opens its own transaction.
DATABASES = {"default": database(os.environ.get("DATABASE_URL"), STATE)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

USE_TZ = True
TIME_ZONE = "UTC"
LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", "English"), ("de", "Deutsch")]
LANGUAGE_COOKIE_NAME = "language"
LOCALE_PATHS = [ROOT / "api" / "locale"]
USE_I18N = True
# Numbers in an address, a field or a drawing keep their decimal point in every language; numbers
# that are read are said by api/tongue.
FORMAT_MODULE_PATH = ["api.tongue.formats"]

# A fault that nobody foresaw is told in full where the service was started; without this it is
# shown to nobody, as the framework only mails it.
LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"said": {"class": "logging.StreamHandler", "level": "ERROR"}},
    "loggers": {"django.request": {"handlers": ["said"]}},
}

# How often a minute who may ask, and where it is counted: in Redis, or in each process.
LIMITS = limits_said(os.environ.get("DYE_LARDER_LIMITS"))
REDIS_URL = os.environ.get("REDIS_URL", "")

REST_FRAMEWORK = {
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["api.rest.parsers.PlainJSONParser"],
    "DEFAULT_AUTHENTICATION_CLASSES": ["api.rest.signing_in.TokenOrSession"],
    "DEFAULT_PERMISSION_CLASSES": ["api.rest.signing_in.Belongs"],
    "UNAUTHENTICATED_USER": None,
    "DEFAULT_THROTTLE_CLASSES": ["api.rest.throttles.ByVisitor"],
    # OPTIONS tells what is allowed (api/methods.py); what an address does stands in the contract.
    "DEFAULT_METADATA_CLASS": None,
    "EXCEPTION_HANDLER": "api.rest.errors.answer_problem",
    # Read by `manage.py contract` only; nothing loads it to answer.
    "DEFAULT_SCHEMA_CLASS": "api.contract.operation.Operation",
}
SPECTACULAR_SETTINGS = {"OAS_VERSION": "3.1.1", "SCHEMA_PATH_PREFIX": "/api/v1/"}

# Where reminders go out; None: nothing is sent, and whoever asks is told so.
MAIL = mail(os.environ.get("DYE_LARDER_MAIL"))
# Behind something that speaks https for us, a form comes from there.
CSRF_TRUSTED_ORIGINS = [ADDRESS] if ADDRESS else []
# Says which letters fall due and whether one is still wanted; see api/reminders/sweep.py.
REMINDERS = "api.reminders.due"

# The longest that one job in the background may take; a task may ask for less, never for more.
LONGEST_TASK_S = 300

CELERY_BROKER_URL = broker(os.environ.get("REDIS_URL"))
CELERY_TASK_DEFAULT_QUEUE = "dye-larder"
CELERY_TIMEZONE = "UTC"
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_TIME_LIMIT = LONGEST_TASK_S
CELERY_TASK_SOFT_TIME_LIMIT = LONGEST_TASK_S - 30
# A job is crossed off when it is done, not when it is taken up, so a worker that is killed half
# way leaves it to the next one. That makes doing a job twice possible: effects go by their key.
CELERY_TASK_ACKS_LATE = True
CELERY_TASK_REJECT_ON_WORKER_LOST = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_WORKER_CANCEL_LONG_RUNNING_TASKS_ON_CONNECTION_LOSS = True
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
# A broker that is away for a night is asked again in the morning too.
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
CELERY_BROKER_CONNECTION_TIMEOUT = 5
REDIS_OPTIONS = {
    # Twice the longest job: no job that is still being done is given to a second worker.
    "visibility_timeout": 2 * LONGEST_TASK_S,
    # Look for jobs of lost workers at every round, not at every tenth.
    "unacked_restore_throttle": 1,
    # A Redis that takes the connection and then says nothing is given up, not waited for.
    "socket_timeout": 10,
    "socket_connect_timeout": 5,
}
CELERY_BROKER_TRANSPORT_OPTIONS = REDIS_OPTIONS if os.environ.get("REDIS_URL") else {}
