"""Take the README's pictures: `.venv/bin/python scripts/pictures.py`.

The demo yard in a real browser, at a desk's and a phone's size. Needs Chromium and the
development environment that `./mewswright test` makes.
"""

import os
import shutil
import socket
import threading
import time
from importlib.resources import files
from pathlib import Path

import uvicorn
from playwright.sync_api import sync_playwright

from mewswright.web.app import create_app

OUT = Path(__file__).parents[1] / "docs" / "pictures"
SHOTS = [  # file, page, width, height, scheme
    ("ground.png", "/ground", 1280, 800, "light"),
    ("shade.png", "/ground?layer=shade&day=2026-06-21&hour=17", 1280, 800, "light"),
    ("quarters.png", "/quarters/North%20loft", 1280, 900, "light"),
]


def main() -> None:
    """Serve the demo yard and photograph it."""
    demo = Path(str(files("mewswright.examples") / "alder-close.yard.toml"))
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(create_app(demo), log_level="warning"))
    threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    address = f"http://127.0.0.1:{listening.getsockname()[1]}"
    args = ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("MEWSWRIGHT_CHROMIUM") or shutil.which("chromium"),
            args=args,
        )
        for name, path, width, height, scheme in SHOTS:
            context = browser.new_context(
                viewport={"width": width, "height": height}, color_scheme=scheme
            )
            page = context.new_page()
            page.goto(address + path)
            page.screenshot(path=OUT / name)
            context.close()
        browser.close()
    server.should_exit = True


if __name__ == "__main__":
    main()
