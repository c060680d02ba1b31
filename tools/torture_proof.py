"""What must be true after each kill: all that was acknowledged, no code twice, no half file, a record that checks."""

from __future__ import annotations

from collections.abc import Sequence

from torture_shop import Shop

from labeltool.coding.shape import code_key
from labeltool.records.store import Store, open_store


class Broken(AssertionError):
    """Something was lost, doubled or left half done."""


class Proof:
    """What was true so far, held against what is true now."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.kept: set[str] = set()
        with open_store(shop.record) as store:
            self.hashes = [event.hash for event in store.events()]

    def after(self, words: Sequence[str], key: str, *, acknowledged: bool) -> bool:
        """Prove the record after a command; returns whether it holds the command's work."""
        with open_store(self.shop.record) as store:
            self._grown(store)
            self._codes(store)
            known = store.once(key)
        done = known is not None and known.done
        if acknowledged and not done:
            raise Broken(f"labeltool {' '.join(words)} was acknowledged, and {key} is not on record")
        if done:
            self.kept.add(key)
        self.checks()
        return done

    def checks(self) -> None:
        """Prove that `records check` is clean, and that no file lies under a name it has no right to."""
        code, out, err = self.shop.run("records", "check")
        if code or not out.endswith("the record is sound\n"):
            raise Broken(f"records check: exit {code}: {out}{err}")
        for path in (self.shop.folder / "prints").iterdir():
            if path.suffix != ".pdf" and path.name != ".unfinished":
                raise Broken(f"{path.name} lies in prints")

    def whole(self) -> None:
        """Prove once more, at the end, that all that was acknowledged is there."""
        with open_store(self.shop.record) as store:
            lost = [key for key in self.kept if not getattr(store.once(key), "done", False)]
        if lost:
            raise Broken(f"lost: {lost}")
        self.checks()

    def codes(self, told: Sequence[str], count: int) -> None:
        """Prove that each code told is on record, and that no two are one."""
        with open_store(self.shop.record) as store:
            missing = set(told) - set(store.all_codes())
            self._codes(store)
        if missing or len(told) != count or len({code_key(code) for code in told}) != count:
            raise Broken(f"{count} batches opened, {len(told)} codes told, {len(set(told))} distinct, {missing} lost")

    def _grown(self, store: Store) -> None:
        """Every event seen before is there, unchanged and in its place."""
        hashes = [event.hash for event in store.events()]
        if hashes[: len(self.hashes)] != self.hashes:
            raise Broken(f"events changed: {len(self.hashes)} before, {len(hashes)} now")
        self.hashes = hashes

    def _codes(self, store: Store) -> None:
        keys = [code_key(code) for code in store.all_codes()]
        if len(set(keys)) != len(keys):
            raise Broken(f"a code was used twice: {sorted(keys)}")
