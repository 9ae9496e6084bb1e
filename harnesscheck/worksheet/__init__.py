"""The worksheet: ring-out and power-up as one page for the phone that judges each reading while it is typed.

``groups`` says which readings stand on it, ``judge`` what a typed value means, ``page`` builds the page, ``script`` and
``style`` are what runs in it. What it saves is a readings file.
"""

from harnesscheck.worksheet.page import TooManyError, page

__all__ = ["TooManyError", "page"]
