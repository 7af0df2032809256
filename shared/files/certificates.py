"""Certificates to bytes and back, with everything that is wrong in a file."""

from dataclasses import dataclass
from typing import cast

from shared.certificate import Certificate
from shared.files.codec import record_of
from shared.files.header import Newer, file_text, opened
from shared.files.json_text import read_json
from shared.files.notes import Notes
from shared.files.trouble import Broken
from shared.findings import Finding

KIND = "certificate"


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadCertificate:
    """What came of reading a certificate; as for a plan."""

    certificate: Certificate | None
    findings: tuple[Finding, ...] = ()
    newer: bool = False


def write_certificate(certificate: Certificate) -> bytes:
    """Give the canonical bytes of a certificate."""
    return file_text(record_of(Certificate), certificate, KIND, frozenset()).encode()


def read_certificate(data: bytes) -> ReadCertificate:
    """Read a certificate and everything that is wrong in it."""
    notes = Notes(None)
    found: Certificate | None = None
    newer = False
    try:
        tree = read_json(data)
        notes.root = tree
        root, kept = opened(tree, KIND, notes)
        found = cast("Certificate", record_of(Certificate).read(root, notes, kept))
    except Broken as trouble:
        newer = isinstance(trouble, Newer)
        notes.add_trouble(trouble)
    findings = notes.findings()
    stopped = any(finding.stops for finding in findings)
    return ReadCertificate(certificate=None if stopped else found, findings=findings, newer=newer)


def is_certificate(data: bytes) -> bool:
    """Return whether bytes say of themselves that they are a certificate."""
    try:
        tree = read_json(data)
    except Broken:
        return False
    header = tree.get("countback") if isinstance(tree, dict) else None
    return isinstance(header, dict) and header.get("kind") == KIND
