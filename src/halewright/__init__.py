"""Plan and run safe chair-and-band strength sessions for older adults."""

__version__ = "0.1.0"
