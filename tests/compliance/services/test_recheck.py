"""A whole register checked again by the packs of another day: resumable, and nothing stored is changed."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
import time_machine
from django.core.management import call_command
from django.db import connection

from compliance import rechecking
from compliance.models import CheckContext, PackVersion, Recheck, RecheckResult, StoredCheck
from compliance.pack_reader import registered_packs
from compliance.services import pack_keeping, recheck, recheck_basis
from compliance.services.after_signing import void_treatment
from compliance.services.recheck import TakenUpElsewhereError, begin, go_on, summary, unfinished
from compliance.services.recheck_basis import STORED, TODAY
from records.services.planning import plan_treatment
from shared.canonical import canonical_bytes
from shared.digests import digest
from tests.compliance.own import CALM, use_own
from tests.compliance.two_laws import EVENING, FIRST, LATER, SECOND, sign
from tests.factories import PASSWORD


@pytest.fixture
def register(firm, member, plan, done, install) -> list[StoredCheck]:
    """Three signed records of one firm, checked by the first version of a law."""
    install(FIRST)
    with time_machine.travel(EVENING, tick=False):
        sign(done, member.user)
        for days in (1, 2):
            treatment = plan_treatment(
                firm, member.user, replace(plan, planned_at=plan.planned_at - timedelta(days=days))
            )
            sign(treatment, member.user)
    return list(StoredCheck.objects.for_firm(firm).order_by("treatment_id"))


def run(firm, packs_of: str = TODAY, **asked) -> Recheck:
    with time_machine.travel(LATER, tick=False):
        made = begin(firm, packs_of, **asked)
        assert [step.done for step in go_on(made)][-1:] == [made.total][: made.total]
        return made


def test_by_the_packs_that_each_check_names_the_same_bytes_come_out(firm, register, install):
    install(SECOND)
    made = run(firm, STORED)
    results = RecheckResult.objects.for_firm(firm).order_by("base__treatment_id")
    assert [each.digest for each in results] == [each.digest for each in register]
    assert [each.stored for each in results] == [each.stored for each in register]
    assert summary(made) == recheck.Summary(records=3, differ=0, whole_differs=0, failed=0)


def test_by_todays_packs_what_differs_is_counted_and_stored_once(firm, register, install):
    install(SECOND)
    before = [(each.pk, each.digest, bytes(each.body)) for each in register]
    made = run(firm)
    assert summary(made).differ == 3
    for result in RecheckResult.objects.for_firm(firm).filter(run=made):
        assert digest(canonical_bytes(result.stored)) == result.digest
        assert [each["version"] for each in result.stored["packs"]] == ["2"]
        assert len(bytes(result.body)) < len(bytes(result.base.body))
    after = StoredCheck.objects.for_firm(firm).order_by("treatment_id")
    assert [(each.pk, each.digest, bytes(each.body)) for each in after] == before


def test_by_the_packs_of_a_day_before_the_change_nothing_differs(firm, register, install):
    install(SECOND)
    with time_machine.travel(EVENING + timedelta(days=30), tick=False):
        pack_keeping.note_packs_in_use()
    assert summary(run(firm, "2026-09-20")).differ == 0
    assert summary(run(firm, "2026-10-20")).differ == 3


def test_a_policy_of_the_firm_counts_as_it_stood_on_the_day_of_the_packs(firm, register):
    with time_machine.travel(EVENING + timedelta(days=30), tick=False):
        use_own(firm, replace(CALM, start="2026-09-01"))
    assert summary(run(firm, "2026-09-20")).differ == 0
    assert summary(run(firm)).differ == 3


def test_only_treatments_of_the_days_asked_for_are_taken_and_none_void(firm, colleague, register):
    assert run(firm, day_from=date(2026, 9, 13), day_until=date(2026, 9, 13)).total == 1
    void_treatment(register[0].treatment, colleague.user, PASSWORD, "wrong house")
    assert run(firm).total == 2


def test_a_run_that_was_broken_off_goes_on_where_it_was(firm, register, monkeypatch):
    monkeypatch.setattr(recheck, "AT_ONCE", 1)
    broken = begin(firm, TODAY)
    next(go_on(broken))
    found = unfinished(firm, TODAY)
    assert found == broken
    assert [step.done for step in go_on(found)] == [2, 3]
    assert unfinished(firm, TODAY) is None
    bases = RecheckResult.objects.for_firm(firm).values_list("base", flat=True)
    assert sorted(bases) == sorted(each.pk for each in register)


def test_a_run_goes_by_the_packs_with_which_it_began(firm, register, install, monkeypatch):
    monkeypatch.setattr(recheck, "AT_ONCE", 1)
    broken = begin(firm, TODAY)
    next(go_on(broken))
    install(SECOND)
    assert len(list(go_on(unfinished(firm, TODAY)))) == 2
    assert summary(broken).differ == 0


def test_two_processes_cannot_take_up_one_run(firm, register, monkeypatch):
    monkeypatch.setattr(recheck, "AT_ONCE", 1)
    mine = begin(firm, TODAY)
    theirs = unfinished(firm, TODAY)
    next(go_on(theirs))
    with pytest.raises(TakenUpElsewhereError):
        list(go_on(mine))
    assert RecheckResult.objects.for_firm(firm).count() == 1


def test_several_processes_find_the_same(firm, register, install, monkeypatch):
    install(SECOND)
    monkeypatch.setattr(recheck, "AT_ONCE", 1)
    alone = begin(firm, TODAY)
    list(go_on(alone))
    together = begin(firm, TODAY)
    assert [step.done for step in go_on(together, processes=2)] == [1, 2, 3]
    results = RecheckResult.objects.for_firm(firm).order_by("base__treatment_id")
    found = [list(results.filter(run=each).values_list("base", "digest")) for each in (alone, together)]
    assert found[0] == found[1]


def test_a_check_whose_pack_was_not_kept_is_told_and_the_others_go_on(firm, register, monkeypatch):
    named = register[0].stored["packs"][0]
    monkeypatch.setattr(recheck_basis, "all_kept", lambda firm: [])
    made = run(firm, STORED)
    assert summary(made).failed == 3
    result = RecheckResult.objects.for_firm(firm).first()
    assert result.stored is None
    assert result.fault["en"] == f"The rule pack xx 1 ({named['digest']}) was not kept."


def test_a_fault_of_ours_in_one_record_does_not_end_the_run(firm, register, monkeypatch):
    def fail(*args):
        raise RuntimeError("broken")

    monkeypatch.setattr(rechecking, "make_again", fail)
    assert summary(run(firm)).failed == 3


def test_an_erased_context_is_gathered_anew(firm, register):
    """That of the first day's record, before which nothing was treated, comes out as it was."""
    first = min(register, key=lambda check: check.treatment.day)
    CheckContext.objects.for_firm(firm).filter(check_made=first).delete()
    assert summary(run(firm)) == recheck.Summary(records=3, differ=0, whole_differs=0, failed=0)


