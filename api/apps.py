from django.apps import AppConfig


class ApiConfig(AppConfig):
    name = "api"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """From here on a sentence on a page is said in its reader's language."""
        from api.tongue.speaking import aloud
        from inventory.science.saying import Said

        Said.aloud = aloud
