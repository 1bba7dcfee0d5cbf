"""What a browser may do with the sheet and the picture: show them, and nothing else."""

from __future__ import annotations

from base64 import b64encode
from hashlib import sha256


def content_security_policy(*styles: str, framed: bool = True) -> str:
    """A policy (W3C Content Security Policy, level 3) that allows these inline ``styles`` by their digests alone.

    No script, no image, no address of another place, no form. ``framed`` adds who may frame the page, which counts in
    a header only.
    """
    allowed = " ".join(f"'sha256-{b64encode(sha256(style.encode()).digest()).decode()}'" for style in styles)
    parts = ["default-src 'none'", "style-src " + (allowed or "'none'"), "base-uri 'none'", "form-action 'none'"]
    return "; ".join([*parts, *(["frame-ancestors 'self'"] if framed else [])])
