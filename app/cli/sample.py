"""`countback sample`: a book to try things on."""

from importlib.resources import files
from pathlib import Path

from app.cli.arguments import Asked, Usage
from app.cli.console import Console
from app.cli.run import MET
from app.words import shell
from app.words.language import WRITTEN_IN
from app.words.voice import Voice
from shared.errors import DiskError

SAMPLES = (
    *("small", "tight", "full", "impossible"),
    *("hollow", "foam-kept", "cast", "hard-coat", "repair"),
    *("crossing", "rush"),
)
_ENDING = ".countback"


def run(asked: Asked, console: Console) -> int:
    name, folder = asked.words[0], Path(asked.words[1])
    if name not in SAMPLES:
        raise Usage("unknown_sample", word=name, samples=", ".join(SAMPLES))
    voice = Voice()
    data = _in_words(voice, files("sample_jobs").joinpath(name + _ENDING).read_bytes())
    path = folder / (name + _ENDING)
    _put(path, data)
    console.say(voice.say(shell.SAMPLE_PUT, path=path))
    return MET


def _in_words(voice: Voice, data: bytes) -> bytes:
    """Return a sample with its names in the language; as it is where that is its own."""
    if voice.language == WRITTEN_IN:
        return data
    from app.words.brought import in_words
    from shared.files.read import read_book
    from shared.files.write import write_book

    book = read_book(data).book
    assert book is not None
    return write_book(in_words(voice, book))


def _put(path: Path, data: bytes) -> None:
    """Write a new file, never over another."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(data)
    except FileExistsError:
        raise DiskError("exists", path=str(path)) from None
    except OSError as trouble:
        facts = {"reason": trouble.strerror, "number": trouble.errno}
        raise DiskError("not_saved", path=str(path), **facts) from trouble