def exit_code(*args: str) -> int:
    with pytest.raises(SystemExit) as ended, time_machine.travel(LATER, tick=False):
        call_command("recheck_treatments", *args)
    return ended.value.code


def test_the_command_says_how_many_would_differ_and_how(firm, register, install, capsys):
    install(SECOND)
    assert exit_code("--firm", str(firm.pk), "--compare") == 1
    said = capsys.readouterr()
    assert "3 of 3 would come out differently; in" in said.out
    assert f"{register[0].treatment.number}\n" in said.out
    assert "  - Invented law: version 1 before, 2 now." in said.out
    assert said.err.splitlines()[-1] == "3 of 3 checked."


def test_the_command_speaks_spanish_and_ends_with_0_if_all_is_the_same(firm, register, capsys):
    assert exit_code("--packs-of", "stored", "--language", "es") == 0
    assert "0 de 3 saldrían de otro modo" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("args", "says"),
    [
        (["--resume"], "There is no such run that has not come to its end."),
        (["--packs-of", "2020-01-01"], "No rule packs are kept of 2020-01-01; the first day is 2026-09-14."),
        (["--firm", "00000000-0000-4000-8000-000000000000"], "There is no such firm."),
    ],
)
def test_what_cannot_be_run_ends_with_2(firm, register, capsys, args, says):
    assert exit_code(*args) == 2
    assert capsys.readouterr().err.splitlines() == [says]


def test_the_command_goes_on_with_a_run_of_its_kind(firm, register, capsys, monkeypatch):
    monkeypatch.setattr(recheck, "AT_ONCE", 2)
    next(go_on(begin(firm, TODAY)))
    assert exit_code("--packs-of", "stored", "--resume") == 2
    assert exit_code("--resume") == 0
    assert "Going on after 2." in capsys.readouterr().err
    assert RecheckResult.objects.for_firm(firm).count() == 3


def test_each_pack_of_a_stored_check_is_kept(firm, register):
    assert PackVersion.objects.get(pack="xx").version == "1"
    assert not PackVersion.objects.filter(pack__in=[one.id for one in registered_packs()]).exists()


def test_each_step_is_read_along_an_index_and_not_sorted_out_of_the_whole_register(firm, register):
    kept = Recheck.objects.for_firm(firm).get(pk=begin(firm, TODAY).pk)
    kept.reached = register[0].treatment_id
    with connection.cursor() as cursor:
        if connection.vendor == "postgresql":
            cursor.execute("SET LOCAL enable_seqscan = off; SET LOCAL enable_sort = off")
        plan = recheck._treatments(kept, kept.reached)[: recheck.AT_ONCE].explain()
    assert "treatment_by_key" in plan
    assert "TEMP B-TREE" not in plan
