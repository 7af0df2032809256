"""Reading and writing the German catalogue as text, and compiling it."""

import struct
from collections.abc import Iterator, Mapping
from pathlib import Path

from tests.german.texts import Text

PO = Path("app/resources/locale/de/LC_MESSAGES/countback.po")
MO = PO.with_suffix(".mo")
HEADER = (
    "Language: de\nMIME-Version: 1.0\nContent-Type: text/plain; charset=UTF-8\n"
    "Content-Transfer-Encoding: 8bit\nPlural-Forms: nplurals=2; plural=(n != 1);\n"
)
Catalogue = Mapping[Text, tuple[str, ...]]
"""German of each text: one form, or two where it has a plural."""

_ESCAPES = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
_PLAIN = {"\\": "\\", '"': '"', "n": "\n", "t": "\t"}
_MAGIC = 0x950412DE


def _quoted(text: str) -> str:
    lines = text.splitlines(keepends=True) or [""]
    written = [
        '"' + "".join(_ESCAPES.get(letter, letter) for letter in line) + '"' for line in lines
    ]
    return written[0] if len(written) == 1 else '""\n' + "\n".join(written)


def _unquoted(written: str) -> str:
    text, letters = "", iter(written.strip()[1:-1])
    for letter in letters:
        text += _PLAIN[next(letters)] if letter == "\\" else letter
    return text


def _entry(text: Text, german: tuple[str, ...], module: str) -> str:
    lines = [f"#: {module}"]
    if text.context:
        lines.append(f"msgctxt {_quoted(text.context)}")
    lines.append(f"msgid {_quoted(text.text)}")
    if text.many:
        lines.append(f"msgid_plural {_quoted(text.many)}")
        lines += [f"msgstr[{at}] {_quoted(form)}" for at, form in enumerate(german)]
    else:
        lines.append(f"msgstr {_quoted(german[0])}")
    return "\n".join(lines) + "\n"


def write_po(path: Path, catalogue: Catalogue, modules: Mapping[Text, str]) -> None:
    """Write the catalogue as text, module by module."""
    head = f'msgid ""\nmsgstr {_quoted(HEADER)}\n'
    order = sorted(catalogue, key=lambda text: (modules[text], text))
    entries = [_entry(text, catalogue[text], modules[text]) for text in order]
    path.write_text("\n".join([head, *entries]), encoding="utf-8")


def _fields(block: str) -> dict[str, str]:
    found: dict[str, str] = {}
    name = ""
    for line in block.splitlines():
        if line.startswith("#"):
            continue
        if not line.startswith('"'):
            name, _, line = line.partition(" ")
            found[name] = ""
        found[name] += _unquoted(line)
    return found


def _blocks(written: str) -> Iterator[dict[str, str]]:
    for block in written.split("\n\n"):
        fields = _fields(block)
        if fields.get("msgid"):
            yield fields


def read_po(path: Path) -> dict[Text, tuple[str, ...]]:
    """Read what was written; a text that stands there twice raises ValueError."""
    found: dict[Text, tuple[str, ...]] = {}
    for fields in _blocks(path.read_text(encoding="utf-8")):
        text = Text(
            context=fields.get("msgctxt", ""),
            text=fields["msgid"],
            many=fields.get("msgid_plural", ""),
        )
        if text in found:
            raise ValueError(f"twice: {text}")
        forms = [fields[name] for name in ("msgstr", "msgstr[0]", "msgstr[1]") if name in fields]
        found[text] = tuple(forms)
    return found


def compiled(catalogue: Catalogue) -> bytes:
    """Return the catalogue as the program reads it, without what has no German yet."""
    texts = {"": HEADER}
    for text, forms in catalogue.items():
        if all(forms):
            texts[text.key] = "\0".join(forms)
    entries = sorted((key.encode(), value.encode()) for key, value in texts.items())
    start = 28 + 16 * len(entries)
    tables, data = [b"", b""], b""
    for at in (0, 1):
        for entry in entries:
            tables[at] += struct.pack("<II", len(entry[at]), start + len(data))
            data += entry[at] + b"\0"
    head = struct.pack("<7I", _MAGIC, 0, len(entries), 28, 28 + 8 * len(entries), 0, start)
    return head + tables[0] + tables[1] + data
