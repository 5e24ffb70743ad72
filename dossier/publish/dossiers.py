"""Editions in hand published as one folder, seen whole or not at all: one at its root, or an archive with one folder a build."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from dossier.model.edition import Edition
from dossier.publish.archive import publish_archive
from dossier.publish.dossier import Published, publish_dossier
from dossier.publish.exchange import mark, published_whole


def publish(
    editions: Sequence[Edition],
    sources: Sequence[Path],
    out: Path,
    single: bool,
    cache: Path | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> list[Published]:
    """Publish editions of one audience into `out`. `single`: the only one stands at the root of `out`, without an archive page."""
    with published_whole(out) as making:
        if single:
            return [publish_dossier(editions[0], sources[0], making, cache, progress)]
        published = []
        for edition, source in zip(editions, sources, strict=True):
            published.append(publish_dossier(edition, source, making / edition.build.slug, cache, progress))
            mark(making / edition.build.slug)
        publish_archive([one.entry for one in published], making)
        return published
