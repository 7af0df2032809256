"""The words of a PDF by its own bytes (ISO 32000-1: 7.3.10 objects, 9.4 text, 9.10 ToUnicode).

No reader of PDF is needed: what the writer says each of its glyphs stands for is looked up.
"""

import re
import zlib

_OBJECT = re.compile(rb"(?s)\n(\d+) 0 obj\n(.*?)\nendobj")
_STREAM = re.compile(rb"(?s)stream\r?\n(.*)\r?\nendstream")
_FONT = re.compile(rb"/(F\d+) (\d+) 0 R")
_SHOWN = re.compile(rb"/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)> Tj|(ET)")


def objects(data: bytes) -> dict[int, bytes]:
    """Return the objects of a PDF by number."""
    return {int(number): body for number, body in _OBJECT.findall(data)}


def boxes(data: bytes) -> list[tuple[float, float]]:
    """Return the sizes of all pages in points."""
    found = re.findall(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", data)
    return [(float(wide), float(high)) for wide, high in found]


def pages(data: bytes) -> list[list[str]]:
    """Return the texts of each page in the order in which they are painted."""
    known = objects(data)
    every = [body for body in known.values() if b"/Type /Page\n" in body]
    return [_texts(body, known) for body in every]


def _texts(page: bytes, known: dict[int, bytes]) -> list[str]:
    contents = re.search(rb"/Contents (\d+) 0 R", page)
    resources = re.search(rb"/Resources (\d+) 0 R", page)
    assert contents
    assert resources
    named = _FONT.findall(known[int(resources[1])])
    fonts = {name: _signs(known, known[int(number)]) for name, number in named}
    texts, text, font = [], "", {}
    for name, shown, over in _SHOWN.findall(_stream(known[int(contents[1])])):
        if name:
            font = fonts[name]
        elif shown:
            codes = [int(shown[at : at + 4], 16) for at in range(0, len(shown), 4)]
            text += "".join(font.get(code, "\N{REPLACEMENT CHARACTER}") for code in codes)
        elif over:
            texts.append(text)
            text = ""
    return texts


def _stream(body: bytes) -> bytes:
    found = _STREAM.search(body)
    assert found
    return zlib.decompress(found[1]) if b"/FlateDecode" in body else found[1]


def _signs(known: dict[int, bytes], font: bytes) -> dict[int, str]:
    """Return what each glyph of a font stands for."""
    number = re.search(rb"/ToUnicode (\d+) 0 R", font)
    assert number
    table = _stream(known[int(number[1])])
    signs = {}
    for block in re.findall(rb"(?s)beginbfrange\n(.*?)endbfrange", table):
        for first, last, rest in re.findall(rb"<(\w+)> <(\w+)> (\[[^\]]*\]|<\w+>)", block):
            start = int(first, 16)
            codes = [bytes.fromhex(each.decode()) for each in re.findall(rb"<(\w+)>", rest)]
            for at in range(int(last, 16) - start + 1):
                code = codes[at] if rest.startswith(b"[") else codes[0]
                plus = 0 if rest.startswith(b"[") else at
                signs[start + at] = _plus(code.decode("utf-16-be"), plus)
    for block in re.findall(rb"(?s)beginbfchar\n(.*?)endbfchar", table):
        for code, sign in re.findall(rb"<(\w+)> <(\w+)>", block):
            signs[int(code, 16)] = bytes.fromhex(sign.decode()).decode("utf-16-be")
    return signs


def _plus(sign: str, by: int) -> str:
    return sign[:-1] + chr(ord(sign[-1]) + by)


def inks(data: bytes) -> set[bytes]:
    """Return the colours that pages are filled and drawn in, as they stand."""
    known = objects(data)
    every = [body for body in known.values() if b"/Type /Page\n" in body]
    found: set[bytes] = set()
    for page in every:
        contents = re.search(rb"/Contents (\d+) 0 R", page)
        assert contents
        painted = _stream(known[int(contents[1])])
        found.update(re.findall(rb"([\d.]+ [\d.]+ [\d.]+) (?:scn|SCN)", painted))
    return found
