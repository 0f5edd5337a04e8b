from django.apps import AppConfig


class ProjectConfig(AppConfig):
    name = "project"
    verbose_name = "Wiring"

    def ready(self) -> None:
        from project import checks  # noqa: F401 - registers the checks
