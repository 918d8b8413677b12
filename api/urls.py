"""The whole address book."""

from django.urls import URLPattern

urlpatterns: list[URLPattern] = []
