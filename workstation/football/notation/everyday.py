"""Everyday words of somebody who tells a play, and which of them a second reading passes over.

The first reading uses every word. Where it stops at a word of this closed list, the word is passed over and the line is
read again; the answer is then a question that names the words passed over. A word that says anything of football - a
side, a number, a kind of play, a foul, a score, who recovered - is not in the list, except we and they: these are passed
over where no recovery, foul or kick of theirs follows. "Not" and its kind are never passed over.
"""

from __future__ import annotations

from collections.abc import Sequence

from .tokens import Token

MOST_PASSED = 14
"""Words or phrases that are passed over in one line."""


def _list(*texts: str) -> tuple[tuple[str, ...], ...]:
    return tuple(tuple(phrase.split()) for text in texts for phrase in text.split(", ") if phrase)


SIDES = ("we", "they", "we're", "they're", "we've", "they've", "they'll", "we'll", "us", "them")

_PEOPLE = _list(
    "he, she, i, you, they, we, us, them, him, himself, themselves, itself, someone, somebody, everybody, everyone, "
    "our, their, my, your, its, he'll, she'll, they'll, we'll, i'll, you'll, it'll, that'll, there'll, we've, they've, "
    "i've, we're, they're, you're, i'm, he'd, they'd, we'd, let, let's, here, there, right there, over there, down there, "
    "passer, punter, holder, snapper, ball carrier, ballcarrier, back, big back, quarterback, kid, "
    "young man, guy, guys, number one, tackler, tacklers, blocker, blockers, corner, safety help, "
    "lineman, linemen, official, officials, referee, umpire, head linesman, line judge, fans, "
    "crowd, teammate, teammates, freshman, sophomore, junior, senior, captain, captains, coach"
)
_VERBS = _list(
    "got, gets, get, getting, gave, give, gives, given, take, takes, took, taken, taking, has, have, had, having, does, do, "
    "did, are, were, be, been, being, will, would, can, could, should, may, might, must, go, goes, going, went, gone, come, comes, "
    "came, coming, make, makes, making, let, lets, put, puts, turn, turns, turned, try, tries, tried, trying, "
    "look, looks, looked, looking, find, finds, found, finding, see, sees, saw, drops back, dropped back, dropping back, "
    "drop back, fades back, rolls, rolled, rolls right, rolls left, rolling out, steps up, stepped up, scans, "
    "cuts, cutting, "
    "turns, spun, spinning, leaps, leapt, reaches, reached, stretches, stretched, lunges, lunged, "
    "falls, fell, falling, falls forward, fell forward, driven, dragged, hauled, wrestled, shoved, bumped, "
    "met, met by, greeted, chased, flushed, flushed out, forced, pressured, got hit, gets hit, is hit, was hit, "
    "hits the hole, finds a hole, finds the hole, gets the corner, turns the corner, got the corner, gets the edge, "
    "turns the edge, breaks, broke, breaks another, breaks one, breaks two, breaks a tackle, broke a tackle, breaks tackles, "
    "sheds, sheds a tackle, shakes, shakes off, jukes, dodges, dances, bounces, bounces it, bounces off, "
    "bring it, bring it out, brings it out, brought it out, take it, takes it, take it out, "
    "came off, comes off, comes up, came up, brings up, bring up, brings, brought, bringing, makes the stop, made the stop, makes the tackle, "
    "made the tackle, on the tackle, on the stop, in on the tackle, got dropped, gets dropped, was dropped, is dropped, "
    "swallowed, swallowed up, smothered, buried, swarmed, pursued, corralled, cornered, caught from behind, "
    "needed, needs, need, we needed, he needed, they needed, wanted, wants, awarded, spots, marks, called, "
    "calls, waves, waved, watches, watch, lets it go, lets it bounce, lets it roll, rolls, bounces, hops, takes a bounce, "
    "takes a hop, skips, keeps his feet, stays on his feet, stays in bounds, tiptoes, toes the line, toes, taps, drags, "
    "stops, stopped, halts, ending, finished, finishes, starts, started, run out, running, winding, "
    "to run out, to run out the half, to run out the clock, to stop the clock, to end it, to end the half, to end the game, "
    "threads, threaded, threads it, drills, fires, fired, lets it fly, airs it out, goes deep, going deep, "
    "wrapped, pulled down, taken down, brought down, hauled down, dragged down, thrown down, pushed back, driven back, came out, "
    "walks, walked, walking, trots, trotted, jogs, jogged, that will do it, "
    "and that will do it, that does it, that's it, will do it"
)
_WHEN = _list(
    "then, now, so, and then, before, after, afterwards, when, while, until, till, as, because, since, once, again, also, "
    "too, still, yet, already, finally, eventually, later, soon, next, first of all, at last, right away, immediately, quickly, "
    "suddenly, and now, this time, at the end, at the end of, early, late in the quarter, just before, right before, right after, "
    "though, although, however, if, whether, only, even, ever, well, really, very, pretty, quite, rather, mostly, simply, "
    "basically, exactly, roughly, somehow, maybe, perhaps, kind of, sort of, actually, apparently, clearly, easily, "
    "luckily, unfortunately, otherwise, anyway, somewhere, everywhere, meanwhile, today, tonight, what, what a, how, "
    "where, why, or so, or something, at all, of course, more, most, much, many, some, any, all, other, another, each, every, "
    "this, these, those, such, than, like, about, around, ahead, along, among, away, away from, toward, towards, forward, "
    "upfield, downfield, up field, down field, inside, between, under, underneath, above, across, against, "
    "behind, beyond, below, beside, past, through, throughout, within, off, onto, upon, via, due to"
)
_WHERE = _list(
    "there, right there, right here, on the spot, dead there, down there, and down, flat, in the flat, the flat, to the flat, flats, "
    "backfield, in the backfield, pocket, in the pocket, out of the pocket, from the pocket, trenches, in the trenches, edge, "
    "the edge, hole, the hole, seam, the seam, gap, corner, pile, the pile, traffic, in traffic, coverage, in coverage, "
    "double coverage, in double coverage, territory, enemy territory, into enemy territory, their territory, into their territory, "
    "our territory, opposing territory, side, this side, hash, the hash, numbers, the numbers, left hash, right hash, right side, "
    "left side, near sideline, far sideline, near side, far side, sideline, behind the line, behind the line of scrimmage, "
    "in his tracks, in their tracks, tracks, for his life, in trouble, space, in space, open space, open, wide open, in stride, "
    "in full stride, in a crowd, in a pile, mess, out in the open, air, in the air, through the air, ground, alley, lane, "
    "down the pipe, right down the pipe, down the middle, right down the middle, line drive, the other way, going the other way, the wrong way, "
    "this way, that way, his way, her way, way, the way, short of the first down, short of the sticks, sticks, "
    "the sticks, past the sticks, nose of the ball, by the nose of the ball, by the nose, by inches, by a nose, "
    "by an inch, by a yard, by half a yard, up the sideline, middle, turf, grass, dirt, surface, "
    "from scrimmage, scrimmage, on this drive, drive, series, on the way, "
    "on the carry, on the catch, on the keeper, on the throw, on the run, on the sweep"
)
_HOW = _list(
    "booming, boomer, high, low, spiraling, spiral, tight spiral, long, wide open, deep, soft, hard, sharp, quick, "
    "fast, slow, big, huge, giant, small, little, tiny, nice, great, beautiful, pretty, terrific, tremendous, fine, "
    "perfect, perfectly, solid, tough, strong, weak, sweet, clean, wobbly, end over end, bouncing, driving, diving, leaping, "
    "one-handed, one handed, one hand, with one hand, two hands, over the shoulder, acrobatic, easy, clear, loose, "
    "dangerous, desperate, strange, crazy, incredible, unbelievable, amazing, spectacular, wow, boy, oh, oh my, my goodness, "
    "look out, watch out, whoa, yes, yeah, okay, ok, uh, um, hey, folks, ladies and gentlemen, ouch, man, son, baby, "
    "untouched, standing, standing up, sliding, head first, feet first, headfirst, in a hurry, with authority, with ease, "
    "with a burst, with a head of steam, under pressure, under duress, on a rope, on the money, on target, on time, on point, "
    "nothing doing, nowhere to go, nobody home, nobody open, with nobody open, nobody there, no one open, no one there, "
    "no one home, with no one open, nobody near him, nobody around, with nobody around, nobody will catch him, no time, "
    "had no chance, has no chance, no chance, no doubt, no question, no problem, no room, nothing there, nothing at all, "
    "helmet, helmet came off, helmet comes off, his helmet, shoe, jersey, hand, hands, arm, arms, foot, leg, legs, feet, shoulder, shoulders, head, "
    "chest, body, fingertips, football, the football, pigskin, leather, ballgame, "
    "number, snap, the snap, huddle, motion man, play clock, clock, clock running, the clock running, clock runs, clock stopped, clock stops, "
    "the clock is running, the clock stops, clock is running, running clock, audible, audibles, blitz, the blitz, pressure, rush, the rush, "
    "pass rush, heavy rush, heavy pressure, protection, time, stop, stops, play is dead, play is over, whistle, whistles, the whistle, "
    "the chains, chain gang, crew, and how, all day, once more, one more, one more time, on that one, on that, on it, at it, for it, to it, "
    "nobody was open, nobody is open, no one was open, no one is open, nobody could catch him, nobody in the area, one man to beat, to beat, beat, beats, "
    "follows, followed, follows his blockers, his blockers, collapses, collapsed, the pocket collapses, fellow, bodies, of bodies, gut, stepped, stepped up, stepped in front of, "
    "steps in front of, stepped right in front of it, steps right in front of it, daylight, running room, room, cutback, cuts back, cut back, pass protection, "
    "stacked, stacked up, stacked the box, box, delayed, nose, coming, out front, blocking, good blocking, all of it, that's all, and that's all, "
    "that one, this one, that, it, one of those, by himself, by themselves, part, kind, lot, a lot, bit, a bit, little bit, a little, a little bit, "
    "way out, way back, all alone, alone, in front, in front of, on top, on top of, out of there, give him, gave him, call it, spotter, story, chance"
)

_ALL: dict[str, list[tuple[str, ...]]] = {}
for _phrase in dict.fromkeys((*_PEOPLE, *_VERBS, *_WHEN, *_WHERE, *_HOW)):
    _ALL.setdefault(_phrase[0], []).append(_phrase)
for _phrases in _ALL.values():
    _phrases.sort(key=len, reverse=True)


def spans(tokens: Sequence[Token], at: int) -> list[tuple[int, int]]:
    """The everyday phrases that cover the token at a place, longest first, as first and last token + 1."""
    found = []
    for start in range(max(0, at - 5), at + 1):
        for phrase in _ALL.get(tokens[start].text, ()):
            end = start + len(phrase)
            if end > at and tuple(token.text for token in tokens[start:end]) == phrase:
                found.append((start, end))
    return sorted(found, key=lambda span: span[0] - span[1])


EVERYDAY = frozenset(part for found in _ALL.values() for phrase in found for part in phrase)
"""Every word of the list: none of them is the beginning of another word."""
