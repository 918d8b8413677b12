import gc

from django.apps import AppConfig


class ApiConfig(AppConfig):
    name = "api"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """From here on a sentence on a page is said in its reader's language."""
        # A page makes some thousand things that are gone with it; to look for rings among all that
        # a process keeps each time seven hundred more were made took a tenth of a page's time.
        gc.set_threshold(20_000, 20, 20)
        from api.tongue.speaking import aloud
        from inventory.science.saying import Said

        Said.aloud = aloud
