"""Every action of the desk in one table: what it does, its keys, its words in the menu, when it is possible.

The window, the rooms, the menu, the key page and every button and hint read this table; an action that is added here
is on the key page; the widget that binds its id (:meth:`.keys.KeyMap.bind`) carries it out.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..coverage.answer import PracticeAnswer
from ..tagging.meanings import MOMENTS, SHOTS
from ..tagging.model import MomentKind, ShotKind

TYPED = frozenset(' -."?,')
"""What the entry line takes besides letters and digits; a mark's key is none of these."""
EVERYWHERE, TAG, REVIEW, SEQUENCE, PRACTICE = "Everywhere", "Tag", "Review", "Sequence", "Practice"
SECOND_PASS, WORDS, SEASON, FILES = "Sheet of all plays", "Own words", "Season", "The film's files"
MATCHING, CREWS, YARDS = "Match the angles", "Two crews", "Yards from the picture"


@dataclass(frozen=True, slots=True)
class Action:
    """``group`` is the room or page in which the action's keys count, or :data:`EVERYWHERE`. ``keys`` are those that it
    has as delivered, as Qt's portable key sequences (``Ctrl+1``). ``menu`` are its words in the menu, empty where it is
    in none. ``repeats`` lets a key that is held down act again. ``needs_game`` marks what is possible with an open game
    only; what is in a room always is. ``meaning`` says more than ``text``, where a button is hovered over."""

    id: str
    text: str
    group: str = EVERYWHERE
    keys: tuple[str, ...] = ()
    menu: str = ""
    repeats: bool = False
    needs_game: bool = False
    meaning: str = ""


def moment_action(kind: MomentKind) -> str:
    """Return the id of the action that marks this kind of moment."""
    return f"tag.mark.{kind.value.replace(' ', '_')}"


def shot_action(kind: ShotKind) -> str:
    """Return the id of the action that sets this kind of shot."""
    return f"tag.shot.{kind.value.replace(' ', '_')}"


def answer_action(answer: PracticeAnswer, beside: bool = False) -> str:
    """What a key of the practice page says; *beside* other answers, or alone."""
    return f"practice.{'also' if beside else 'film'}.{answer.value.replace(' ', '_')}"


MARKS = {
    MomentKind.SNAP: "[",
    MomentKind.DEAD_BALL: "]",
    MomentKind.FULL_WIDE: "\\",
    MomentKind.SIGNAL: "'",
    MomentKind.CHAINS_SET: ";",
    MomentKind.RESULT_SHOWN: "*",
    MomentKind.CONFRONTATION: "{",
    MomentKind.CONFRONTATION_OVER: "}",
    MomentKind.CARE: ":",
    MomentKind.ANNOUNCEMENT: "!",
    MomentKind.SNAP_NOT_ON_FILM: "<",
    MomentKind.CUT_WHILE_LIVE: ">",
    MomentKind.BALL_LOST: "|",
    MomentKind.NOT_ALL_IN_FRAME: "~",
    MomentKind.ZOOM_NOT_SETTLED: "^",
}
SHOT_KINDS = dict(zip(ShotKind, "1234567890", strict=True))

ANSWERS = dict(zip(PracticeAnswer, "0123456789", strict=True))

