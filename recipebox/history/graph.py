"""The shape of a history: who came before whom. Pure; `parents` gives the parents of a commit id.

`step` gives a number greater than that of all its parents, so that nothing need be looked for further back than that.
"""

from collections.abc import Callable, Collection, Iterable

Parents = Callable[[str], tuple[str, ...]]


class Graph:
    """Questions about the order of commits. Commits never change, so what was found is remembered."""

    def __init__(self, parents: Parents, step: Callable[[str], int] = lambda commit: 0) -> None:
        self._parents = parents
        self._step = step
        self._before: dict[frozenset[str], frozenset[str]] = {}

    def ancestors(self, tips: Iterable[str]) -> frozenset[str]:
        """The tips and all that came before any of them."""
        key = frozenset(tips)
        found = self._before.get(key)
        if found is None:
            seen: set[str] = set()
            todo = list(key)
            while todo:
                commit = todo.pop()
                if commit not in seen:
                    seen.add(commit)
                    todo.extend(self._parents(commit))
            if len(self._before) > 256:
                self._before.clear()
            found = self._before[key] = frozenset(seen)
        return found

    def shared(self, groups: Iterable[Iterable[str]]) -> frozenset[str]:
        """What came before every one of several groups of tips."""
        sets = [self.ancestors(group) for group in groups]
        return frozenset.intersection(*sets) if sets else frozenset()

    def maximal(self, commits: Collection[str]) -> tuple[str, ...]:
        """Those of the commits that came before no other of them, sorted."""
        if len(commits) < 2:
            return tuple(commits)
        first = min(map(self._step, commits))
        below: set[str] = set()
        todo = [parent for commit in commits for parent in self._parents(commit)]
        while todo:
            commit = todo.pop()
            if commit not in below and self._step(commit) >= first:
                below.add(commit)
                todo.extend(self._parents(commit))
        return tuple(sorted(set(commits) - below))

    def oldest_first(self, commits: Collection[str]) -> list[str]:
        """The commits in an order where each stands after all that came before it; ties by id, so alike everywhere."""
        import heapq

        wanted = set(commits)
        waiting = {commit: len(wanted.intersection(self._parents(commit))) for commit in wanted}
        children: dict[str, list[str]] = {}
        for commit in wanted:
            for parent in wanted.intersection(self._parents(commit)):
                children.setdefault(parent, []).append(commit)
        ready = [commit for commit, count in waiting.items() if not count]
        heapq.heapify(ready)
        order = []
        while ready:
            commit = heapq.heappop(ready)
            order.append(commit)
            for child in children.get(commit, ()):
                waiting[child] -= 1
                if not waiting[child]:
                    heapq.heappush(ready, child)
        return order

    def without(self, tips: Iterable[str], laid_aside: Collection[str]) -> frozenset[str]:
        """All before the tips, save what was laid aside and all that builds on it."""
        every = self.ancestors(tips)
        aside = set(laid_aside)
        kept = set()
        for commit in self.oldest_first(every):
            if commit in aside or any(parent in aside for parent in self._parents(commit)):
                aside.add(commit)
            else:
                kept.add(commit)
        return frozenset(kept)
