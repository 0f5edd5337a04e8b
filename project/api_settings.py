"""The settings of the API: who may call, how it is described, and how its tokens look."""

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "records.programs.tokens.ByToken",
        "rest_framework.authentication.SessionAuthentication",
    ],
    "EXCEPTION_HANDLER": "records.programs.problems.answer_problem",
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["records.api_json.StrictJSONParser"],
    "DEFAULT_SCHEMA_CLASS": "records.programs.schema.CallSchema",
}
KNOX_TOKEN_MODEL = "records.ProgramToken"  # noqa: S105 - the name of a model
REST_KNOX = {"AUTH_HEADER_PREFIX": "Bearer", "TOKEN_PREFIX": "tlog_"}
MIGRATION_MODULES: dict[str, str | None] = {"knox": None}
"""The library's own table of tokens is not made: ours belong to a firm."""
SPECTACULAR_SETTINGS = {
    "TITLE": "Treatment log",
    "VERSION": "1",
    "OAS_VERSION": "3.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "ENUM_NAME_OVERRIDES": {"LanguageEnum": "django.conf.settings.LANGUAGES"},
    "SERVE_PERMISSIONS": ["rest_framework.permissions.IsAuthenticated"],
    "POSTPROCESSING_HOOKS": [
        "drf_spectacular.hooks.postprocess_schema_enums",
        "records.programs.schema.with_problems",
    ],
}
