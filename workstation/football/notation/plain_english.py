"""Words of plain English that have nothing to do with football: passed over as a question where a line stops at them.

Words that deny or leave open ("not", "instead"), and words that are also the trade's, are not in the lists.
"""

from __future__ import annotations

from .verbs import FORMS, regular_forms

_VERBS = (
    "arrive happen decide wonder notice realize remember manage plan prepare continue "
    "help celebrate cheer yell shout scream laugh clap argue complain talk discuss explain wait stay remain rest "
    "limp walk jog pursue approach enter attack blitz rotate surround collapse close open bump collide "
    "crash bang struggle battle search survey aim direct guide lift raise lower lean twist whirl wiggle "
    "zigzag swerve creep crawl climb tumble topple pause surprise fool confuse outrun overtake protect "
    "assist support replace change switch swap join organize huddle film record learn coach practice train enjoy love "
    "hate deserve earn need prefer agree look turn stumble wander follow order circle separate extend create "
    "pick pound gash misjudge hug press charge"
)
_OTHERS = (
    "sent send sends sending told tell tells knew know knows felt feel feels leave leaves leaving "
    "stood sat began begin begins begun became become meant heard forgot rose shook built understood wore led "
    "mad angry happy upset fastest biggest best worst "
    "yellow red blue white black green young old tall small tiny large heavy strong slow fast smart clever silly "
    "sloppy messy ugly wonderful excellent brave tired wet muddy slippery windy rainy cold hot dark entire whole "
    "different several many few certain possible main real true special usual typical normal simple complicated "
    "strange weird funny odd sudden empty full crowded "
    "moment minute way thing reason idea chance luck mistake problem trouble fault case piece bunch group pair "
    "mom dad mother father parent parents brother sister friend buddy woman girl girls child children person dude "
    "trainer doctor band fence bleachers track scoreboard camera picture video mud rain snow light lights cleats "
    "shoe shoes shirt pants glove gloves pads name mask cage "
    "because although though since therefore also together along apart nearby somewhere anywhere everywhere once twice "
    "ever always usually normally mostly hopefully honestly frankly literally totally absolutely definitely "
    "surely already yet while until when whenever wherever either every each"
)
WORDS = frozenset((*_OTHERS.split(), *(form for verb in _VERBS.split() if verb not in FORMS
    for form in regular_forms(verb))))
"""Every form of them."""
