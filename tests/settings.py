"""The project's settings as tests want them: quick password hashes, plain static files, mail in memory."""

import os
import tempfile

os.environ.setdefault("VAR_DIR", tempfile.mkdtemp(prefix="treatment-log-tests-"))
os.environ.setdefault("SECRET_KEY", "only-for-tests")
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "1")

from project.settings import *  # noqa: F403

if DATABASES["default"]["ENGINE"].endswith("sqlite3"):  # noqa: F405
    # A file, as in real use: in memory, requests that overlap don't wait for each other but fail.
    DATABASES["default"]["TEST"] = {"NAME": f"{os.environ['VAR_DIR']}/tests.sqlite3"}  # noqa: F405
    options = DATABASES["default"]["OPTIONS"]  # noqa: F405
    options["init_command"] = options["init_command"].replace("synchronous=FULL", "synchronous=OFF")
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.InMemoryStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_AUTOREFRESH = True
WHITENOISE_USE_FINDERS = True
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
MAIL_GOES_OUT = True
CACHES["default"] = {"BACKEND": "django.core.cache.backends.locmem.LocMemCache"}  # noqa: F405
TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
LOGGING = {"version": 1, "disable_existing_loggers": False}
