"""The pages that the main window shows over its rooms: how each is made and what its signals ask of the asks.

A page's module is imported when the page is first wanted, so that the window opens without it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QWidget

from .overlays import MakePage
from .room import Desk

if TYPE_CHECKING:
    from ..tagging.model import Angle
    from .angle_page import AnglePage
    from .crews_page import CrewsPage
    from .fault_page import FaultPage
    from .footage_page import FootagePage
    from .guide_page import GuidePage
    from .keypage import KeyPage
    from .matching_page import MatchingPage
    from .practice_page import PracticePage
    from .season.page import SeasonPage
    from .second_pass.page import SecondPassPage
    from .words_page import WordsPage
    from .yards_page import YardsPage


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
    makers: dict[str, Callable[[Desk, PageRequests], QWidget]] = {
        "keys": _keys, "files": _files, "add_angle": _add_angle, "matching": _matching, "compare_crews": _crews,
        "practice": _practice, "plays": _plays, "words": _words, "season": _season, "guide": _guide, "fault": _fault,
        "yards": _yards}
    return {id: partial(make, desk, asks) for id, make in makers.items()}


def _keys(desk: Desk, asks: PageRequests) -> KeyPage:
    from .keypage import KeyPage
    return KeyPage(desk.keys)


def _files(desk: Desk, asks: PageRequests) -> FootagePage:
    from .footage_page import FootagePage
    page = FootagePage(desk.keys)
    page.more_wanted.connect(asks.choose_more_footage)
    page.search_wanted.connect(asks.find_footage)
    page.lighter_wanted.connect(asks.lighten)
    page.lighter_unwanted.connect(asks.unlighten)
    return page


def _add_angle(desk: Desk, asks: PageRequests) -> AnglePage:
    from .angle_page import AnglePage
    page = AnglePage()
    page.added.connect(asks.add_angle)
    return page


def _matching(desk: Desk, asks: PageRequests) -> MatchingPage:
    from .matching_page import MatchingPage
    page = MatchingPage(desk)
    page.again.connect(asks.match_again)
    page.see.connect(asks.see_play)
    return page


def _crews(desk: Desk, asks: PageRequests) -> CrewsPage:
    from .crews_page import CrewsPage
    page = CrewsPage(desk)
    page.see.connect(asks.see_play)
    return page


def _practice(desk: Desk, asks: PageRequests) -> PracticePage:
    from .practice_page import PracticePage
    return PracticePage(desk)


def _plays(desk: Desk, asks: PageRequests) -> SecondPassPage:
    from .second_pass.page import SecondPassPage
    page = SecondPassPage(desk)
    page.words_wanted.connect(partial(asks.act, "desk.words"))
    return page


def _words(desk: Desk, asks: PageRequests) -> WordsPage:
    from .words_page import WordsPage
    return WordsPage(desk)


def _yards(desk: Desk, asks: PageRequests) -> YardsPage:
    from .yards_page import YardsPage
    return YardsPage(desk)


def _season(desk: Desk, asks: PageRequests) -> SeasonPage:
    from .season.page import SeasonPage
    page = SeasonPage(desk)
    page.plays_wanted.connect(asks.show_plays)
    return page


def _guide(desk: Desk, asks: PageRequests) -> GuidePage:
    from .guide_page import GuidePage
    page = GuidePage(desk.keys, desk.theme)
    page.keys_wanted.connect(partial(asks.act, "desk.keys"))
    return page


def _fault(desk: Desk, asks: PageRequests) -> FaultPage:
    from .fault_page import FaultPage
    return FaultPage()
