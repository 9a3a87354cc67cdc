"""Renderers: from values to pictures and pages."""
