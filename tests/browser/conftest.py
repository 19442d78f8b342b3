"""A real browser on a real server, both on this machine, and a page that must stay quiet."""

import os
import shutil
import socket
import threading
import time
from importlib.resources import files
from pathlib import Path

import pytest
import uvicorn

from support.quiet import listen

CHROMIUM = (
    os.environ.get("MEWSWRIGHT_CHROMIUM")
    or shutil.which("chromium")
    or shutil.which("google-chrome")
)


def pytest_collection_modifyitems(config, items):
    if CHROMIUM:
        return
    for item in items:
        if "browser" not in item.fixturenames:
            continue
        if os.environ.get("CI"):  # a red run, never a skip
            item.fixturenames.insert(0, "no_chromium")
        else:
            item.add_marker(pytest.mark.skip(reason="no Chromium on this machine"))


@pytest.fixture
def no_chromium():
    pytest.fail("the browser tests need Chromium: apt-get install chromium libatomic1")


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    args = [
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-dev-shm-usage",
        "--disable-quic",
        "--disable-sync",
        "--enable-unsafe-swiftshader",
        "--no-first-run",
        "--use-angle=swiftshader",
    ]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        args.append("--no-sandbox")  # Chromium's own refuses to run as root
    return {**browser_type_launch_args, "executable_path": CHROMIUM, "args": args}


@pytest.fixture(scope="session")
def yard_file(tmp_path_factory):
    """A copy of the demo yard: a test may change it and look at the page again."""
    demo = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
    return Path(shutil.copy(demo, tmp_path_factory.mktemp("yard")))


@pytest.fixture(scope="session")
def base_url(yard_file):
    """Address of a server in this process that shows the demo yard."""
    from mewswright.web.app import create_app

    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    listening.listen(128)
    server = uvicorn.Server(uvicorn.Config(create_app(yard_file), log_level="warning"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    give_up = time.monotonic() + 30
    while not server.started:
        assert thread.is_alive(), "the server stopped before it had started"
        assert time.monotonic() < give_up, "the server did not start within 30 s"
        time.sleep(0.02)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(5)


@pytest.fixture(autouse=True)
def quiet_page(request):
    """Fail on a page error, a console error, or a request that leaves this machine.

    A test that brings an error about on purpose says so: `@pytest.mark.may_log("404")`.
    """
    if "page" not in request.fixturenames:
        yield
        return
    allowed = [mark.args[0] for mark in request.node.iter_markers("may_log")]
    complaints = listen(request.getfixturevalue("context"), allowed)
    yield
    assert complaints == []
