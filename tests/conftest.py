"""Fixtures that every test may ask for."""

from tests.browser import browser as browser
