"""Where CI is set, hypothesis tries the same examples each time, so that a change is judged by itself and not by chance."""

import os

from hypothesis import settings

settings.register_profile("same each time", derandomize=True)
if os.environ.get("CI"):
    settings.load_profile("same each time")
