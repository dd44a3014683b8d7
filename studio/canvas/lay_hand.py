"""The hand at the laying table: takes pieces, turns them, lays them down, puts them back."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum, auto
from typing import Protocol

from msgspec.structs import replace

from studio.canvas.gesture import Pointer
from studio.canvas.lay_scene import Key, LayScene, resting
from studio.cloth.by_hand import Hand
from studio.cloth.fault_words import troubles_of
from studio.cloth.lay_edit import placement_of, with_locks, with_placement, without_placement
from studio.curves import Point, Vector
from studio.design.cloth import Lay, Placement


class LayContext(Protocol):
    """What the hand sees of the window."""

    def begin_hand(self) -> None:
        """A piece is about to be moved: a running search is stopped and its best kept."""

    def take_lay(self, label: str, lay: Lay, merge: str = "") -> None:
        """One step: the lay as it is now."""

    def tell(self, sentence: str) -> None:
        """Say something to the maker; nothing with ""."""

    def picked(self) -> None:
        """Another piece was picked."""


class State(Enum):
    """What the hand is doing."""

    IDLE = auto()
    PRESSED = auto()
    HELD = auto()


class LayHand:
    """Answers the view. A drag changes nothing until the piece is let go."""

    def __init__(self, context: LayContext, scene: LayScene) -> None:
        self._context = context
        self._scene = scene
        self.state = State.IDLE
        self._hand: Hand | None = None
        self._pose = Placement("", 0, "", (0.0, 0.0))
        self._pressed_at = Point(0.0, 0.0)
        self._offset = Vector(0.0, 0.0)
        self._found: Placement | None = None
        self._over: str | None = None
        self._last: Pointer | None = None

    def press(self, pointer: Pointer) -> bool:
        """Pick the piece under the pointer."""
        key = self._scene.piece_at(pointer.at)
        self._pick(key)
        if key is None:
            return False
        self.state = State.PRESSED
        self._pressed_at = pointer.at
        return True

    def drag(self, pointer: Pointer) -> bool:
        """Move what is held; the first call lifts it."""
        if self.state is State.PRESSED and not self._lift():
            self.state = State.IDLE
        if self.state is not State.HELD:
            return False
        self._last = pointer
        self._seek(pointer)
        return True

    def drop(self, pointer: Pointer) -> bool:
        """Lay it down where it is shown; off all cloth it goes to the tray."""
        if self.state is not State.HELD:
            self.state = State.IDLE
            return False
        self._seek(pointer)
        key, found, over = self._key, self._found, self._over
        why = self._trouble(over) if found is None and over is not None else ""
        home = placement_of(self._scene.table.lay, *key)
        self._let_go()
        lay, name = self._scene.table.lay, self._scene.name_of(key)
        if found is not None and found != home:
            self._context.take_lay(f"Lay {name} on {found.stock}", with_placement(lay, found))
        elif found is None and over is None and home is not None:
            self._context.take_lay(f"Take {name} off the cloth", without_placement(lay, *key))
        self._context.tell(why)
        return True

    def click(self, _pointer: Pointer) -> bool:
        """A press that went nowhere has only picked."""
        self.state = State.IDLE
        return self._scene.picked is not None

    def hover(self, pointer: Pointer) -> str:
        """What a press here would take hold of: "grip" or nothing."""
        key = self._scene.piece_at(pointer.at)
        self._scene.hover(key)
        return "grip" if key is not None else ""

    def cancel(self) -> bool:
        """Escape, lost focus: what is held is where it was."""
        if self.state is not State.HELD:
            self.state = State.IDLE
            return False
        self._let_go()
        return True

    def cycle(self, step: int) -> bool:
        """Tab: pick the next piece."""
        keys = list(self._scene.table.items)
        if not keys or self.state is State.HELD:
            return False
        picked = self._scene.picked
        at = keys.index(picked) + step if picked in keys else (0 if step > 0 else len(keys) - 1)
        if not 0 <= at < len(keys):
            self._pick(None)
            return False
        self._pick(keys[at])
        return True

    def turn(self, steps: int) -> bool:
        """To the next turn it may have."""
        return self._changed("Turn", lambda hand, pose: hand.turned(pose, steps=steps))

    def turn_fine(self, degrees: float) -> bool:
        """By some degrees, as far as its tolerance."""
        return self._changed(
            "Turn", lambda hand, pose: hand.turned(pose, fine=degrees), merge="turn"
        )

    def flip(self) -> bool:
        """Face down or up, where both sides of the cloth are good."""
        return self._changed("Flip", lambda hand, pose: hand.flipped(pose))

    def lock(self) -> bool:
        """Leave it where it is in every later search, or no longer."""
        key = self._scene.picked
        laid = None if key is None else placement_of(self._scene.table.lay, *key)
        if key is None or laid is None or self.state is State.HELD:
            return False
        self._context.begin_hand()
        name, locked = self._scene.name_of(key), not laid.locked
        lay = with_locks(self._scene.table.lay, [key], locked)
        self._context.take_lay(f"{'Lock' if locked else 'Unlock'} {name}", lay)
        return True

    def delete(self) -> bool:
        """Back to the tray."""
        key = self._scene.picked
        if key is None or self.state is State.HELD or not self._may_move(key):
            return False
        self._context.begin_hand()
        lay = self._scene.table.lay
        if placement_of(lay, *key) is None:
            return False
        name = self._scene.name_of(key)
        self._context.take_lay(f"Take {name} off the cloth", without_placement(lay, *key))
        return True

    def lock_all(self, locked: bool) -> bool:
        """Lock every piece where it lies, or none."""
        lay = self._scene.table.lay
        keys = [(one.piece, one.copy) for one in lay.placements if one.locked != locked]
        if not keys or self.state is State.HELD:
            return False
        self._context.begin_hand()
        words = "Lock all pieces" if locked else "Unlock all pieces"
        self._context.take_lay(words, with_locks(self._scene.table.lay, keys, locked))
        return True

    def clear(self) -> bool:
        """All that is not locked back to the tray."""
        lay = self._scene.table.lay
        if self.state is State.HELD or all(one.locked for one in lay.placements):
            return False
        self._context.begin_hand()
        lay = self._scene.table.lay
        kept = tuple(one for one in lay.placements if one.locked)
        self._context.take_lay("Take all pieces off the cloth", replace(lay, placements=kept))
        return True

    def pick_at(self, place: Point) -> bool:
        """Pick the piece under a place; False, and none picked, when there is none."""
        self._pick(self._scene.piece_at(place))
        return self._scene.picked is not None

    def nudge(self, right: int, up: int, step: float) -> bool:
        """By an arrow key, as far as there is room."""
        key = self._scene.picked
        if key is None or self.state is State.HELD or not self._may_move(key):
            return False
        self._context.begin_hand()
        laid = placement_of(self._scene.table.lay, *key)
        if laid is None or laid.stock not in self._scene.table.beds:
            return False
        middle = self._scene.to_table(laid.stock, laid.at) + Vector(right * step, up * step)
        wanted = self._scene.to_stock(laid.stock, middle)
        found = Hand(self._scene.table, laid).over(laid.stock, laid, wanted)
        name = self._scene.name_of(key)
        if found is None or found == laid:
            self._context.tell(f"There is no room for {name} that way.")
            return False
        lay = with_placement(self._scene.table.lay, found)
        self._context.take_lay(f"Move {name}", lay, merge=f"nudge {key[0]} {key[1]}")
        return True

    @property
    def _key(self) -> Key:
        return self._pose.piece, self._pose.copy

    def _pick(self, key: Key | None) -> None:
        if key != self._scene.picked:
            self._scene.pick(key)
            self._context.picked()

    def _may_move(self, key: Key) -> bool:
        laid = placement_of(self._scene.table.lay, *key)
        if laid is not None and laid.locked:
            name = self._scene.name_of(key)
            self._context.tell(f"{name} is locked; L unlocks it.")
            return False
        return True

    def _lift(self) -> bool:
        """Take the picked piece up, unless it is locked."""
        key = self._scene.picked
        if key is None or not self._may_move(key):
            return False
        self._context.begin_hand()
        item = self._scene.table.items.get(key)
        if item is None:
            return False
        laid = next((one for one in self._scene.table.laid if (one.piece, one.copy) == key), None)
        self._pose = laid if laid is not None else resting(item)
        lifted = self._pose if laid is not None else replace(self._pose, stock="")
        self._hand = Hand(self._scene.table, lifted)
        self._offset = self._scene.middle_of(key) - self._pressed_at
        self.state = State.HELD
        return True

    def _seek(self, pointer: Pointer) -> None:
        """Find where the piece may lie and show it there."""
        hand = self._hand
        assert hand is not None
        middle = pointer.at + self._offset
        self._over = self._scene.stock_at(pointer.at) or self._scene.stock_at(middle)
        self._found = None
        over = self._over
        if over is not None and hand.may_lie_on(over):
            wanted = self._scene.to_stock(over, middle)
            if pointer.alt:
                self._found = hand.insisted(over, self._pose, wanted)
            else:
                self._found = hand.over(over, self._pose, wanted)
        if self._found is not None:
            self._pose = replace(self._pose, stock=self._found.stock)
        self._show(middle, insisted=pointer.alt)

    def _show(self, middle: Point, *, insisted: bool) -> None:
        over, found = self._over, self._found
        trouble = self._trouble(over) if found is None and over is not None else ""
        if found is not None and insisted:
            table = self._scene.table
            lifted = table.with_lay(with_placement(table.lay, found))
            trouble = troubles_of(lifted, self._scene.name_of).get(self._key, "")
        self._scene.show_held(self._key, found, self._pose, middle, trouble)
        self._scene.show_over(over if found is not None else None, tray=over is None)
        self._context.tell(trouble)

    def _trouble(self, over: str | None) -> str:
        """Why a piece held over a cloth cannot be laid there."""
        name = self._scene.name_of(self._key)
        if self._hand is not None and over is not None and not self._hand.may_lie_on(over):
            return f"{name} is not cut from {over}."
        return f"There is no room for {name} on {over} turned so. Alt lays it all the same."

    def _let_go(self) -> None:
        """What is held is shown where the lay has it."""
        self.state = State.IDLE
        self._hand, self._found, self._over, self._last = None, None, None, None
        self._scene.show_over(None)
        self._context.tell("")
        self._scene.show_lay(self._scene.table, self._scene.troubles)

    def _changed(
        self, label: str, change: Callable[[Hand, Placement], Placement], merge: str = ""
    ) -> bool:
        """Change the pose of what is held, or of the picked piece where it lies."""
        if self.state is State.HELD:
            assert self._hand is not None
            self._pose = change(self._hand, self._pose)
            if self._last is not None:
                self._seek(self._last)
            return True
        key = self._scene.picked
        if key is None or not self._may_move(key):
            return False
        self._context.begin_hand()
        table, name = self._scene.table, self._scene.name_of(key)
        laid = next((one for one in table.laid if (one.piece, one.copy) == key), None)
        if laid is None:
            return False
        hand = Hand(table, laid)
        posed = change(hand, laid)
        if posed == laid:
            self._context.tell(f"{name} may not lie otherwise on {laid.stock}.")
            return False
        found = hand.over(laid.stock, posed, laid.at)
        if found is None:
            self._context.tell(f"There is no room for {name} turned so.")
            return False
        merged = f"{merge} {key[0]} {key[1]}" if merge else ""
        self._context.take_lay(f"{label} {name}", with_placement(table.lay, found), merged)
        return True
