"""Settings that put a published folder behind a login of a web server: the server asks before it hands out a byte."""

from __future__ import annotations

from pathlib import Path

SERVERS = {"caddy": "Caddyfile", "nginx": "nginx.conf"}
"""Web servers that settings ship for, and the file of each."""


def settings(server: str) -> str:
    """The settings for one of SERVERS, with the lines marked that must be changed."""
    return (Path(__file__).parent / SERVERS[server]).read_text(encoding="utf-8")
