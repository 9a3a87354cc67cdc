"""The tables: thin rows, constraints in the database, no rules."""

from django.db import models


class Organisation(models.Model):
    """Whose rows these are; every other row belongs to one."""

    name = models.CharField(max_length=200, unique=True)

    def __str__(self) -> str:
        """Return the name."""
        return self.name
