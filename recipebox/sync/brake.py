"""The brake on what goes out: removals in this laptop's edits that nobody else has yet."""

from dataclasses import replace

from recipebox.history import History
from recipebox.sync.removal import OUT, Stopped, big_removal

LET_OUT, LET_IN = "let_out", "let_in"
"""Keys in the message of an edit that holds a person's answer to the brake."""


def removal_in_unsent(history: History) -> Stopped | None:
    """What this laptop's unsent edits would take away from the others, if it is so much that a person should look.

    What was only ever here (brought by the unsent edits themselves) does not count, nor what a person let through.
    """
    if history.own == history.sent:
        return None
    graph, store = history.graph, history.store
    unsent = graph.ancestors(_tips(history.own)) - graph.ancestors(_tips(history.sent))
    brought: set[str] = set()
    gone: set[str] = set()
    first: str | None = None
    for commit_id in graph.oldest_first(unsent):
        commit = history.commit(commit_id)
        if commit.message.laptop_id != history.box.laptop_id:
            continue
        if not commit.parents:
            brought.update(store.files(commit.tree))
            continue
        first = first or commit.parents[0]
        if LET_OUT in commit.message.facts:
            gone.clear()
        moved = commit.message.moves
        brought.update(new for old, new in moved.items() if old in brought)
        for path, (was, now) in store.changes(history.commit(commit.parents[0]).tree, commit.tree).items():
            if was and not now and path not in moved and path not in brought:
                gone.add(path)
            elif now and not was:
                gone.discard(path)
                if path not in moved.values():
                    brought.add(path)
    if not gone or first is None:
        return None
    texts = history.tree(first)
    before = [path for path in texts if path not in brought]
    stopped = big_removal(before, gone, lambda path: texts[path].read() if path in texts else b"")
    return stopped and replace(stopped, direction=OUT, laptops=(history.box.laptop,))


def _tips(commit_id: str | None) -> list[str]:
    return [] if commit_id is None else [commit_id]
