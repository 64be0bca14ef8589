"""Everyday words of somebody who tells a play: they are passed over where a line stops at them.

The answer is then a question that names the words passed over. A word that says anything of football (a side, a number,
a kind of play, a foul, a score, who recovered) is not in the list, except we and they: these are passed over where no
recovery, foul or kick of theirs follows. "Not" and its kind are never passed over.
"""

from __future__ import annotations

from collections.abc import Sequence

from .number_words import NUMBERS
from .plain_english import IDLE, WORDS
from .tokens import Token
from .word import spelled, split_phrases
from .words_of_looks import FORMATIONS

SIDES = ("we", "they", "we're", "they're", "we've", "they've", "they'll", "we'll", "us", "them")
_PHRASES = (
    "jumped, hang time of, challenge, challenged, they challenge, no one near, to no one, no receiver, "
    "no receiver anywhere near, no receiver in the area, no target, jailhouse, "
    "escape, tried to escape, blindsided, they bring the blitz, bring the blitz, gunners smother him, undercuts it, "
    "steps in front of it, took two steps, takes two steps, two steps, drove him into the ground, drives him into "
    "the ground, mugged him, index card close, close one, hard count works, talk it over, rub route, bad kickoff, "
    "index card, settle for three, settle, sliced, sliced it, slices left, aims for the corner, aims, has the "
    "distance, the distance, right over our bench, over the head of, at the cheerleaders, no one near him, sky, "
    "secure, toe tap, unloaded, first half done, tied, all tied, placed, "
    "butterfingers, catchable, smart play, another drop, scary moment, lucky, whole, surprise, trick play, "
    "legal, hurry up, in the chest, in the sun, twitched, tightropes, hang time, hang, tough ones, chunk "
    "play, blitzing, telegraphed, telegraphed it, underhand, desperation, desperate heave, to avoid "
    "the sack, to avoid a sack, to save time, to save yards, hesitates, nobody touches him, nobody catches him, "
    "catches them sleeping, caught them sleeping, fools nobody, fooled everybody, fools everybody, coming in, at "
    "the cheerleaders, scrum, in the scrum, on a dead run, in front, personal protector, up man, upback, dribbler, "
    "squibber, toe taps, both feet, receiver error, lives to fight another down, intentionally, pulling, pulling "
    "guard, special teams, gunners, gunner, rusher, ejected, he's ejected, gets ejected, thrown out, out of the "
    "game, the refs talk it over, refs talk it over, for yelling, talking trash, trash talk, hard count, drawn in, "
    "bobbed his head, walk off, two in a row, in a row, obvious, teams switch ends, switch ends, horn, gun, coin, "
    "heads, tails, wind, north, south, nobody could get it, can't find anybody, couldn't find anybody, nobody open "
    "so, danced around, around forever, and the clock keeps going, clock keeps going, legs churning, big hop, good "
    "hop, bad hop, bad bounce, good bounce, takes a bad bounce, springs, springs him, gets there, swinging gate, "
    "original, smothers him, smother him, barely sneaks, equipment, captains out, call it, it is heads, it is "
    "tails, "
    "25 yards beyond the kick, twenty five yards beyond the kick, receivers take the ball, "
    "they take the ball, a bit, a few, a little, a little bit, a lot, able, able to, about, above, acrobatic, "
    "across, actually, "
    "additional, after, afterwards, again, against, air, airs it out, alive, all, all alone, all day, all of "
    "it, alley, almost, almost intercepted, almost picked off, alone, along, already, also, although, amazing, among, "
    "and down, and how, and now, and that will do it, and that's all, and then, another, any, anyway, apparently, "
    "approximately, arm, arms, around, at it, at last, at the end, at the end of, audible, audibles, awarded, away, "
    "away from, baby, back, back corner, backfield, ballcarrier, ballgame, barely, basically, beat, beats, because, "
    "because of, before, behind, behind the block, behind the line, behind the line of scrimmage, below, beside, "
    "between, beyond, big back, big hole, bit, blitz, blocker, blockers, blocking, bodies, body, boomed, boomer, "
    "booms, boots, bounced, bounces, bounces it, bounces off, bounces outside, bouncing, box, boy, breaks, breaks a "
    "tackle, breaks another, breaks away, breaks free, breaks loose, breaks one, breaks tackles, breaks two, bring "
    "it, bring it out, bring up, bringing, brings, brings it out, brings up, broke, brought, brought it out, bulls, "
    "bumped, buried, bursts, by a nose, by a yard, by an inch, by half a yard, by himself, by inches, by the nose, by "
    "the nose of the ball, by themselves, call it, called, called a, called it, came, came off, came out, came up, "
    "can, captain, captains, caught from behind, chain gang, chance, chased, chest, clean, clear, clearly, clock "
    "runs, clock stopped, clock stops, coach, collapsed, collapses, come, comes, comes off, comes up, corner, corner "
    "of, cornered, corralled, could, couple of, coverage, crazy, crew, crowd, cutback, cuts, cuts back, cutting, "
    "dances, dangerous, daylight, dead there, dead to rights, decided, decides, decides to, desperate, did, dirt, do, "
    "dodges, does, double coverage, down field, down he goes, down the pipe, down there, downfield, dragged, dragged "
    "down, drags, drills, drills it, drive, driven, driven back, driving, drop back, dropped back, dropping back, "
    "drops back, due to, each, early, easily, easy, edge, end over end, ending, enemy territory, escapes, even, "
    "eventually, ever, every, everybody, everyone, everywhere, exactly, fades back, falling, falls, falls forward, "
    "fans, far sideline, fast, feet first, fell, fell forward, fellow, field, finally, find, finding, finds, fine, "
    "fingertips, finished, finishes, fired, fires, first half, first of all, flat, flats, flushed, flushed out, "
    "fluttering, flutters, folks, followed, follows, follows his blockers, football, for his life, for it, forced, "
    "formation, forward, found, freshman, from here, from scrimmage, from the pocket, from there, front corner, game, "
    "gap, gave, gave him, get, gets, gets dropped, gets hit, gets the corner, gets the edge, getting, giant, give, "
    "give him, given, gives, go, goes, goes deep, goes down, going, going deep, going the other way, "
    "gone, good block, got, got dropped, got hit, got the corner, grass, greeted, ground, gut, guy, guys, had no "
    "chance, halts, hand, hands, hard, has no chance, hash, hauled, hauled down, having, he needed, he was, he'd, "
    "he'll, head, head first, head linesman, headfirst, heavy pressure, heavy rush, helmet, helmet came off, helmet "
    "comes off, her way, here, hey, his blockers, his helmet, his man, his way, hit, hits the hole, hole, hole opens, "
    "hops, how, however, huddle, i, i think, i'll, i'm, i've, if, immediately, improvises, in a crowd, in "
    "a hurry, in coverage, in double coverage, in front, in front of, in full stride, in his tracks, "
    "in space, in stride, in the air, in the backfield, in the flat, in the pocket, in the trenches, in their tracks, "
    "in traffic, in trouble, inbounds, incredible, inside, into enemy territory, into their territory, is dropped, is "
    "hit, it'll, itself, jersey, jogged, jogs, jukes, jumps the route, junior, just, just before, keeps his feet, "
    "kid, kind, kind of, ladies and gentlemen, lane, late in the quarter, later, leaps, leapt, leather, left corner, "
    "left hash, leg, legs, let, let's, lets, lets it bounce, lets it fly, lets it go, lets it roll, like, line drive, "
    "line judge, lineman, linemen, little bit, live, look, look out, looked, looking, looks, looks for, loose, lot, "
    "luckily, lunged, lunges, make, makes, making, "
    "man, man oh man, manages, manages to, many, marks, may, maybe, maybe a, meanwhile, mess, met, might, momentum, "
    "more, most, mostly, motion man, movement, much, must, my, my goodness, nailed, nails, nails it, near sideline, "
    "nearly, nearly intercepted, nearly picked off, need, needed, needs, next, no chance, no doubt, no one home, no "
    "one is open, no one open, no one there, no one was open, no problem, no question, no room, no time, nobody "
    "around, nobody could catch him, nobody home, nobody in the area, nobody is open, nobody near him, nobody open, "
    "nobody there, nobody was open, nobody will catch him, nose, nose of the ball, nothing at all, nothing doing, "
    "nowhere, nowhere to go, number, numbers, of bodies, of course, off, off to the races, officials, oh, ok, okay, "
    "on a rope, on it, on point, on target, on that, on that one, on the catch, on the "
    "money, on the run, on the throw, on this drive, on this "
    "play, on time, on top, on top of, once, once again, once more, one hand, one man to beat, one more, one more "
    "time, one of those, one-handed, only, onto, open, open field, open space, opposing territory, or so, or "
    "something, other, otherwise, ouch, our, our territory, out front, out in the open, out of the pocket, out of "
    "there, out there, over, over the top, over there, part, pass protection, pass rush, past, past the sticks, "
    "perfectly, perhaps, pigskin, pile, play call, play clock, play is, play is dead, play is over, pocket, powers, "
    "pressure, pretty, probably, protection, pulled down, pumps, pursued, pushed back, put, puts, quickly, quite, "
    "races, rather, reached, reaches, really, ref, ref said, referee, result, result of, result of the play, result "
    "was, results, right after, right away, right before, right corner, right down the middle, right down the pipe, "
    "right hash, right here, rolled, rolling, rolling out, rolls, rolls left, rolls out, rolls right, room, roughly, "
    "ruled, run out, runner down in bounds, runner down inbounds, runner downed in bounds, runner downed inbounds, "
    "runner tackled in bounds, runner tackled inbounds, running clock, running room, rush, safety help, said, saw, "
    "says, scans, scrambling around, scrimmage, seam, see, sees, senior, series, shakes, shakes off, sharp, she'll, "
    "sheds, sheds a tackle, shoe, short of the first down, short of the sticks, should, shoulder, shoulders, shoved, "
    "side, signaled, signals, simply, since, skips, sliding, slips, slow, small, smothered, soft, solid, some, "
    "somebody, somehow, someone, somewhere, son, soon, sophomore, sort of, space, spectacular, spinning, spins, spins "
    "away, spiral, spiraling, spots, spotter, sprints, spun, stacked, stacked the box, stacked up, standing, started, "
    "starts, stays in bounds, stays on his feet, stepped, stepped in front of, stepped right in front of it, stepped "
    "up, steps back, steps in front of, steps right in front of it, steps up, sticks, stiff arm, still, stop, "
    "stopped, stops, story, straight, strange, stretched, stretches, strolled, strolls, strong, stumbles, such, "
    "suddenly, surface, swallowed, swallowed up, swarmed, sweet, tackler, tacklers, take, take it, take it out, "
    "taken, taken down, takes it, taking, taps, team, teammates, terrible, terrific, territory, than, that does it, "
    "that one, that was, that way, that will do it, that'll, that's all, that's it, the blitz, the chains, the clock "
    "is running, the clock running, the clock stops, the edge, the flat, the football, the hash, the hole, the "
    "numbers, the other way, the pile, the pocket collapses, the ref said, the rush, the seam, the snap, the sticks, "
    "the top, the way, the wrong way, their, their territory, them, themselves, there'll, these, they, "
    "they needed, they'd, they'll, they're, they've, this one, this side, this time, this way, those, though, "
    "threaded, threads, threads it, through, through a hole, through the air, through the hole, through the line, "
    "through the middle, through traffic, throughout, thrown down, tight spiral, till, tiny, tiptoes, to beat, to end "
    "it, to end the game, to end the half, to it, to run out, to run out the clock, to run out the half, to the flat, "
    "today, toes, toes the line, tonight, too, took, top, tough, toward, towards, tracks, traffic, tremendous, "
    "trenches, tried, tries to, trips, trots, trotted, trouble, trying, turf, turn, turned, turns, turns the corner, "
    "turns the edge, turns upfield, two hands, uh, um, umpire, unbelievable, under, under duress, underneath, "
    "unfortunately, unsure, until, untouched, up, up field, up the sideline, upfield, upon, us, very, via, walk in, "
    "walked, walking, walks, walks in, waltzes, wanted, wants, was dropped, was hit, watch, watch out, watches, "
    "waved, waves, way, way back, way out, we, we needed, we'd, we'll, we're, we've, weak, well, went, "
    "what, what a, when, whether, while, whistle, whistles, whoa, why, wide open, will do it, winding, window, with a "
    "burst, with a head of steam, with authority, with ease, with no one open, with nobody around, with nobody open, "
    "with one hand, with the ball, within, wobbles, wobbly, would, wow, wrapped, wrestled, yac, yards after catch, "
    "yards after the catch, yeah, yes, yet, you, "
    "you'll, you're, young man, your"
)

