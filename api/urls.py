"""The whole address book."""

from django.urls import path

from api.rest.week import WeekView
from api.web.week import sheet_page

urlpatterns = [
    path("", sheet_page),
    path("api/v1/week/", WeekView.as_view()),
]

handler404 = "api.rest.errors.not_found"
