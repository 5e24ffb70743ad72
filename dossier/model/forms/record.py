"""What every record has: the place where it is written, and leave to keep it to fewer eyes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, ClassVar

from dossier.model.audience import Workshop
from dossier.model.fields import Rung
from dossier.model.problems import NOWHERE, Place


@dataclass(frozen=True, kw_only=True)
class Record:
    """One thing somebody wrote down. `audience` narrows it below what its form allows, never widens it."""

    __pydantic_config__: ClassVar[Any] = {"extra": "forbid", "arbitrary_types_allowed": True}

    written: Workshop[Place] = NOWHERE
    audience: Workshop[Rung | None] = None
    remark: Workshop[str | None] = None
    """A note for the workshop alone."""
