"""English dates with the hours of a day as the crew's form shows them, 16:05 and not 4:05 p.m."""

TIME_FORMAT = "H:i"
DATETIME_FORMAT = "N j, Y, H:i"
