from datetime import date
from uuid import uuid4

from django.db import migrations

KEPT = ("title", "limits", "required", "in_force_from", "until")


def carry_over(apps, editor):
    """Each state that a firm's policies were in becomes a version of its own rules, in use from that moment."""
    get = apps.get_model
    database = editor.connection.alias
    past = get("compliance", "HistoricalFirmPolicy").across_firms.using(database)
    now = get("compliance", "FirmPolicy").across_firms.using(database)
    for firm in now.order_by().values_list("firm_id", flat=True).distinct():
        states, moments = {}, []
        for row in past.filter(firm_id=firm).order_by("history_date", "history_id"):
            if row.history_type == "-":
                states = {uuid: state for uuid, state in states.items() if uuid != row.uuid}
            else:
                states = states | {row.uuid: {name: getattr(row, name) for name in KEPT}}
            moments.append((row.history_date, states))
        keys = {}
        for version, (moment, state) in enumerate(moments, 1):
            rules = [rule for uuid, row in state.items() for rule in rules_of(uuid, row, keys)]
            save(apps, database, firm, version, moment, rules)


def save(apps, database, firm, version, moment, rules):
    made = apps.get_model("compliance", "OwnRules").across_firms.using(database).create(
        uuid=uuid4(), firm_id=firm, version=version, rules=rules, change="carried", at=moment
    )
    apps.get_model("compliance", "OwnRulesInUse").across_firms.using(database).create(
        firm_id=firm, version=made, since=moment
    )


def rules_of(uuid, row, keys):
    for number, limit in enumerate(row["limits"]):
        of = limit["of"].removesuffix("_min")
        bounds = {side: typed(limit[side]) for side in ("min", "max") if limit.get(side)}
        if not bounds:
            continue
        interval = of == "days_between"
        yield {
            "key": keys.setdefault((uuid, number), str(len(keys) + 1)),
            "title": row["title"],
            "why": "",
            "kind": "interval" if interval else "limit",
            "params": {"between": bounds} if interval else {"quantity": of, **bounds},
            "level": "required" if row["required"] else "advised",
            "start": day(row["in_force_from"]),
            "until": day(row["until"]),
            "join": "all",
            "rows": [],
            "examples": [],
        }


def typed(bound):
    return bound if isinstance(bound, str) else f"{bound['value']} {bound['unit']}"


def day(value):
    return value.isoformat() if isinstance(value, date) else ""


class Migration(migrations.Migration):

    dependencies = [
        ('compliance', '0005_own_rules'),
    ]

    operations = [
        migrations.RunPython(carry_over, migrations.RunPython.noop),
    ]
