"""What is said of cautions: numbers, source and who decides, and never that all is well."""

from decimal import Decimal

import pytest

from app.words import Words
from app.words import cautions as say
from shared.book import Act, Kind, LegKind, Purpose
from shared.cautions import Caution, caution_ids, cautions_of
from shared.ids import PlaceId
from tests.app.catalogue import facts_of
from tests.builders import a_book, a_job, a_journey, a_leg, a_place, a_segment, a_stage


def every_caution() -> dict[str, Caution]:
    tall = a_segment("torso", height_m=Decimal(3))
    skin = a_stage("skin", Kind.LAMINATE, cure_hours=48)
    work = a_stage("work", Kind.LAMINATE, does=tuple(Act), cure_hours=48)
    ship = a_journey(legs=tuple(a_leg(kind) for kind in LegKind))
    job = a_job(steps=(skin, work, ship), segments=(tall,), purposes=tuple(Purpose))
    book = a_book(job)
    return {each.id: each for step in job.steps for each in cautions_of(book, job, step)}


CAUTIONS = every_caution()


def test_every_caution_has_a_sentence_and_no_sentence_is_left_over() -> None:
    assert set(say.SENTENCES) == set(say.NAMES) == set(caution_ids()) == set(CAUTIONS)


@pytest.mark.parametrize("caution", sorted(say.SENTENCES))
def test_a_caution_is_said_with_the_facts_it_has(caution: str) -> None:
    found = CAUTIONS[caution]
    said = say.whole(Words("en"), found)

    assert facts_of(say.SENTENCES[caution]) == set(dict(found.facts))
    assert "…" not in said
    assert found.source in said


@pytest.mark.parametrize("caution", sorted(say.SENTENCES))
def test_a_caution_leaves_the_word_to_those_who_decide(caution: str) -> None:
    said = say.whole(Words("en"), CAUTIONS[caution])

    assert said.endswith(
        "What local codes, the product's data sheet and licensed people say comes before all of "
        "this."
    )


def test_a_source_that_was_not_read_again_says_so() -> None:
    words = Words("en")

    assert say.source(words, CAUTIONS["vibration"]).startswith("Source, from memory: UK Control")
    assert say.source(words, CAUTIONS["styrene_cure"]) == "Source: common practice, no source."


def test_the_place_of_the_cure_is_named() -> None:
    words = Words("en", book=a_book(places=(a_place("bay"), a_place("hall"))))
    cure = Caution(id="styrene_cure", source="", places=(PlaceId("bay"), PlaceId("hall")))

    assert say.sentence(words, cure).endswith("Here that is Bay and Hall.")


def test_in_a_few_words() -> None:
    found = [CAUTIONS["styrene"], CAUTIONS["no_flame"]]

    assert say.names_line(Words("en"), found) == "Mind: styrene, no flame or spark."