_DESK = (
    Action("desk.tag", "Go to the Tag room", keys=("Ctrl+1",)),
    Action("desk.review", "Go to the Review room", keys=("Ctrl+2",)),
    Action("desk.sequence", "Go to the Sequence room", keys=("Ctrl+3",)),
    Action("desk.open", "Open a game", keys=("Ctrl+O",), menu="Open a game…"),
    Action("desk.footage", "Open footage", keys=("Ctrl+Shift+O",), menu="Open footage…"),
    Action("desk.add", "Add footage to this game", menu="Add footage to this game…", needs_game=True),
    Action("desk.find", "Look for missing footage", menu="Look for missing footage…", needs_game=True),
    Action("desk.files", "The film's files and their order", keys=("F7",), menu="The film's files…", needs_game=True),
    Action("desk.practice", "Practise: say in each gap what to film now", keys=("F8",),
           menu="Practice…", needs_game=True),
    Action("desk.angle", "The same moment from the next angle", keys=("F12",), menu="Next angle", needs_game=True),
    Action("desk.add_angle", "Add another camera's film as a further angle, and match it",
           menu="Add another camera's film…", needs_game=True),
    Action("desk.beside", "The next angle beside this one; again: small in the corner; again: one", keys=("Shift+F12",),
           menu="Two angles side by side", needs_game=True),
    Action("desk.matching", "Which shots of the angles film which plays", keys=("Ctrl+F12",),
           menu="Match the angles…", needs_game=True),
    Action("desk.same_moment", "This picture, and one of another angle marked next, show the same moment",
           keys=("Alt+F12",), needs_game=True),
    Action("desk.tie_earlier", "The further angle shows this play one picture earlier", keys=("Ctrl+Alt+,",),
           repeats=True, needs_game=True),
    Action("desk.tie_later", "The further angle shows this play one picture later", keys=("Ctrl+Alt+.",),
           repeats=True, needs_game=True),
    Action("desk.compare_crews", "What two crews showed, play by play", menu="Compare two crews…", needs_game=True),
    Action("desk.yards", "Yards from the picture: a gain, or how far a spot is from a line", keys=("Ctrl+G",),
           menu="Yards from the picture…", needs_game=True),
    Action("desk.plays", "The sheet of all plays, for a second pass", keys=("F9",),
           menu="The sheet of all plays…", needs_game=True),
    Action("desk.words", "The staff's own words", keys=("F10",), menu="Own words…", needs_game=True),
    Action("desk.season", "The season: all games of a folder, their breakdown, sequences over games", keys=("Ctrl+4",),
           menu="Season and breakdown…"),
    Action("desk.picture", "Keep this picture as a file", keys=("Ctrl+Shift+S",),
           menu="Keep this picture…", needs_game=True),
    Action("desk.sheet", "Write the sheet of plays", menu="Write the sheet of plays…", needs_game=True),
    Action("desk.document", "Write the game for other tools", menu="Write the game for other tools…", needs_game=True),
    Action("desk.verify", "Check a pack that was handed on", menu="Check a pack…"),
    Action("desk.undo", "Undo", keys=("Ctrl+Z",), repeats=True, needs_game=True),
    Action("desk.redo", "Do again", keys=("Ctrl+Shift+Z", "Ctrl+Y"), repeats=True, needs_game=True),
    Action("desk.guide", "The guide: the job, the notation, what each mark means", keys=("F1",), menu="Guide…"),
    Action("desk.keys", "Show and change the keys", keys=("Shift+F1",), menu="Keys…"),
    Action("desk.fault", "Copy what helps to find a fault: versions, system, log",
           menu="Copy what helps to find a fault…"),
    Action("desk.look", "Dark or light", keys=("Ctrl+Shift+L",), menu="Dark or light"),
    Action("desk.larger", "Larger text", keys=("Alt+=",), menu="Larger text", repeats=True),
    Action("desk.smaller", "Smaller text", keys=("Alt+-",), menu="Smaller text", repeats=True),
    Action("desk.home_colour", "Colour of the home team", menu="Colour of the home team…", needs_game=True),
    Action("desk.visitors_colour", "Colour of the visitors", menu="Colour of the visitors…", needs_game=True),
    Action("desk.team_colours", "Teams in the desk's own colours", menu="Teams in the desk's own colours",
           needs_game=True),
    Action("desk.full", "Full screen", keys=("F11",), menu="Full screen"),
    Action("desk.mute", "Sound on or off", keys=("Ctrl+M",), menu="Sound on or off"),
    Action("desk.forget", "Forget which games were opened", menu="Forget which games were opened"),
    Action("desk.close", "Close the game", keys=("Ctrl+W",), menu="Close the game", needs_game=True),
    Action("desk.quit", "Leave", keys=("Ctrl+Q",), menu="Leave"),
)

