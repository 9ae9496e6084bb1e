"""The end of a long list, told by where it begins: a walk over a thousand nets holds one list and not a thousand."""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from typing import Generic, TypeVar, overload

T = TypeVar("T", bound=Hashable)


class Whole(Generic[T]):
    """A list without doubles, and where each of its members stands."""

    def __init__(self, listed: Sequence[T]) -> None:
        self.listed = tuple(listed)
        self.place = {one: number for number, one in enumerate(self.listed)}


class Rest(Sequence[T]):
    """What stands in a list from ``start`` on; equal to the tuple of the same."""

    __slots__ = ("start", "whole")

    def __init__(self, whole: Whole[T], start: int) -> None:
        self.whole, self.start = whole, min(start, len(whole.listed))

    def __len__(self) -> int:
        return len(self.whole.listed) - self.start

    def __contains__(self, one: object) -> bool:
        place: Mapping[object, int] = self.whole.place  # type: ignore[assignment]
        return place.get(one, -1) >= self.start

    def __iter__(self) -> Iterator[T]:
        listed = self.whole.listed
        return (listed[number] for number in range(self.start, len(listed)))

    @overload
    def __getitem__(self, at: int) -> T: ...
    @overload
    def __getitem__(self, at: slice) -> tuple[T, ...]: ...
    def __getitem__(self, at: int | slice) -> T | tuple[T, ...]:
        numbers = range(self.start, len(self.whole.listed))[at]
        if isinstance(numbers, int):
            return self.whole.listed[numbers]
        return tuple(self.whole.listed[number] for number in numbers)

    def __eq__(self, other: object) -> bool:
        if isinstance(other, Rest) and other.whole is self.whole:
            return other.start == self.start
        return isinstance(other, tuple | Rest) and tuple(self) == tuple(other)

    def __hash__(self) -> int:
        return hash(tuple(self))

    def __repr__(self) -> str:
        return repr(tuple(self))
