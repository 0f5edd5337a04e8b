"""All papers that wait are printed as one, by the walk, page for page as they are stored."""

from io import BytesIO
from uuid import UUID

import pytest
from django.urls import reverse
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from records.models import Notice
from records.outbox.piece import Attachment
from records.outbox.queueing import queue
from tests.factories import MembershipFactory, NeighbourFactory
from tests.records.outbox.pieces import piece

pytestmark = pytest.mark.django_db
WALK = {"Lark": 3, "Wren": 1, "Fink": 2}


def drawn(words: str) -> Attachment:
    out = BytesIO()
    canvas = Canvas(out, invariant=1)
    canvas.drawString(72, 720, words)
    canvas.save()
    return Attachment(f"{words}.pdf", "application/pdf", out.getvalue())


@pytest.fixture
def papers(draft, member, before, waiting):
    """Letters to Lark and Fink, a card for Wren's door, and an e-mail."""
    rows = {name: UUID(int=walk) for name, walk in WALK.items()}
    for name, walk in WALK.items():
        NeighbourFactory(firm=draft.firm, site=draft.site, uuid=rows[name], name=name, walk=walk)
    means = {"Lark": "letter", "Wren": "door", "Fink": "letter"}
    pieces = [
        piece(name=name, means=means[name], neighbour=row, attachments=(drawn(f"To {name}"),))
        for name, row in rows.items()
    ]
    queue(draft, [*pieces, piece()], member.user)
    return draft


def states(treatment) -> dict[str, str]:
    return {one.name: one.state for one in Notice.objects.for_firm(treatment.firm)}


def printed(client, treatment, **posted):
    return client.post(reverse("print_papers", kwargs={"uuid": treatment.pk}), posted)


@pytest.fixture
def office(client, firm):
    client.force_login(MembershipFactory(firm=firm, role="office", user__name="O. Fice").user)
    return client


def said(answer) -> list[str]:
    return [page.extract_text().strip() for page in PdfReader(BytesIO(answer.content)).pages]


def test_letters_come_first_then_door_cards_each_by_the_walk(office, papers):
    assert said(printed(office, papers)) == ["To Fink", "To Lark", "To Wren"]


def test_they_are_printed_from_then_on_and_no_paper_waits_any_more(office, papers):
    printed(office, papers)
    assert states(papers) == {"Fink": "printed", "Lark": "printed", "Wren": "printed", "P. Sandoval": "ready"}
    assert printed(office, papers)["Location"].endswith("/notices/sent/")


def test_what_was_printed_can_be_printed_again(office, papers):
    first = printed(office, papers)
    assert said(printed(office, papers, again="yes")) == said(first)


def test_a_stranger_prints_nothing(client, stranger, papers):
    client.force_login(stranger.user)
    assert printed(client, papers).status_code == 404
    assert states(papers)["Fink"] == "ready"