_TIMELINE = (
    Action("timeline.closer", "Timeline: closer", keys=("Ctrl+=", "Ctrl++"), repeats=True),
    Action("timeline.wider", "Timeline: wider", keys=("Ctrl+-",), repeats=True),
    Action("timeline.whole", "Timeline: whole film", keys=("Ctrl+0",)),
    Action("timeline.back", "Timeline: look further back", keys=("Ctrl+Alt+Left",), repeats=True),
    Action("timeline.ahead", "Timeline: look further ahead", keys=("Ctrl+Alt+Right",), repeats=True),
    Action("timeline.shot_starts", "Timeline: the shot starts at this picture", keys=("Ctrl+[",)),
    Action("timeline.shot_ends", "Timeline: the shot ends at this picture", keys=("Ctrl+]",)),
    Action("timeline.camera_work", "Timeline: measure the camera work; again: a line for each measure",
           keys=("Ctrl+Alt+W",)),
    Action("timeline.listen", "Timeline: measure the sound", keys=("Ctrl+Alt+M",)),
)

# Letters, digits and spaces belong to the entry line; everything else may act.
_TAG = (
    *(Action(moment_action(kind), f"Mark: {kind.value}", TAG, (key,), meaning=MOMENTS[kind])
      for kind, key in MARKS.items()),
    Action("tag.commit", "Keep the play, go to the next shot", TAG, ("Return", "Enter")),
    Action("tag.commit_stay", "Keep the play, stay here", TAG, ("Shift+Return", "Shift+Enter")),
    Action("tag.next_reading", "Read the line the next way", TAG, ("Ctrl+Return", "Ctrl+Enter")),
    Action("tag.complete", "Complete the own word that is being typed", TAG, ("Tab",)),
    Action("tag.habit", "A bare number after a kick: yard line or yards", TAG, ("Ctrl+H",)),
    Action("tag.clear", "Clear the line, back to the film's place", TAG, ("Esc",)),
    Action("tag.take", "Take all that is suggested here; with a play typed, keep that too", TAG, ("=",)),
    Action("tag.find", "Look through the film for shots and moments", TAG, ("F6",)),
    Action("tag.toggle", "Play or pause", TAG, ("Space", "Ctrl+Space")),
    Action("tag.frame_back", "One picture back", TAG, ("Left", "Alt+Left"), repeats=True),
    Action("tag.frame_ahead", "One picture ahead", TAG, ("Right", "Alt+Right"), repeats=True),
    Action("tag.second_back", "One second back", TAG, ("Shift+Left", "Alt+Shift+Left"), repeats=True),
    Action("tag.second_ahead", "One second ahead", TAG, ("Shift+Right", "Alt+Shift+Right"), repeats=True),
    Action("tag.back", "Five seconds back", TAG, ("Ctrl+Left",), repeats=True),
    Action("tag.ahead", "Five seconds ahead", TAG, ("Ctrl+Right",), repeats=True),
    Action("tag.slower", "Slower", TAG, ("Ctrl+Down",), repeats=True),
    Action("tag.faster", "Faster", TAG, ("Ctrl+Up",), repeats=True),
    Action("tag.previous_shot", "Previous shot", TAG, ("PgUp",), repeats=True),
    Action("tag.next_shot", "Next shot", TAG, ("PgDown",), repeats=True),
    Action("tag.film_start", "To the film's first picture", TAG, ("Ctrl+Home",)),
    Action("tag.first_untagged", "To the first shot without its play", TAG, ("Ctrl+End",)),
    Action("tag.previous_play", "Previous play", TAG, ("Up",)),
    Action("tag.next_play", "Next play", TAG, ("Down",)),
    Action("tag.to_snap", "To the snap", TAG, ("Home",)),
    Action("tag.loop", "Play this shot round and round", TAG, ("Ctrl+L",)),
    Action("tag.remove_moment", "Remove the nearest moment", TAG, ("Ctrl+Backspace",)),
    Action("tag.remark", "A word of the crew's on the filming here; again: up to here", TAG, ("Ctrl+R",)),
    Action("tag.confirm_moments", "This shot's moments are right where they are", TAG, ("Ctrl+Shift+M",)),
    Action("tag.insert_play", "A play is missing before this one", TAG, ("Ins",)),
    Action("tag.play_earlier", "This play comes one earlier", TAG, ("Alt+Up",)),
    Action("tag.play_later", "This play comes one later", TAG, ("Alt+Down",)),
    Action("tag.remove_play", "Remove this play", TAG, ("Ctrl+Delete",)),
    Action("tag.film_play", "This shot films this play", TAG, ("Ctrl+F",)),
    Action("tag.film_earlier", "This play and all later ones are filmed one shot earlier", TAG, ("Alt+PgUp",)),
    Action("tag.film_later", "This play and all later ones are filmed one shot later", TAG, ("Alt+PgDown",)),
    Action("tag.unfilm_play", "No shot films this play", TAG, ("Ctrl+Shift+F",)),
    Action("tag.situation", "Say the situation yourself", TAG, ("F2",)),
    Action("tag.heading", "Teams, rules, date", TAG, ("F3",)),
    Action("tag.sheet", "Take in a play sheet", TAG, ("F4",)),
    Action("tag.new_shot", "A new shot begins here", TAG, ("Ctrl+N",)),
    Action("tag.split_shot", "Divide the shot in two here", TAG, ("Ctrl+D",)),
    Action("tag.merge_shots", "Join the shot with the next", TAG, ("Ctrl+J",)),
    Action("tag.remove_shot", "Remove the shot", TAG, ("Ctrl+Shift+Delete",)),
    Action("tag.files_as_shots", "Every file is a shot", TAG, ("Ctrl+Shift+N",)),
    Action("tag.confirm_shots", "All found shots are right", TAG, ("Ctrl+Shift+A",)),
    *(Action(shot_action(kind), f"This shot: {kind.value}", TAG, (f"Alt+{key}",), meaning=SHOTS[kind])
      for kind, key in SHOT_KINDS.items()),
)

