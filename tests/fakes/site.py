"""The real pages on a real port, in an own process: `python -m tests.fakes.site PORT`.

HALEWRIGHT_HOME must name an empty folder.
"""

import os
import sys


def main() -> None:
    """Make the tables and serve until stopped."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.browser_settings"
    import django

    django.setup()
    from cheroot import wsgi
    from django.core.management import call_command

    from halewright.web.wsgi import application

    call_command("migrate", verbosity=0)
    server = wsgi.Server(("127.0.0.1", int(sys.argv[1])), application)
    server.prepare()
    print("ready", flush=True)
    server.serve()


if __name__ == "__main__":
    main()
