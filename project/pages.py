"""Pages that belong to no room: the account and the health answer."""

from django.contrib.auth.decorators import login_required
from django.db import connection
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render


@login_required
def account(request: HttpRequest) -> HttpResponse:
    return render(request, "project/account.html")


def health(request: HttpRequest) -> JsonResponse:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return JsonResponse({"database": "answers"})
