"""The version of the client; a service of the same version keeps the same contract."""

__version__ = "0.1.0"
