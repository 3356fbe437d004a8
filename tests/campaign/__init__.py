"""``./dev campaign``: many people at once on a served site whose parts are killed meanwhile.

``acts`` are what people do, ``faults`` what befalls the site; ``book`` remembers every answer,
``life`` follows each square through the log, ``watch`` looks at the rows all the time.
"""
