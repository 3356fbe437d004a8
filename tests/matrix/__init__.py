"""Who gets what from every address: the tables beside this file, tried by test_access_matrix.py.

A line is::

    url-name  METHOD  anonymous stranger volunteer coordinator organiser  [name=value …] [{json}]

An outcome is the status, or ``login`` for being sent to sign in. ``name=value`` sets a part of the
address that would else come from ``world.py``; the JSON is what is sent (to pages: as a form),
where ``$vera`` and the like stand for ids. Lines that are empty or begin with # say nothing. A
method that no line of an address names must be refused as not allowed.
"""
