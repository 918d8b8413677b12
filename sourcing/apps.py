from django.apps import AppConfig


class SourcingConfig(AppConfig):
    name = "sourcing"
    default_auto_field = "django.db.models.BigAutoField"
