"""A real PostgreSQL server of the tests' own: in a folder that goes, on this machine alone."""

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from contextlib import contextmanager
from pathlib import Path


def program(name):
    """Path of a server program, None where PostgreSQL is not installed."""
    found = shutil.which(name)
    if found:
        return found
    homes = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda p: int(p.parent.name))
    for home in reversed(homes):
        if (home / name).exists():
            return str(home / name)
    return None


@contextmanager
def server():
    """Address of the server, without a database's name."""
    as_root = os.geteuid() == 0  # PostgreSQL refuses to run as root
    who = ["runuser", "-u", "postgres", "--"] if as_root else []
    folder = Path(tempfile.mkdtemp(prefix="mewspg"))
    if as_root:
        own = pwd.getpwnam("postgres")
        os.chown(folder, own.pw_uid, own.pw_gid)
    data = folder / "data"
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    run = {"cwd": folder, "check": True, "stdout": subprocess.DEVNULL}
    try:
        subprocess.run(
            [*who, program("initdb"), "-D", data, "-U", "mews", "-A", "trust", "-E", "UTF8",
             "--locale=C.UTF-8", "--no-sync"], **run)  # fmt: skip
        options = f"-p {port} -k {folder} -c listen_addresses=127.0.0.1 -c max_connections=40"
        subprocess.run(
            [
                *who,
                program("pg_ctl"),
                "-D",
                data,
                "-o",
                options,
                "-l",
                folder / "log",
                "-w",
                "start",
            ],
            **run,
        )
        try:
            yield f"postgresql://mews@127.0.0.1:{port}"
        finally:
            subprocess.run([*who, program("pg_ctl"), "-D", data, "-m", "immediate", "stop"], **run)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
