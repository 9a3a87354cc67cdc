"""The real pages on a real port, in an own process: `python -m tests.fakes.site PORT [SETTINGS]`.

HALEWRIGHT_HOME must name an empty folder. Without SETTINGS a slow fake plans, so that a test can
watch its progress; with `halewright.web.settings` the real planner does.
"""

import os
import sys


def main() -> None:
    """Make the tables and serve until stopped."""
    named = sys.argv[2] if len(sys.argv) > 2 else "tests.browser_settings"
    os.environ["DJANGO_SETTINGS_MODULE"] = named
    import django

    django.setup()
    from cheroot import wsgi
    from django.core.management import call_command

    from halewright.web.wsgi import application

    call_command("migrate", verbosity=0)
    server = wsgi.Server(("127.0.0.1", int(sys.argv[1])), application, numthreads=30)
    server.prepare()
    print("ready", flush=True)
    server.serve()


if __name__ == "__main__":
    main()
