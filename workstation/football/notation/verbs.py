"""The forms of verbs: a phrase of the table may be said in every tense, number and person."""

from __future__ import annotations

from collections.abc import Iterator

# Verbs whose forms follow no rule: present, past, participle.
_IRREGULAR = (
    "run ran run", "throw threw thrown", "catch caught caught", "take took taken", "fall fell fallen",
    "bring brought brought", "break broke broken", "hit hit hit", "lose lost lost", "keep kept kept",
    "come came come", "go went gone", "get got got", "make made made", "win won won", "choose chose chosen",
    "kneel knelt knelt", "hurdle hurdled hurdled", "fly flew flown", "drive drove driven", "burst burst burst",
    "spin spun spun", "dive dove dived", "fight fought fought", "leap leapt leapt", "sling slung slung",
    "find found found", "eat ate eaten",
    "give gave given", "bend bent bent", "put put put",
    "blow blew blown", "stick stuck stuck", "slide slid slid", "step stepped stepped",
)  # fmt: skip
# Verbs with regular forms.
_REGULAR = (
    "rush carry pass complete connect drop bat knock slap swat overthrow underthrow sack punt kick intercept pick "
    "spike clock measure reverse overturn scramble sneak plunge dive tuck pitch toss fake squib pooch score mishandle "
    "muff bobble touch block convert succeed fail miss stop stuff hook pull push shank doink return advance haul snag "
    "grab snatch field gather receive fumble strip cough recover cover jump pounce scoop retain regain lateral gain "
    "tackle net drag spot mark end finish decline refuse accept enforce offset nullify negate wipe call receive defer "
    "defend elect roll sail bounce land rough trip clip target penalize flag split cross reach turn dump tip deflect "
    "juggle force boot drill nail stumble slip improvise wrap snap assess tack add ground dribble chop leap commit "
    "move interfere eject disqualify pile charge fire heave lob hurl float tip bounce cut plow power bull weave dart "
    "sprint trot step lunge stretch race stiff keep nab yank secure smother pin ask hand "
    "chuck unload pin airmail signal wave want dodge duck punch rip poke fight flinch soar drift use travel"
)
_BEFORE_NOUNS = ("the", "a", "an", "of", "no", "on")
_DOUBLED = set("bdgmnprt")
_VOWELS = set("aeiou")


def regular_forms(base: str) -> tuple[str, ...]:
    """base, -s, -ed, -ing of a verb by the rules of spelling."""
    if base.endswith(("s", "sh", "ch", "x", "z", "o")):
        third = base + "es"
    elif base.endswith("y") and base[-2] not in _VOWELS:
        third = base[:-1] + "ies"
    else:
        third = base + "s"
    if base.endswith("e"):
        past, going = base + "d", base[:-1] + "ing"
    elif base.endswith("y") and base[-2] not in _VOWELS:
        past, going = base[:-1] + "ied", base + "ing"
    elif (len(base) > 2 and base[-1] in _DOUBLED and base[-2] in _VOWELS and base[-3] not in _VOWELS
            and sum(letter in _VOWELS for letter in base) == 1):
        past, going = base + base[-1] + "ed", base + base[-1] + "ing"
    else:
        past, going = base + "ed", base + "ing"
    return base, third, past, going


def _forms() -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for row in _IRREGULAR:
        base, past, participle = row.split()
        _, third, _, going = regular_forms(base)
        if base in ("run", "hit", "win", "spin", "get"):
            going = base + base[-1] + "ing"
        forms = tuple(dict.fromkeys((base, third, past, participle, going)))
        for form in forms:
            found.setdefault(form, forms)
    for base in _REGULAR.split():
        forms = regular_forms(base)
        for form in forms:
            found.setdefault(form, forms)
    found["offset"] = ("offset", "offsets", "offsetting")
    return found


FORMS = _forms()
"""Every form of a verb, with all forms of that verb."""


def inflected(parts: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """The phrase with its first verb in each other form."""
    for place, part in enumerate(parts):
        forms = FORMS.get(part)
        if forms is None or (place and parts[place - 1] in _BEFORE_NOUNS):
            continue
        for form in forms:
            if form != part:
                yield (*parts[:place], form, *parts[place + 1 :])
        return
