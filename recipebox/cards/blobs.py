"""The name of a file's bytes, alike on every laptop."""

import hashlib


def blob_id(data: bytes) -> str:
    """Git's name for a file's bytes: 40 hex digits."""
    return hashlib.sha1(b"blob %d\0" % len(data) + data, usedforsecurity=False).hexdigest()