# A letter or a sign means one thing in all rooms. The digits of the Sequence room are the buttons under its strip.
_REVIEW = (
    Action("review.next", "Next finding", REVIEW, ("N",), repeats=True),
    Action("review.previous", "Previous finding", REVIEW, ("P",), repeats=True),
    Action("review.again", "Play the passage again", REVIEW, ("R",)),
    Action("review.run_up", "Begin passages earlier or later", REVIEW, ("Shift+R",)),
    Action("review.agree", "Agree with the finding", REVIEW, ("A",)),
    Action("review.waive", "Waive the finding, with a reason", REVIEW, ("W",)),
    Action("review.comment", "Comment on the finding", REVIEW, ("C",)),
    Action("review.undecide", "Take the decision back", REVIEW, ("U",)),
    Action("review.toggle", "Play or pause", REVIEW, ("Space",)),
    Action("review.frame_back", "One picture back", REVIEW, ("Left", "Alt+Left"), repeats=True),
    Action("review.frame_ahead", "One picture ahead", REVIEW, ("Right", "Alt+Right"), repeats=True),
    Action("review.second_back", "One second back", REVIEW, ("Shift+Left",), repeats=True),
    Action("review.second_ahead", "One second ahead", REVIEW, ("Shift+Right",), repeats=True),
    Action("review.slower", "Slower", REVIEW, (",", "Ctrl+Down")),
    Action("review.faster", "Faster", REVIEW, (".", "Ctrl+Up")),
    Action("review.loop", "Play the passage round and round", REVIEW, ("L",)),
    Action("review.draw", "Draw on the picture", REVIEW, ("D",)),
    Action("review.arrow", "Draw an arrow", REVIEW, ("1",)),
    Action("review.circle", "Draw a circle", REVIEW, ("2",)),
    Action("review.freehand", "Draw a line by hand", REVIEW, ("3",)),
    Action("review.text", "Write words on the picture", REVIEW, ("4",)),
    Action("review.hold", "How long a drawing stays", REVIEW, ("H",)),
    Action("review.change", "Change the newest drawing here", REVIEW, ("E",)),
    Action("review.rub_out", "Remove the newest drawing here", REVIEW, ("Backspace",)),
    Action("review.compare", "Two plays side by side", REVIEW, ("B",)),
    Action("review.best", "The worst place beside the crew's own best", REVIEW, ("Shift+B",)),
    Action("review.to_snap", "Both to the snap", REVIEW, ("Home",)),
    Action("review.earlier_play", "Compare with an earlier play", REVIEW, ("Shift+PgUp",)),
    Action("review.later_play", "Compare with a later play", REVIEW, ("Shift+PgDown",)),
    Action("review.note", "Type a note at this moment", REVIEW, ("T",)),
    Action("review.find_note", "Find a note", REVIEW, ("/",)),
    Action("review.change_note", "Change the chosen note or remark", REVIEW, ("Shift+T",)),
    Action("review.remove_note", "Remove the chosen note or remark", REVIEW, ("Delete",)),
    Action("review.remark", "A word of the crew's on the filming here; again: up to here", REVIEW, ("Ctrl+R",)),
    Action("review.remarks", "To the remarks", REVIEW, ("Shift+M",)),
    Action("review.summary", "The summary of the game", REVIEW, ("S",)),
    Action("review.large", "Large type for a wall screen", REVIEW, ("G",)),
    Action("review.leave", "Back to the film", REVIEW, ("Esc",)),
)

