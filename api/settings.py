"""Every setting of the service, read from the environment once, at start-up.

Embedded: nothing set, SQLite beside the project. Grown: `DATABASE_URL` and `REDIS_URL`.
"""

from __future__ import annotations

import os
from pathlib import Path

from api.environment import database, flag, secret_key, words

ROOT = Path(__file__).resolve().parent.parent
STATE = Path(os.environ.get("DYE_LARDER_STATE", ROOT / ".state"))

DEBUG = flag("DYE_LARDER_DEBUG", default=False)
SECRET_KEY = secret_key(STATE)
ALLOWED_HOSTS = words("DYE_LARDER_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])

INSTALLED_APPS = [
    "django.contrib.contenttypes",
    "django.contrib.auth",
    "rest_framework",
    "inventory",
    "sourcing",
    "api",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.http.ConditionalGetMiddleware",
]
ROOT_URLCONF = "api.urls"
WSGI_APPLICATION = "api.wsgi.application"
TEMPLATES: list[dict[str, object]] = []

DATABASES = {"default": database(os.environ.get("DATABASE_URL"), STATE)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

USE_TZ = True
TIME_ZONE = "UTC"
LANGUAGE_CODE = "en-gb"
USE_I18N = True

REST_FRAMEWORK = {
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_AUTHENTICATION_CLASSES": [],
    "DEFAULT_PERMISSION_CLASSES": [],
    "UNAUTHENTICATED_USER": None,
}
