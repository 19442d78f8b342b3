"""Housing for trained birds of prey, worked out from one yard file."""

__version__ = "0.1.0"
