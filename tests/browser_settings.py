"""The real settings, with a planner that answers at once, for a browser in tests."""

from halewright.web.settings import *  # noqa: F403  all of them

HALEWRIGHT_PLANNER = "tests.fakes.slow_planner"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
