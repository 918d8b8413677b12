"""An empty larder that a zip file is brought into; this week's answer is printed.

python tests/api/notebook/whole.py FILE AT
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[3]))


def main(file: str, at: str) -> None:
    """Bring the file in by the door, ask the week by another."""
    import django

    django.setup()
    from django.conf import settings
    from django.test import Client

    settings.ALLOWED_HOSTS = ["127.0.0.1"]
    client = Client(headers={"host": "127.0.0.1"})
    raw = Path(file).read_bytes()
    answer = client.post("/api/v1/notebook.zip", raw, content_type="application/zip")
    week = client.get("/api/v1/week/", {"at": at}).json()
    print(json.dumps({"brought": answer.status_code, "week": week}))


if __name__ == "__main__":
    main(*sys.argv[1:])
