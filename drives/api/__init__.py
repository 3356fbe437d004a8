"""The REST API, version 1: loads through access, calls one action, shapes the answer.

``problems`` holds every code that an error can have, ``errors`` turns exceptions into them.
``shapes`` says what goes in and out, ``views`` has the calls.
"""
