"""Values as they travel between the window and its own child, and nowhere else."""

import base64
import binascii
import pickle

_NO_VALUE = (
    pickle.UnpicklingError,
    binascii.Error,
    EOFError,
    AttributeError,
    ImportError,
    LookupError,
    TypeError,
    ValueError,
    OverflowError,
)
"""What unpickling ends with of bytes that are no value."""


def as_text(value: object) -> str:
    """Give a value as it travels between the window and its own child: pickled, in ASCII."""
    return base64.b64encode(pickle.dumps(value)).decode()


def value_of(text: str) -> object:
    """Give the value of such a text; only ever of one that the other end of our own pipe wrote.

    Raises
    ------
    ValueError
        If it is none.
    """
    try:
        return pickle.loads(base64.b64decode(text))
    except _NO_VALUE as trouble:
        raise ValueError(str(trouble)) from trouble
