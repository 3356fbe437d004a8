#!/usr/bin/env python3
"""The site's command line: ``manage.py COMMAND``; ``manage.py help`` lists the commands."""

import os
import sys

from django.core.exceptions import ImproperlyConfigured
from django.core.management import execute_from_command_line


def main() -> None:
    """Run the command; a wrong setting ends it with one sentence and a non-zero exit code."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
    try:
        execute_from_command_line(sys.argv)
    except ImproperlyConfigured as problem:
        sys.exit(f"Mitrewise cannot start: {problem}")


if __name__ == "__main__":
    main()
