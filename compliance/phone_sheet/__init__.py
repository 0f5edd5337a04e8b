"""What a phone can tell by itself of one treatment, without a signal: limits in force and members to be stated.

Pure. The sheet is data made from the same rules as the check; the phone judges what was typed by it, and leaves
to the server whatever it can't tell.
"""

from compliance.phone_sheet.labels import label_limits
from compliance.phone_sheet.sheet import limits_and_musts

__all__ = ["label_limits", "limits_and_musts"]
