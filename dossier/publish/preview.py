"""Shows a site on this machine while its folder is worked on; published again when the folder changes."""

from __future__ import annotations

import functools
import http.server
import tempfile
import threading
import time
from collections.abc import Callable
from pathlib import Path

EVERY = 1.0
"""Seconds between two looks at the folder."""


class _Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """Say nothing of every request."""


def serve(make: Callable[[Path], bool], mark: Callable[[], str], port: int, say: Callable[[str], object]) -> None:
    """Serve on the loopback address until interrupted. `make` publishes into a folder; `mark` changes when the build folder did."""
    with tempfile.TemporaryDirectory(prefix="dossier-preview-") as aside:
        out = Path(aside) / "site"
        seen = mark()
        make(out)
        handler = functools.partial(_Quiet, directory=str(out))
        with http.server.ThreadingHTTPServer(("127.0.0.1", port), handler) as server:
            threading.Thread(target=server.serve_forever, daemon=True).start()
            say(f"http://127.0.0.1:{server.server_port}/index.html  (stop with Ctrl-C)")
            try:
                while True:
                    time.sleep(EVERY)
                    if (now := mark()) != seen:
                        seen = now
                        say("published again" if make(out) else "problems: the last good state stays")
            except KeyboardInterrupt:
                server.shutdown()
