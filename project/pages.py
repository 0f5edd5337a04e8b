"""Pages that belong to no room: the first page and the health answer."""

from django.contrib.auth.decorators import login_required
from django.db import connection
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render


@login_required
def home(request: HttpRequest) -> HttpResponse:
    return render(request, "project/home.html")


def health(request: HttpRequest) -> JsonResponse:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return JsonResponse({"database": "answers"})
