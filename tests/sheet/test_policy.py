"""The content security policy."""

from __future__ import annotations

from base64 import b64encode
from hashlib import sha256

from firstoff.sheet import content_security_policy


def test_it_allows_the_styles_named_and_nothing_else() -> None:
    """The digest of a style is that of its text (W3C CSP 3, 6.7.3.3)."""
    digest = b64encode(sha256(b"p { margin: 0 }").digest()).decode()
    policy = content_security_policy("p { margin: 0 }")
    assert policy.split("; ") == [
        "default-src 'none'",
        f"style-src 'sha256-{digest}'",
        "base-uri 'none'",
        "form-action 'none'",
        "frame-ancestors 'self'",
    ]
    assert "frame-ancestors" not in content_security_policy("", framed=False)
    assert "style-src 'none'" in content_security_policy()
