"""The pages that the main window shows over its rooms: how each is made and what its signals ask of the asks.

A page's module is imported when the page is first wanted, so that the window opens without it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from .overlays import MakePage
from .room import Desk

if TYPE_CHECKING:
    from ..tagging.model import Angle


@dataclass(frozen=True)
class PageRequests:
    """What pages ask of the window around them."""

    act: Callable[[str], object]                                    # an action of the table
    choose_more_footage: Callable[[], object]
    find_footage: Callable[[], object]
    add_angle: Callable[[list[Path], Angle], object]
    match_again: Callable[[int], object]                            # the angle
    see_play: Callable[..., object]                                 # the play, and two angles if they are chosen
    lighten: Callable[..., object]                                  # sources, and what to do when it is done
    unlighten: Callable[..., object]                                # the same; None for every film's
    show_plays: Callable[[list[int], str], object]                  # in the Sequence room, with the words for them


def page_makers(desk: Desk, asks: PageRequests) -> dict[str, MakePage]:
    """How each page is made, by the last part of the action that shows it."""
    def page(module: str, name: str, *given: object, **wants: Callable[..., object]) -> MakePage:
        """Makes a page of the class *name* out of what it is *given*; its signals call what it *wants*."""
        def make() -> QWidget:
            made = getattr(import_module(f".{module}", __package__), name)(*given)
            for signal, ask in wants.items():
                getattr(made, signal).connect(ask)
            return made
        return make

    return {
        "keys": page("keypage", "KeyPage", desk.keys),
        "files": page("footage_page", "FootagePage", desk.keys, more_wanted=asks.choose_more_footage,
                      search_wanted=asks.find_footage, lighter_wanted=asks.lighten, lighter_unwanted=asks.unlighten),
        "add_angle": page("angle_page", "AnglePage", added=asks.add_angle),
        "matching": page("matching_page", "MatchingPage", desk, again=asks.match_again, see=asks.see_play),
        "compare_crews": page("crews_page", "CrewsPage", desk, see=asks.see_play),
        "practice": page("practice_page", "PracticePage", desk),
        "plays": page("second_pass.page", "SecondPassPage", desk, words_wanted=partial(asks.act, "desk.words")),
        "words": page("words_page", "WordsPage", desk),
        "season": page("season.page", "SeasonPage", desk, plays_wanted=asks.show_plays),
        "guide": page("guide_page", "GuidePage", desk.keys, desk.theme, keys_wanted=partial(asks.act, "desk.keys")),
        "fault": page("fault_page", "FaultPage"),
        "yards": page("yards_page", "YardsPage", desk)}
