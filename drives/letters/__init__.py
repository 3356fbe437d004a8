"""E-mails that the site writes by itself.

``schedule`` knows when which is due, ``content`` and ``monday`` what it says, ``post`` how it
leaves; ``tasks`` are what the clock and the workers call.
"""
