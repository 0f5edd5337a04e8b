"""Every setting, read from the environment as NAME or, for a secret kept in a file, NAME_FILE.

Each has a default that works on one small machine; README lists them all.
"""

from pathlib import Path

import environ
from csp.constants import NONE, SELF

from project.api_settings import KNOX_TOKEN_MODEL as KNOX_TOKEN_MODEL
from project.api_settings import MIGRATION_MODULES as MIGRATION_MODULES
from project.api_settings import REST_FRAMEWORK as REST_FRAMEWORK
from project.api_settings import REST_KNOX as REST_KNOX
from project.api_settings import SPECTACULAR_SETTINGS as SPECTACULAR_SETTINGS
from project.caches import CACHES as CACHES
from project.private_files import kept_secret, private_file, private_folder

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.FileAwareEnv()

VAR_DIR = Path(env.str("VAR_DIR", str(BASE_DIR / "var")))
private_folder(VAR_DIR, ours=VAR_DIR == BASE_DIR / "var")
KEY_DIR = Path(env.str("KEY_DIR", str(VAR_DIR / "keys")))
FILES_DIR = Path(env.str("FILES_DIR", str(VAR_DIR / "files")))
PDF_CERTIFICATES = env.dict("PDF_CERTIFICATES", default={})
PDF_CERTIFICATE_PASSWORD = env.str("PDF_CERTIFICATE_PASSWORD", "")
TIME_STAMP_AUTHORITY = env.str("TIME_STAMP_AUTHORITY", "")
TIME_STAMP_ROOTS = env.str("TIME_STAMP_ROOTS", "")
TEXT_MESSAGES_ANYWHERE = env.bool("TEXT_MESSAGES_ANYWHERE", False)
HOOKS_ANYWHERE = env.bool("HOOKS_ANYWHERE", False)
SECRET_KEY = env.str("SECRET_KEY", "") or kept_secret(VAR_DIR / "secret-key")
DEBUG = env.bool("DEBUG", False)
ALLOWED_HOSTS = env.list("ALLOWED_HOSTS", default=["127.0.0.1", "localhost", "[::1]"])
BASE_ADDRESS = env.str("BASE_ADDRESS", f"http://127.0.0.1:{env.int('PORT', 8000)}")
CSRF_TRUSTED_ORIGINS = env.list("CSRF_TRUSTED_ORIGINS", default=[BASE_ADDRESS])

INSTALLED_APPS = [
    "project",
    "compliance",
    "records",
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "csp",
    "django_filters",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
    "drf_spectacular",
    "knox",
    "rest_framework",
    "rules",
    "simple_history",
]

MIDDLEWARE = [
    "records.programs.problems.problems_told",
    "project.middleware.bounded",
    "django.middleware.security.SecurityMiddleware",
    "django.middleware.gzip.GZipMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "project.middleware.kept_nowhere",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "project.middleware.on_the_firms_clock",
    "django_htmx.middleware.HtmxMiddleware",
    "simple_history.middleware.HistoryRequestMiddleware",
    "records.auditing.refusals.noted",
]

ROOT_URLCONF = "project.urls"
WSGI_APPLICATION = "project.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "project" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.template.context_processors.i18n",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "records.current_firm.firms_to_choose",
            ]
        },
    }
]

DATABASES = {"default": env.db_url("DATABASE_URL", default=f"sqlite:///{VAR_DIR / 'treatment-log.sqlite3'}")}
DATABASES["default"]["CONN_MAX_AGE"] = 60
DATABASE_FILE = None
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": (
            "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; "
            "PRAGMA recursive_triggers=ON; PRAGMA foreign_keys=ON; PRAGMA secure_delete=ON;"
        ),
    }
    DATABASE_FILE = Path(DATABASES["default"]["NAME"])
    private_file(DATABASE_FILE)
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
TASKS = {"default": {"BACKEND": "django_tasks_db.DatabaseBackend"}}

AUTH_USER_MODEL = "records.User"
AUTHENTICATION_BACKENDS = [
    "django.contrib.auth.backends.ModelBackend",
    "rules.permissions.ObjectPermissionBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 15}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "home"
ACCOUNT_ADAPTER = "project.accounts.InvitedOnly"
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*", "password2*"]
ACCOUNT_EMAIL_VERIFICATION = "none"
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_LOGOUT_ON_PASSWORD_CHANGE = True
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes", "webauthn"]
MFA_WEBAUTHN_USER_VERIFICATION = "required"

LANGUAGE_CODE = "en"
LANGUAGES = [("en", "English"), ("es", "Español")]
LOCALE_PATHS = [BASE_DIR / "project" / "locale"]
TIME_ZONE = "UTC"
FORMAT_MODULE_PATH = ["project.formats"]

STATIC_URL = "/static/"
STATICFILES_DIRS = [BASE_DIR / "project" / "static"]
STATIC_ROOT = VAR_DIR / "static"
_TOLD_BY = "exact treatment_facts conditions subjects told strength coverage limit_judge must_judge "
_TELLS = "limits_and_musts limits_known told_here"
KEPT_FILES = [*(f"compliance/{name}.js" for name in (_TOLD_BY + _TELLS).split()), "compliance/told_here.css"]
"""What a phone keeps of other rooms' files, so that their pages work without a signal."""
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

vars().update(env.email_url("EMAIL_URL", default="consolemail://"))
MAIL_GOES_OUT = vars()["EMAIL_BACKEND"].split(".")[-2] not in ("console", "filebased", "dummy", "locmem")
EMAIL_TIMEOUT = env.int("EMAIL_TIMEOUT", 30)
DEFAULT_FROM_EMAIL = env.str("DEFAULT_FROM_EMAIL", "treatment-log@localhost")
BEHIND_TLS = env.bool("BEHIND_TLS", BASE_ADDRESS.startswith("https://"))
TRUSTED_PROXIES = env.int("TRUSTED_PROXIES", int(BEHIND_TLS))
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = BEHIND_TLS
SECURE_HSTS_SECONDS = 31_536_000 if BEHIND_TLS else 0
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if BEHIND_TLS else None
SESSION_COOKIE_HTTPONLY = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "worker-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
PEOPLE_NEAR_DAYS = env.int("PEOPLE_NEAR_DAYS", 366)
DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"()": "project.log_lines.WithoutSecrets"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "loggers": {"pyhanko": {"level": "ERROR"}},  # it tells of each signature that does not hold; so do we
    "root": {"handlers": ["console"], "level": env.str("LOG_LEVEL", "INFO")},
}
