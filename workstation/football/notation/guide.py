"""The notation for the people who type it: ``resources/notation.md``, made from the table of words.

python -m workstation.football.notation.guide > resources/notation.md
"""

from __future__ import annotations

from .foul_names import FOULS
from .word import ANYWHERE, Role, Word, spelled, split_phrases
from .words import EXACT, TABLE

MOST_WAYS = 8
_HEAD = """\
# The notation

A play is typed as it is spoken: `run 6`, `pass 12 touchdown`, `punt 45 yards returned 12`, `incomplete holding on the
defense`. This page is made from the table that the reader itself uses.

## Three answers

* **Certain** (a tick): there is one reading, and every word was used in its plain meaning.
* **Read as** (a question mark): a word had two meanings, something was filled in, or the line contradicts itself or the
  situation. The reading is shown in full words with what was filled in; one key takes the next reading.
* **Not understood**: the word at fault is named, with the nearest words that would be understood.

Everyday words in which a play is told (he, right there, booming) are passed over where they stand in the way; the
answer is then a question that names them. A down said along with the play (`second and eight`) is checked.

A slash stands between words that may be said for each other, `out of/from the pocket`; what stands in brackets with an
empty place may be left out, `(/they) takes the penalty`.

Capitals, plurals and commas make no difference. A word that is not in the table is never taken apart into letters.

## Grammar

```
line      = { statement } [ time ] [ "comment" ] [ set ... ]
statement = kind | manner | outcome | ball | score | foul | check | word that is passed over
kind      = run, pass, incomplete, sack, punt, field goal ... then { yards | place }
yards     = number "yards" | "for" number | "of" number | loss number | gain number | no gain | -number
player    = #number | number number | jersey number | position number | by player [and player] | ...
place     = [to | at | the] side number | [to | at | the] number | in the end zone | midfield
side      = own | opp | home | visitors | a team's name | A, B, K, R as rulebooks name the teams
ball      = fumble [place] | muffed [place] | recovered [by side] [place] | lost | kept | lateral ...
return    = returned [to place | yards]
foul      = [side] name [on side] [at place] [when] [yards] [enforced at ...] [declined | accepted | offset]
time      = 9:41
set       = set { down number | to go number | on place | home ball | ... }
```

* `own` and `opp` are told for the team that snaps or kicks, also after the ball has changed hands.
* "yards", "of" and "for" make a number a distance; "to", "at" and "the" make it a yard line. A minus is always a loss.
* A bare number after a run, a catch or a sack is the yards; after a field goal its length.
* A bare number after a kick or a return is a yard line or a distance, as the staff is used to (one setting); the other
  reading is one key away. Of a punt told in whole words comes first what is as far as punts go (30 to 55 yards), if
  only one of the two is.
* A yard line without a side takes the side that the play makes possible; where two remain both are offered.
* Distance and place may both be said; where they disagree, that is said.
* What the situation leaves no choice about need not be said: a kickoff is `5 25`, a good try `g`.
* "us" and "them" are the staff's team and the other, if the game says which is which; else the team that has the ball.
* A number is a player's where its place says so: `#22`, `no. 22`; first in its part of the line before what he did
  (`22 runs`, `28 left side`); behind "by", in "tackle 54", "holding on 72"; who threw and who caught (`12 to 84 for
  14`). Where it may be yards or a yard line too, both are offered. `#` in the table stands for such a number.
* A word that nobody knows and that is written like a name (`Calder to Wickham for 14`) is taken for who did it, and
  asked about.
* Who fouled is asked only where the foul's name leaves it open.

## Short forms

A short form may stand in place of its word where the table says. Short forms may be run together with each other and
with numbers (`r6fl`, `p12t`, `pu22 28`) if the whole line is such a chain. Three letters or more that begin a word are
read as that word, as a question.

"""


def guide() -> str:
    """The whole page."""
    parts = [_HEAD, "## Words\n"]
    for title, words in TABLE:
        if words is EXACT:
            continue
        parts.append(f"\n### {title}\n\n| word | short | counts | also said | |\n| --- | --- | --- | --- | --- |\n")
        parts += [_line(word) for word in words]
    parts.append(
        "\n### Fouls\n\nThe rulebook of the game says which fouls there are and who can commit them; these are other "
        "names for them.\n\n"
        "| foul | short | also said |\n| --- | --- | --- |\n"
    )
    parts += [f"| {name} | {_codes(tuple(codes.split(', ')) if codes else ())} | {_written(split_phrases(also))} |\n"
        for name, (also, codes) in sorted(FOULS.items())]
    parts.append(
        "\n### Field by field\n\nA play that no plain line says is written field by field: `kind`, `outcome`, `event`, "
        "`score`, `possession`, `team` and\n"
        "`choice` with their word, `exact gain`, `exact spot`, `exact kick to`, `exact kick from` and `event at` with "
        "their number or\n"
        "yard line. Nothing is worked out then.\n"
    )
    return "".join(parts)


def listed(search: str = "") -> list[tuple[str, str, str]]:
    """Word, short forms and other ways to say it, of each row that says *search* somewhere; for the key page. Of many
    ways the ones that say *search* are shown, at most ``MOST_WAYS``, and how many more there are."""
    wanted = search.lower().split()
    rows = [(word.text, ", ".join(word.codes), word.written) for _, words in TABLE if words is not EXACT
        for word in words]
    rows += [(name, codes, split_phrases(also)) for name, (also, codes) in sorted(FOULS.items())]
    found = []
    for text, codes, written in rows:
        said = spelled(written)
        if all(any(part in cell.lower() for cell in (text, codes, *said)) for part in wanted):
            asked = [phrase for phrase in said if wanted and all(part in phrase.lower() for part in wanted)]
            shown = (asked or [spelled((phrase,))[0] for phrase in reversed(written)])[:MOST_WAYS]
            more = len(asked or said) - len(shown)
            found.append((text, codes, ", ".join(shown) + (f", and {more:,} more" if more else "")))
    return found


def usual_words(part: str, also: int = 4) -> list[tuple[str, str, str]]:
    """Word, short forms and the first other ways to say it, of each row of one part of the table; for the guide."""
    return [(word.text, ", ".join(word.codes), _written(word.written[-also:]))
            for title, words in TABLE if title == part for word in words]


def _line(word: Word) -> str:
    about = word.about or ("" if word.role in (Role.FILLER,) else word.role.value)
    where = "" if word.where == ANYWHERE else word.where
    also = _written(word.written)
    return f"| {word.text} | {_codes(word.codes)} | {where if word.codes else ''} | {also} | {about} |\n"


def _written(phrases: tuple[str, ...]) -> str:
    """Phrases as the table has them, choices of several words in brackets: ``(before they/) hauls/drags him``."""
    shown = []
    for phrase in dict.fromkeys(phrases):
        parts = [f"({part.replace('_', ' ')})" if "_" in part or "" in part.split("/") else part
            for part in phrase.split(" ")]
        shown.append(" ".join(parts))
    return ", ".join(shown)


def _codes(codes: tuple[str, ...]) -> str:
    return ", ".join(f"`{code}`" for code in codes)


if __name__ == "__main__":
    print(guide(), end="")