_SEQUENCE = (
    Action("sequence.find", "Find words", SEQUENCE, ("/",)),
    Action("sequence.clear", "Ask for all plays again", SEQUENCE, ("Esc",)),
    Action("sequence.results", "To the plays found", SEQUENCE, ("F",)),
    Action("sequence.filters", "To the filters", SEQUENCE, ("Shift+F",)),
    Action("sequence.add", "Add the chosen play", SEQUENCE, ("Return", "Enter")),
    Action("sequence.add_with_before", "Add the chosen play and the two before it", SEQUENCE, ("Shift+Return",)),
    Action("sequence.add_all", "Add all plays found", SEQUENCE, ("Ctrl+Return",)),
    Action("sequence.items", "To the sequence", SEQUENCE, ("Q",)),
    Action("sequence.earlier", "Move the play earlier in the sequence", SEQUENCE, ("Alt+Up",)),
    Action("sequence.later", "Move the play later in the sequence", SEQUENCE, ("Alt+Down",)),
    Action("sequence.remove", "Take the play out of the sequence", SEQUENCE, ("Delete",)),
    Action("sequence.in_earlier", "Begin one picture earlier", SEQUENCE, ("7",), repeats=True),
    Action("sequence.in_later", "Begin one picture later", SEQUENCE, ("8",), repeats=True),
    Action("sequence.out_earlier", "End one picture earlier", SEQUENCE, ("9",), repeats=True),
    Action("sequence.out_later", "End one picture later", SEQUENCE, ("0",), repeats=True),
    Action("sequence.toggle", "Play or pause", SEQUENCE, ("Space",)),
    Action("sequence.frame_back", "One picture back", SEQUENCE, ("Alt+Left",), repeats=True),
    Action("sequence.frame_ahead", "One picture ahead", SEQUENCE, ("Alt+Right",), repeats=True),
    Action("sequence.through", "Play the sequence through", SEQUENCE, ("Shift+Space",)),
    Action("sequence.angles_alike", "All plays from the angles of the chosen one", SEQUENCE, ("Shift+A",)),
    Action("sequence.new", "New sequence", SEQUENCE, ("Ctrl+N",)),
    Action("sequence.delete", "Delete the sequence", SEQUENCE, ("Ctrl+Delete",)),
    Action("sequence.export", "Export the sequence", SEQUENCE, ("X",)),
)

_PRACTICE = (
    *(Action(answer_action(answer), f"Film now: {answer.value}", PRACTICE, (key,)) for answer, key in ANSWERS.items()),
    *(Action(answer_action(answer, beside=True), f"Film now, beside another answer: {answer.value}", PRACTICE,
             (f"Alt+{key}",))
      for answer, key in ANSWERS.items() if answer is not PracticeAnswer.NOTHING),
    Action("practice.go_on", "To the gap; there: keep the answers", PRACTICE, ("Return", "Enter")),
    Action("practice.toggle", "Play or pause", PRACTICE, ("Space",)),
    Action("practice.again", "Play the passage again", PRACTICE, ("R",)),
    Action("practice.back", "Take the last answer back", PRACTICE, ("Backspace",)),
    Action("practice.leave", "To the result, then back to the room; the answers are kept", PRACTICE, ("Esc",)),
)

