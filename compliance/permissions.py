"""Who may read the rules, and who may change the firm's own."""

import rules

from records.permissions import is_manager, is_member

rules.add_perm("compliance.view_rules", is_member)
rules.add_perm("compliance.edit_rules", is_manager)
