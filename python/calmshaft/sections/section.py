"""What all sections of a line file share."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A table of the file; unknown keys are refused."""

    model_config = ConfigDict(extra="forbid", strict=True, frozen=True)
