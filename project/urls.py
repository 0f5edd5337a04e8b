"""The whole map on one page."""

from django.contrib import admin
from django.urls import include, path

from project import pages

urlpatterns = [
    path("", pages.home, name="home"),
    path("health/", pages.health, name="health"),
    path("accounts/", include("allauth.urls")),
    path("language/", include("django.conf.urls.i18n")),
    path("admin/", admin.site.urls),
]
