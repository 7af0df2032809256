"""A PDF as pypdf reads it: its words page by page, and all that is packed in it."""

import io
import re

from pypdf import PdfReader
from pypdf.generic import StreamObject


def page_texts(data: bytes) -> list[str]:
    """Return the words of each page, with single blanks between them."""
    return [flat(page.extract_text()) for page in PdfReader(io.BytesIO(data)).pages]


def flat(text: str) -> str:
    """Return a text with single blanks, however it was broken into lines."""
    return re.sub(r"\s+", " ", text).strip()


def streams(data: bytes) -> bytes:
    """Return every stream of a PDF unpacked, one after the other."""
    reader = PdfReader(io.BytesIO(data))
    found = [reader.get_object(number) for number in range(1, len(reader.xref[0]) + 1)]
    return b"\n".join(each.get_data() for each in found if isinstance(each, StreamObject))


def sizes(data: bytes) -> list[tuple[int, int]]:
    """Return the width and height of each page in points."""
    boxes = [page.mediabox for page in PdfReader(io.BytesIO(data)).pages]
    return [(round(box.width), round(box.height)) for box in boxes]
