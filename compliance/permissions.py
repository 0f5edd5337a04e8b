"""Who may read checks and rules, and who may change the firm's own rules.

A check stays in the house: an inspector is shown records and their sheets, which state facts, no findings.
"""

import rules

from records.permissions import is_manager, is_member, plans

rules.add_perm("compliance.view_checks", plans)
rules.add_perm("compliance.view_rules", is_member)
rules.add_perm("compliance.edit_rules", is_manager)
rules.add_perm("compliance.file_reports", is_manager)
rules.add_perm("compliance.see_desk", is_manager)