_AHEAD = ", ".join(("ties the game", "ties it", "ties it up", "that ties the game", "that ties it",
    "ties the score", "lead", "leads",
    "leading", "trail", "trails", "trailing", "ahead", "takes the lead", "take the lead", "for the lead",
    "all tied up", *(
    f"{lead} by {points}{what}" for lead in ("lead", "leads", "leading", "trail", "trails", "trailing", "up", "down",
    "ahead", "behind", "win", "wins", "won", "lose", "loses", "lost") for points in (*NUMBERS, *map(str, range(1, 41)))
    for what in ("", " points"))))
_PHRASES = _PHRASES + ", " + _AHEAD
_PHRASES = _PHRASES + ", " + ", ".join(f"never {did} {what}" for did in ("got", "gets", "had", "get") for what in (
    "it off", "it away", "the kick off", "the punt off", "the kick away", "anything", "anything going", "a chance",
    "there", "close", "going", "started", "near it", "past the line", "back to the line", "to the line", "open",
    "out of the backfield", "to the edge", "to the corner", "to it", "set", "his feet down"))
_FAILED = ("didn't", "did not", "couldn't", "could not", "can't", "doesn't", "does not")
_AT_WHAT = ("get set", "get set in time", "reset", "reset for a second", "get lined up", "line up in time",
    "get it off", "get it off in time", "get the snap off", "get the snap in time", "get the snap off in time",
    "get off in time", "get the guy off in time", "get off the field", "get off the field in time",
    "reach the line", "reach the receiver",
    "go ten yards", "go ten", "go 10", "go 10 yards", "go far enough", "see it", "see him", "get there",
    "get there in time", "get his feet down", "get his foot down",
    "get a foot down", "get both feet down", "find a receiver", "find an open man", "find anyone", "find anybody")
