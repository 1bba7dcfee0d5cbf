"""Debian's Chromium as the tests start it: without a sandbox of its own, a screen, or a word to anybody."""

from __future__ import annotations

import shutil
from pathlib import Path

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]


def chromium() -> str | None:
    """Where it is; None where it is not installed."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def headless(browser: str, profile: Path) -> list[str]:
    """The command that starts it without a window, with a profile of its own."""
    return [browser, "--headless", *FLAGS, f"--user-data-dir={profile}"]
