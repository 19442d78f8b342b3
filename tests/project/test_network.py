"""The suite's own guard against the network."""

import socket

import pytest


def test_a_connection_to_another_machine_is_refused():
    # 192.0.2.0/24 is set aside for documentation: RFC 5737.
    with (
        socket.socket() as asking,
        pytest.raises(AssertionError, match=r"must not reach the network.*192\.0\.2\.1"),
    ):
        asking.connect(("192.0.2.1", 80))


def test_a_connection_to_this_machine_is_allowed():
    with socket.socket() as serving, socket.socket() as asking:
        serving.bind(("127.0.0.1", 0))
        serving.listen(1)
        asking.connect(serving.getsockname())
        assert asking.getpeername() == serving.getsockname()
