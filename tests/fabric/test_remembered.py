"""What is kept for an object is never given for another one."""

from __future__ import annotations

from convert.fabric.remembered import remembered


def test_an_object_is_looked_over_once_and_an_equal_one_again() -> None:
    """Identity decides, since to compare trees takes as long as the work."""
    asked: list[tuple[int, ...]] = []

    @remembered
    def total(numbers: tuple[int, ...]) -> int:
        asked.append(numbers)
        return sum(numbers)

    one, other = (tuple(range(3)) for _ in range(2))
    assert [total(one), total(one), total(other)] == [3, 3, 3]
    assert 2 == len(asked)


def test_short_lived_objects_are_not_taken_for_each_other() -> None:
    """An object that is kept cannot hand its identity on to the next one."""

    @remembered
    def first(numbers: tuple[int, ...]) -> int:
        return numbers[0]

    assert all(first((n, 0)) == n for n in range(2000))
