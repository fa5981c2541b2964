"""Units in words: lengths with their squares and cubes, and velocities. Whole phrases, as languages form them anew."""

from __future__ import annotations

from qbank.messages import Message, say

__all__ = ["cubic", "plain", "speed", "square"]


def plain(unit: str) -> Message | str:
    """A unit by itself; one that is not in the tables stands as the author wrote it."""
    return {
        "millimetres": say("millimetres"),
        "centimetres": say("centimetres"),
        "metres": say("metres"),
        "kilometres": say("kilometres"),
        "seconds": say("seconds"),
        "minutes": say("minutes"),
        "hours": say("hours"),
    }.get(unit, unit)


def square(unit: str) -> Message:
    """The unit of area.

    >>> square("metres")
    'square metres'
    """
    return {
        "millimetres": say("square millimetres"),
        "centimetres": say("square centimetres"),
        "metres": say("square metres"),
        "kilometres": say("square kilometres"),
    }[unit]


def cubic(unit: str) -> Message:
    """The unit of volume."""
    return {
        "millimetres": say("cubic millimetres"),
        "centimetres": say("cubic centimetres"),
        "metres": say("cubic metres"),
        "kilometres": say("cubic kilometres"),
    }[unit]


def speed(unit: str, time: str) -> Message:
    """The unit of velocity.

    >>> speed("metres", "seconds")
    'metres per second'
    """
    per = {
        "seconds": say("{length} per second", length=plain(unit)),
        "minutes": say("{length} per minute", length=plain(unit)),
        "hours": say("{length} per hour", length=plain(unit)),
    }
    return per[time]
