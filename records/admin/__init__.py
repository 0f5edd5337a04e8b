"""The reference data pages, for managers; what is signed can be looked at there and not changed."""

from allauth.account.decorators import secure_admin_login
from django.contrib import admin
from django.utils.translation import gettext_lazy as _

from records.admin import audit, firms, members, people_near, reference, treatments

__all__ = ["audit", "firms", "members", "people_near", "reference", "treatments"]

admin.site.site_header = admin.site.site_title = _("Reference data")
admin.site.index_title = _("What treatments are planned from")
admin.site.login = secure_admin_login(admin.site.login)
