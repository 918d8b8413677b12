from django.apps import AppConfig
from django.db.models.signals import post_migrate, pre_migrate


class InventoryConfig(AppConfig):
    name = "inventory"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from inventory import guards

        pre_migrate.connect(guards.before_migrate, dispatch_uid="inventory.guards.before")
        post_migrate.connect(guards.after_migrate, dispatch_uid="inventory.guards.after")
