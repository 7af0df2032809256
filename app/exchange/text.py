"""Text from a book, made fit to stand in other programs' files. No Qt."""

_CONTROLS = {code: None for code in (*range(0x20), 0x7F, *range(0x80, 0xA0)) if code not in (9, 10)}
_REPLACED = {**_CONTROLS, **dict.fromkeys((*range(0xD800, 0xE000), 0xFFFE, 0xFFFF), "�")}


def plain(text: str) -> str:
    """Return a text without control characters, which XML 1.0 and RFC 5545 don't let in."""
    return text.replace("\r\n", "\n").replace("\r", "\n").translate(_REPLACED)
