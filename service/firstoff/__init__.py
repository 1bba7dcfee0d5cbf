"""firstoff: what comes off first, what is still live, what is probably wrong."""

__version__ = "0.1.0"
