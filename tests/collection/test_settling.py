"""Memory after opening: what is served is still there, and the collector has less to look through."""

from __future__ import annotations

import subprocess
import sys

CHECK = """
import gc
from firstoff.collection.opening import open_content
from firstoff.collection.settling import settled
from firstoff.settings import Settings
opened = open_content(Settings().data)
before = len(gc.get_objects())
settled()
assert gc.get_freeze_count() > before / 2
assert len(gc.get_objects()) < before / 2
assert opened.collection.appliances(opened.collection.models[0].id)
assert opened.index.search("lamp").hits
"""


def test_what_is_there_is_looked_through_no_more() -> None:
    done = subprocess.run([sys.executable, "-c", CHECK], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
