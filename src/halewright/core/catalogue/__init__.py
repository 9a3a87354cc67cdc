"""Movements, their options and what they demand of a person."""
