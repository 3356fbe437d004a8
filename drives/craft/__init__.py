"""The pure core: the geometry, the counts and the order of mitred squares.

Nothing here knows Django, a clock or a file; it imports only the standard library.
"""
