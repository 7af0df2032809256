"""A certificate in words: what it says, whether it could be followed, and where it fails."""

from typing import TYPE_CHECKING

from app.words import amounts
from app.words.amounts import Role
from app.words.facts import facts_in_words
from app.words.template import Template
from app.words.voice import capital
from shared.certificate import ProofBy

if TYPE_CHECKING:
    from app.words import Words
    from scheduler.check.certificate import Judged, Trouble
    from shared.certificate import Certificate

KEPT: Template = "The proof is kept in {path}. To follow it: countback check {book} {path}"
KEPT_SEARCH: Template = (
    "What was found is kept in {path}, as found by a search: nobody can follow it step by step."
)
NOTHING: Template = (
    "There is no proof to keep: nothing is proved of a miss, or the reason is written in the book."
)

SAYS: dict[ProofBy, Template] = {
    ProofBy.CHAIN: "The certificate says that {job} is loaded {late} late at least, since its "
    "steps come one after the other.",
    ProofBy.COUNTING: "The certificate says that {job} is loaded {late} late at least, since there "
    "are too few hours for its work.",
    ProofBy.SEARCH: "The certificate says that {job} is loaded late, by {late} at least, as a "
    "search found.",
}
HOLDS: dict[ProofBy, Template] = {
    ProofBy.CHAIN: "It holds: every step was worked out anew with everybody free, right after the "
    "one before it.",
    ProofBy.COUNTING: "It holds: the work and the hours were counted anew.",
}
NOT_REPLAYABLE: Template = "It can't be followed step by step: a search found it, not counting."
FAILS: Template = "It does not hold. {trouble}"
OTHER_BOOK: Template = "It was made from another state of the book."

TROUBLES: dict[str, Template] = {
    "no_job": "The book has no job {job}.",
    "loaded_later": "Loading may end later than {loaded_by} and still make the window.",
    "not_after": "{step} does not come right after the step before it, or can't be done at all.",
    "sooner": "{step} could end before {end}.",
    "cured_sooner": "{step} could be cured before {end}.",
    "no_chain": "It names nothing that loading has to wait for.",
    "less_late": "That comes to a lateness of {late_minutes} only.",
    "less_work": "Of {step} only {minutes} must lie in the stretch.",
    "enough_hours": "There is enough time: {there_minutes} for {wanted_minutes} of work.",
}


def says_line(words: "Words", certificate: "Certificate") -> str:
    """Give what a certificate says."""
    late = amounts.elapsed(words, certificate.late_minutes, Role.SPARE)
    job = words.names.of("job", certificate.job)
    return words.say(SAYS[certificate.by], job=job, late=late)


def judged_line(words: "Words", certificate: "Certificate", judged: "Judged") -> str:
    """Give whether it could be followed."""
    if not judged.replayable:
        return words.say(NOT_REPLAYABLE)
    if judged.holds:
        return words.say(HOLDS[certificate.by])
    return words.say(FAILS, trouble=trouble_line(words, judged.troubles[0]))


def trouble_line(words: "Words", trouble: "Trouble") -> str:
    """Give where it does not hold."""
    facts = facts_in_words(words, trouble.facts, words.zone, words.names)
    return capital(words.say(TROUBLES[trouble.code], **facts))
