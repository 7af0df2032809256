"""Whatever stands in a book, its drawing runs and fetches nothing: SVG 2, chapters 15 and 16."""

from collections import Counter
from xml.etree.ElementTree import fromstring

import pytest

from app.window.papers import jobs
from tests.app.exchange.planted import planted
from tests.app.exchange.scenes import give
from tests.app.window.papers.written import svgs

TEXTS = (
    "<script>alert(1)</script>", '"/><image href="//x"/>', "' onload='x", "]]><script/>", "<!--",
    "&lt;b&gt;", "<foreignObject>", "javascript:alert(1)", "<?xml-stylesheet href='x'?>", "&x;",
)  # fmt: skip

pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("texts", [TEXTS, (" ".join(TEXTS),)])
def test_a_text_makes_no_element_and_no_attribute_of_a_drawing(texts: tuple[str, ...]) -> None:
    usual = svgs(jobs.wall_job(give(planted(("plain",)))), "A3", is_across=True)
    spoiled = svgs(jobs.wall_job(give(planted(texts))), "A3", is_across=True)
    tags, names = Counter[str](), set[str]()
    for data in usual:
        for each in fromstring(data).iter():
            tags[str(each.tag)] += 1
            names.update(each.keys())

    assert tags.total() > 50
    for data in spoiled:
        for each in fromstring(data).iter():
            assert str(each.tag) in tags
            assert set(each.keys()) <= names
    assert not [name for name in names if name.startswith("on") or name.endswith("href")]
