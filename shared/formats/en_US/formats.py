"""How an American reader writes days and times; see the British ones."""

LONG_DATE_FORMAT = "F j, Y"
SHORT_MONTH_DAY_FORMAT = "M j"
WEEKDAY_FORMAT = "l, F j, Y"
SHORT_WEEKDAY_FORMAT = "l, M j, Y"
WEEKDAY_MONTH_DAY_FORMAT = "l, F j"
SENTENCE_DAY_FORMAT = "l, F j"
MOMENT_FORMAT = "F j, Y, g:i a"
MONTH_DAY_TIME_FORMAT = "F j, g:i a"
ZONE_FORMAT = "e"  # the clock that a moment is told by
