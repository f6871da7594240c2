"""Settings that the machines share."""

import os

import pytest


@pytest.fixture(autouse=True)
def disks_settle_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """These tests cut no power, so nothing need wait for a disk."""
    import pygit2

    monkeypatch.setattr(os, "fsync", lambda file: None)
    monkeypatch.setattr("recipebox.history.objects.settle_all", lambda folder: True)
    monkeypatch.setattr(type(pygit2.settings), "enable_fsync_gitdir", lambda self, value: None)
