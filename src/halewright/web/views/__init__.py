"""Translate a request, make one call, answer."""