_FILES = (
    Action("files.earlier", "The file comes one earlier", FILES, ("Alt+Up",), repeats=True),
    Action("files.later", "The file comes one later", FILES, ("Alt+Down",), repeats=True),
    Action("files.sort", "The files in the order in which the camera numbered them", FILES),
    Action("files.remove", "Leave the file out of the film", FILES, ("Delete",)),
    Action("files.lighten", "Make lighter copies to play of large files", FILES),
    Action("files.unlighten", "Delete the lighter copies", FILES),
    Action("files.go", "To the file in the film", FILES, ("Return", "Enter")),
    Action("files.leave", "Back to the room", FILES, ("Esc",)),
)

_MATCHING = (
    Action("matching.later", "The next shot films the play; the rest follows", MATCHING, ("Alt+Right",)),
    Action("matching.earlier", "The shot before films the play; the rest follows", MATCHING, ("Alt+Left",)),
    Action("matching.missing", "The angle missed the play; the rest moves up", MATCHING, ("Delete",)),
    Action("matching.filmed", "The angle filmed the play; the rest moves down", MATCHING, ("Insert",)),
    Action("matching.only_later", "The next shot films this play only", MATCHING, ("Ctrl+Right",)),
    Action("matching.only_earlier", "The shot before films this play only", MATCHING, ("Ctrl+Left",)),
    Action("matching.only_missing", "The angle missed this play; the rest stays", MATCHING, ("Ctrl+Delete",)),
    Action("matching.again", "Listen again; what you matched stays", MATCHING, ("Ctrl+R",)),
    Action("matching.kinds", "Matched shots are of the plays they are matched with", MATCHING, ("Ctrl+K",)),
    Action("matching.next_open", "To the next play that is open", MATCHING, ("Ctrl+PgDown",)),
    Action("matching.see", "See the play in both angles", MATCHING, ("Return", "Enter")),
    Action("matching.leave", "Back to the room", MATCHING, ("Esc",)),
)

_CREWS = (
    Action("crews.see", "See the play from both, side by side", CREWS, ("Return", "Enter")),
    Action("crews.next", "To the next play at which they differ", CREWS, ("Ctrl+PgDown",)),
    Action("crews.leave", "Back to the room", CREWS, ("Esc",)),
)

_YARDS = (
    Action("yards.back", "One picture back", YARDS, ("Left",), repeats=True),
    Action("yards.ahead", "One picture ahead", YARDS, ("Right",), repeats=True),
    Action("yards.second_back", "One second back", YARDS, ("Shift+Left",), repeats=True),
    Action("yards.second_ahead", "One second ahead", YARDS, ("Shift+Right",), repeats=True),
    Action("yards.other", "To the other picture", YARDS, ("Space",)),
    Action("yards.left", "The spot a pixel to the left", YARDS, ("Alt+Left",), repeats=True),
    Action("yards.right", "The spot a pixel to the right", YARDS, ("Alt+Right",), repeats=True),
    Action("yards.up", "The spot a pixel up", YARDS, ("Alt+Up",), repeats=True),
    Action("yards.down", "The spot a pixel down", YARDS, ("Alt+Down",), repeats=True),
    Action("yards.take", "Take what was measured as the play's gain", YARDS, ("Return", "Enter")),
    Action("yards.mode", "A spot held against a line, instead of a gain; again: a gain", YARDS, ("M",)),
    Action("yards.way", "The offense goes the other way on the film", YARDS, ("O",)),
    Action("yards.again", "Point at both spots anew", YARDS, ("Backspace",)),
    Action("yards.leave", "Back, without a change", YARDS, ("Esc",)),
)

_SECOND_PASS = (
    Action("second_pass.fill", "Fill the cells down from the first", SECOND_PASS, ("Ctrl+D",)),
    Action("second_pass.copy", "Copy the cells", SECOND_PASS, ("Ctrl+C",)),
    Action("second_pass.paste", "Paste a block of cells from here", SECOND_PASS, ("Ctrl+V",)),
    Action("second_pass.clear", "Take back what was said in the cells", SECOND_PASS, ("Delete",)),
    Action("second_pass.find", "Show only plays that say something", SECOND_PASS, ("Ctrl+F",)),
    Action("second_pass.sort", "Sort by this column; again: the other way", SECOND_PASS, ("Ctrl+E",)),
    Action("second_pass.toggle", "Play or pause", SECOND_PASS, ("Ctrl+Space",)),
    Action("second_pass.leave", "All plays again; then to the room", SECOND_PASS, ("Esc",)),
)

