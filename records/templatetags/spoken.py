"""What a document holds as written, said in the reader's language."""

from django import template

from records.spoken import diluent_name, kind_of_licence, place_name

register = template.Library()
register.filter("place", lambda code: place_name(code or ""))
register.filter("a_licence", lambda written: kind_of_licence(written or ""))
register.filter("a_diluent", lambda written: diluent_name(written or ""))
