"""Listen to a browser context for what no page of ours may do."""

import re
from urllib.parse import urlsplit


def listen(context, allowed=()):
    """Collect complaints about every page of `context` into the list that is returned.

    A complaint is a page error, a console error that matches no pattern in `allowed`, or a
    request that leaves this machine.
    """
    complaints = []

    def heard(message):
        if message.type == "error" and not any(re.search(a, message.text) for a in allowed):
            complaints.append(f"console error: {message.text}")

    def asked(request):
        parts = urlsplit(request.url)
        if parts.scheme not in ("about", "blob", "data") and parts.hostname != "127.0.0.1":
            complaints.append(f"a request left this machine: {request.url}")

    context.on("weberror", lambda problem: complaints.append(f"page error: {problem.error}"))
    context.on("console", heard)
    context.on("request", asked)
    return complaints
