"""What holds for every test: the same run twice, and no way out of this machine."""

import ipaddress
import os
import socket

import pytest
from hypothesis import settings

# A slow machine is not a wrong answer, so no deadline. Where nobody can look at a
# chance failure twice, examples are the same in every run.
settings.register_profile("here", deadline=None)
settings.register_profile("ci", deadline=None, derandomize=True)
settings.load_profile("ci" if os.environ.get("CI") else "here")


def _stays_here(address: object) -> bool:
    if not isinstance(address, tuple):  # a socket file
        return True
    host = address[0]
    if host in ("localhost", ""):
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False


@pytest.fixture(autouse=True)
def no_network(monkeypatch):
    """No test reaches the network: a connection to another machine fails on the spot."""
    connect, connect_ex = socket.socket.connect, socket.socket.connect_ex

    def guard(method):
        def guarded(self, address):
            if not _stays_here(address):
                raise AssertionError(f"a test must not reach the network, this one asked {address}")
            return method(self, address)

        return guarded

    monkeypatch.setattr(socket.socket, "connect", guard(connect))
    monkeypatch.setattr(socket.socket, "connect_ex", guard(connect_ex))
