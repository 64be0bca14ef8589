"""Which of several meanings of a word or short form can stand at a place of the line."""

from __future__ import annotations

from collections.abc import Sequence

from ..plays import Outcome, PlayKind
from ..situation import Next
from .draft import DUE_KIND, FREE_KICKS, KICKS, TRIES, Draft
from .word import AFTER_FOUL, ANYWHERE, IN_FOUL, IN_SET, KICKED, MEASURED, PLAY, START, TOSS, TRY, Role, Word

_OF_FREE_KICKS = ("offside on free kick", "encroachment on a free kick", "free kick infraction",
    "offside on the kickoff", "short free kick", "illegal block before ten yards", "illegal kickoff")


def fitting(found: Sequence[Word], draft: Draft) -> list[Word]:
    """Of several kinds of play that one phrase may mean, the one that the situation is about; words after "set" only
    there; after "exactly" the foul of that very name."""
    fit = [word for word in found if (word.where == IN_SET) == (draft.said is not None) or word.role is Role.SET
        or (draft.said is not None and word.role in (Role.FILLER, Role.PREPOSITION))]
    if draft.said is not None and any(word.where == IN_SET for word in fit):
        fit = [word for word in fit if word.where == IN_SET]
    if any(word.role is Role.NULLIFIED for word in fit) and any(word.role is Role.RETURN for word in fit):
        kicked = draft.play_kind in KICKS or draft.outcome is Outcome.INTERCEPTED or bool(draft.events)
        other = Role.NULLIFIED if kicked and not (draft.fouls or draft.flagged or draft.returned) else Role.RETURN
        fit = [word for word in fit if word.role is not other]
    if any(word.role is Role.PREPOSITION for word in fit) and any(word.value is Outcome.DOWNED for word in fit):
        kick = draft.play_kind in KICKS or (draft.kind is None and draft.before.down == draft.rulebook.downs)
        carried = not kick or draft.fielded or draft.returned
        fit = [word for word in fit if (word.role is Role.PREPOSITION) is carried]
    if draft.before.next is Next.TRY and any(word.role is Role.OUTCOME for word in fit):
        fit = [word for word in fit if word.role is not Role.NO_GAIN]  # "2pt run NG"
    if any(word.role is Role.MISSED for word in fit) and any(word.role is Role.MANNER for word in fit):
        kicked = draft.play_kind in (PlayKind.FIELD_GOAL, PlayKind.TRY_KICK) or (draft.kind is None
            and (draft.before.down == draft.rulebook.downs or draft.looking != "hook"))
        fit = [word for word in fit if word.role is not (Role.MANNER if kicked else Role.MISSED)]  # "hook"
    kinds = [word for word in fit if word.role is Role.KIND]
    if len(kinds) > 1 or (kinds and len(fit) > 1):
        due = DUE_KIND.get(draft.before.next)
        on_try = draft.before.next is Next.TRY or draft.two_point
        best = [word for word in kinds if word.value[0] is due or (on_try and word.value[0] in TRIES)]
        if best:
            fit = [word for word in fit if word.role not in (Role.KIND, Role.CLAIM) or word is best[0]]
            if any(word.role is Role.MANNER for word in fit) and due is PlayKind.COIN_TOSS:
                fit = [word for word in fit if word.role is not Role.MANNER]
        else:
            away = [word for word in kinds if word.value[0] in (PlayKind.COIN_TOSS, PlayKind.TRY_KICK,
                PlayKind.SAFETY_FREE_KICK)]
            if len(kinds) > len(away) or len(fit) > len(kinds):
                fit = [word for word in fit if word not in away]
    fouls = [word for word in fit if word.role is Role.FOUL]
    if fouls and not draft.exactly:
        kept = _fitting_fouls(fouls, draft)
        fit = [word for word in fit if word.role is not Role.FOUL or word in kept]
    if draft.exactly:
        return [word for word in fit if word.role is not Role.FOUL or word.text.replace("-", " ") == draft.looking]
    return fit


def _fitting_fouls(fouls: list[Word], draft: Draft) -> list[Word]:
    """Of several fouls that one phrase may mean: the one of that very name, those of free kicks on these alone."""
    free = draft.play_kind in FREE_KICKS
    fouls = [word for word in fouls if word.value[0] not in _OF_FREE_KICKS or free]
    if free and any(word.value[0] in _OF_FREE_KICKS for word in fouls):
        fouls = [word for word in fouls if word.value[0] in _OF_FREE_KICKS]
    if draft.kind is None or draft.kind in FREE_KICKS:
        fouls = [word for word in fouls if word.value[0] != "kickoff out of bounds" or draft.flagged or draft.fouls]
    if len(fouls) > 1:
        exact = [word for word in fouls if word.value[0].replace("-", " ") == draft.looking]
        if not exact:
            exact = [word for word in fouls if draft.looking in draft.rulebook.fouls[word.value[0]].also]
        if exact:
            by = exact[0].value[1]
            fouls = [exact[0], *(word for word in fouls if by is not None and word.value[1] is not None
                and word.value[1] is not by)]
    return fouls


def ordered(words: list[Word], draft: Draft) -> list[Word]:
    """The short forms that fit what comes next first."""
    due = draft.due
    return sorted(words, key=lambda word: (not (word.where in (TRY, TOSS, AFTER_FOUL, IN_FOUL)
        or (word.where == KICKED and due in FREE_KICKS and draft.kind in (None, due))
        or (word.role is Role.KIND and word.value[0] is due))))


def stands(word: Word, draft: Draft) -> bool:
    """A short form counts only where the table says."""
    kind, where = draft.play_kind, word.where
    started = draft.kind is not None or bool(draft.events) or draft.said is not None
    if draft.said is not None:
        return where == IN_SET
    if word.role is Role.FOUL:
        return True
    if where == MEASURED:
        return kind is PlayKind.MEASUREMENT
    if (where == START and word.role is Role.KIND and kind in (PlayKind.PASS, PlayKind.TRY_PASS)
            and word.value[0] is PlayKind.PASS and word.value[1] is not Outcome.COMPLETE):
        return True
    if where == START:
        if word.role is Role.KIND and word.value[0] is PlayKind.SACK and draft.kind is None and draft.events:
            return len(draft.events) == 1  # "strip sk"
        return not started and not draft.fouls and (word.role is not Role.KIND or _may_begin(word, draft))
    if where == TRY:
        return draft.before.next is Next.TRY and not started
    if where == TOSS:
        return kind is PlayKind.COIN_TOSS
    if where == KICKED:
        if kind not in KICKS and not (kind is PlayKind.FIELD_GOAL and word.text in ("blocked", "returned")):
            return False
        return not (word.text == "touchback" and draft.kick_to is not None
            and draft.fields["kick_to"] < draft.rulebook.field_length)
    if where in (IN_FOUL, AFTER_FOUL):
        return bool(draft.fouls) and draft.in_foul
    if (word.text == "touchdown" and kind in KICKS and draft.fields.get("kick_to",
            draft.rulebook.field_length) >= draft.rulebook.field_length and not draft.events):
        return False
    if word.role is Role.EVENT and word.text in ("own recovery", "ball out of bounds"):
        return bool(draft.events)
    if where == ANYWHERE:
        return True
    return where == PLAY and (kind is not None)


def _may_begin(word: Word, draft: Draft) -> bool:
    kind = word.value[0]
    if draft.before.next is Next.COIN_TOSS:
        return kind is PlayKind.COIN_TOSS
    if kind in FREE_KICKS or kind is PlayKind.TRY_KICK:
        return kind is DUE_KIND.get(draft.before.next)
    return True
