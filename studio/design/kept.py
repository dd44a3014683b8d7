"""What all that a project file keeps has in common."""

from __future__ import annotations

import msgspec


class Kept(msgspec.Struct, frozen=True, cache_hash=True, forbid_unknown_fields=True):
    """A value that a project file keeps: it never changes, a field no one knows is refused, and it
    is added up once to be found again (`memo.remembered` reads many at every step of a drag).
    """
