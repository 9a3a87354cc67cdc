"""Readers and writers of text and spreadsheets; every problem is listed at once."""