_WORDS = (
    Action("words.keep", "Keep the words for this game", WORDS, ("Ctrl+S",)),
    Action("words.add", "Add a word", WORDS, ("Ctrl+N",)),
    Action("words.remove", "Remove the word", WORDS, ("Ctrl+Delete",)),
    Action("words.earlier", "The word comes earlier", WORDS, ("Alt+Up",)),
    Action("words.later", "The word comes later", WORDS, ("Alt+Down",)),
    Action("words.leave", "Back to the room", WORDS, ("Esc",)),
)

_SEASON = (
    Action("season.table", "To the table", SEASON, ("Alt+T",)),
    Action("season.open_cell", "Play the plays of the cell", SEASON, ("Return", "Enter")),
    Action("season.through", "Play from the chosen play on, or stop", SEASON, ("Space",)),
    Action("season.angle", "Show the plays from the next angles", SEASON, ("Alt+V",)),
    Action("season.add", "Put the chosen plays into the sequence", SEASON, ("Alt+A",)),
    Action("season.add_all", "Put all plays of the cell into the sequence", SEASON, ("Alt+Shift+A",)),
    Action("season.play_sequence", "Play the sequence through, or stop", SEASON, ("Shift+Space",)),
    Action("season.remove", "Take the chosen play out of the sequence", SEASON, ("Delete",)),
    Action("season.earlier", "The chosen play comes one earlier", SEASON, ("Alt+Up",), repeats=True),
    Action("season.later", "The chosen play comes one later", SEASON, ("Alt+Down",), repeats=True),
    Action("season.empty", "Take all plays out of the sequence", SEASON, ("Ctrl+Delete",)),
    Action("season.export", "Export the sequence", SEASON, ("X",)),
    Action("season.sequence_room", "See the cell's plays of the open game in the Sequence room", SEASON,
           ("Ctrl+Return",)),
    Action("season.write", "Write the breakdown as PDF, XLSX or CSV", SEASON, ("Alt+W",)),
    Action("season.find", "Only plays of which words were said", SEASON, ("/",)),
    Action("season.define", "Distance groups, zones, success", SEASON, ("Alt+D",)),
    Action("season.save", "Save this breakdown under a name", SEASON, ("Ctrl+S",)),
    Action("season.every_game", "All games, or none", SEASON, ("Alt+G",)),
    Action("season.folder", "Choose the season's folder", SEASON, ("Ctrl+F",)),
    Action("season.also", "One more folder for the season", SEASON, ("Ctrl+Shift+F",)),
    Action("season.reports", "Write the reports of the ticked games", SEASON, ()),
    Action("season.refresh", "Look at the games again", SEASON, ("F5",)),
    Action("season.leave", "Back", SEASON, ("Esc",)),
)

ACTIONS = (*_DESK, *_TIMELINE, *_TAG, *_REVIEW, *_SEQUENCE, *_PRACTICE, *_FILES, *_MATCHING, *_CREWS,
           *_YARDS, *_SECOND_PASS, *_WORDS, *_SEASON)

FOR_ANGLES = frozenset({"desk.angle", "desk.beside", "desk.matching", "desk.compare_crews"})
"""What the menu shows with several angles only."""

# The menu, part by part.
MENU = (("desk.open", "desk.footage", "desk.add", "desk.find", "desk.files"),
        ("desk.add_angle", "desk.angle", "desk.beside", "desk.matching", "desk.compare_crews"),
        ("desk.plays", "desk.words", "desk.yards"),
        ("desk.practice", "desk.season"),
        ("desk.picture", "desk.sheet", "desk.document", "desk.verify"),
        ("desk.close",),
        ("desk.home_colour", "desk.visitors_colour", "desk.team_colours"),
        ("desk.look", "desk.larger", "desk.smaller", "desk.full", "desk.mute"),
        ("desk.guide", "desk.keys", "desk.fault", "desk.forget"),
        ("desk.quit",))