_PHRASES = _PHRASES + ", " + ", ".join(f"{failed} {what}" for failed in _FAILED for what in _AT_WHAT)
_ALL: dict[str, list[tuple[str, ...]]] = {}
for _phrase in (tuple(text.split()) for text in _PHRASES.split(", ")):
    _ALL.setdefault(_phrase[0], []).append(_phrase)
for _word in WORDS:
    if (_word,) not in _ALL.get(_word, ()):
        _ALL.setdefault(_word, []).append((_word,))
_LOOKS = frozenset(tuple(phrase.split()) for phrase in ("because of", *spelled(split_phrases(FORMATIONS))))
for _phrase in _LOOKS:
    _ALL.setdefault(_phrase[0], []).append(_phrase)
_LENGTHS = {first: sorted({len(phrase) for phrase in found}, reverse=True) for first, found in _ALL.items()}
PHRASES = frozenset(phrase for found in _ALL.values() for phrase in found)
EVERYDAY = frozenset(part for found in _ALL.values() for phrase in found for part in phrase)
"""Every word of the list: none of them is the beginning of another word."""


def are_idle(words: Sequence[str]) -> bool:
    """Whether words that were passed over tell nothing of a play: each is an idle one or part of a look."""
    if not words:
        return True
    return any(are_idle(words[used:]) for used in range(1, len(words) + 1)
        if (used == 1 and words[0] in IDLE) or tuple(words[:used]) in _LOOKS)


def passed_at(tokens: Sequence[Token], at: int) -> int:
    """How many tokens an everyday phrase takes from a place of the line on; 0 if none covers it.

    The phrase may have begun up to five tokens before.
    """
    longest = 0
    for start in range(max(0, at - 5), at + 1):
        longest = max(longest, start + begun_at(tokens, start) - at)
    return longest


def begun_at(tokens: Sequence[Token], at: int) -> int:
    """How many tokens the longest everyday phrase takes that begins at a place; 0 if none does."""
    for length in _LENGTHS.get(tokens[at].text, ()):
        if at + length <= len(tokens) and tuple([token.text for token in tokens[at : at + length]]) in PHRASES:
            return length
    return 0
