"""The one field through which every health note passes: one place to encrypt it."""

from typing import Any

from django.db import models


class HealthText(models.TextField):  # type: ignore[type-arg]  # no subscript at run time
    """Text about somebody's health: stored plainly today, to be encrypted here and nowhere else.

    It is never searched, ordered or shown in an admin list; look-ups other than "is null" are
    refused so that no query comes to rely on reading it.
    """

    def get_lookup(self, lookup_name: str) -> Any:
        """Return only the look-ups that would still work on encrypted text."""
        return super().get_lookup(lookup_name) if lookup_name == "isnull" else None

    def get_transform(self, lookup_name: str) -> Any:
        """Return no transform: the database must not read the text."""
        return None if lookup_name else super().get_transform(lookup_name)

    def from_db_value(self, value: str | None, *_: object) -> str | None:
        """Return what is read from the row; the place to decrypt."""
        return value

    def get_prep_value(self, value: Any) -> Any:
        """Return what is written to the row; the place to encrypt."""
        return super().get_prep_value(value)
