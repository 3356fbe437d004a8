"""How a British reader writes days and times, where Django has no name for it.

The signs are those of the template filter ``date``. Every locale has all of these names; Django's
own (``DATE_FORMAT``, ``MONTH_DAY_FORMAT`` …) are as it knows them of the locale.
"""

LONG_DATE_FORMAT = "j F Y"
SHORT_MONTH_DAY_FORMAT = "j M"
WEEKDAY_FORMAT = "l, j F Y"
SHORT_WEEKDAY_FORMAT = "l, j M Y"
WEEKDAY_MONTH_DAY_FORMAT = "l, j F"
SENTENCE_DAY_FORMAT = "l j F"  # within a sentence: on Tuesday 17 November
MOMENT_FORMAT = "j F Y, H:i"
MONTH_DAY_TIME_FORMAT = "j F, H:i"
ZONE_FORMAT = "e"  # the clock that a moment is told by
