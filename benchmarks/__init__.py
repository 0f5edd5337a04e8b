"""Ratios against plain Python, side by side in one run (`make bench`). Never a test: they promise nothing."""

import os

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "project.settings")
