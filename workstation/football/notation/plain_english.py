"""Words of plain English that have nothing to do with football: passed over where a line stops at them.

Idle words tell nothing of a play whatever stands beside them, and a line keeps its tick; the others make a question of
the answer. Words that deny or leave open ("not", "instead"), and words that are also the trade's, are not in the lists.
"""

from __future__ import annotations

from .verbs import FORMS, regular_forms

_IDLE_VERBS = (
    "decide wonder notice realize plan prepare celebrate cheer yell shout scream laugh clap complain explain "
    "wait stay rest jog pursue chase rotate surround survey aim lean twist wiggle zigzag swerve creep "
    "crawl climb tumble topple fool confuse outrun overtake protect support film train enjoy love hate "
    "deserve prefer wander follow circle improvise flutter bob hesitate stutter squirm "
    "gallop glide prance strut trudge stride cruise scoot scurry skip shimmy wriggle stagger wade "
    "sidestep backpedal pivot shuffle collapse blitz struggle search "
)
_IDLE_ADVERBS = (
    "aggressively badly beautifully bravely brilliantly calmly carefully casually cleanly cleverly comfortably "
    "deeply desperately directly eagerly easily effortlessly eventually expertly fiercely finally firmly gently "
    "gracefully greatly happily hastily heavily immediately incredibly instantly lazily lightly loudly luckily "
    "miraculously narrowly neatly nervously nicely oddly patiently perfectly physically playfully poorly powerfully "
    "promptly properly quickly quietly rapidly really sadly safely sharply shortly simply slightly slowly smartly "
    "smoothly softly sorely steadily strangely strongly suddenly surely surprisingly swiftly terribly thankfully "
    "tightly totally truly typically unbelievably unfortunately usually violently weakly wildly wisely wonderfully "
    "honestly frankly literally absolutely definitely obviously naturally nonetheless however anyway always forever "
    "together along nearby somewhere everywhere also because although though so therefore"
)
_IDLE_OTHERS = (
    "stood sat began begin begins begun felt feel feels heard rose shook wore led sent send "
    "sends sending thought "
    "mad angry happy upset biggest best worst young old tall small tiny large heavy strong smart clever silly sloppy "
    "messy ugly wonderful excellent brave tired wet muddy slippery windy rainy cold hot dark strange weird funny odd "
    "sudden empty full crowded special usual typical normal simple complicated slick icy soaked frozen foggy humid "
    "sunny patient nervous excited proud calm hungry fresh gassed winded quiet loud "
    "moment minute reason idea luck bunch group pair mess chance effort burst "
    "mom dad mother father parent parents brother sister son daughter friend buddy woman girl girls child children "
    "person dude grandma grandpa uncle freshman sophomore junior senior captain captains "
    "trainer doctor band fence bleachers scoreboard camera picture video mud rain snow light lights cleats shoe "
    "shoes "
    "shirt pants glove gloves pads whistle referees officials umpire heads tails hash "
    "catchable jailhouse smart upright flutters spiraling spiral beautifully gorgeous horrible "
    "awful decent solid modest pesky tricky cagey shaky stout "
    "forever index card obvious intentionally "
    "directional mortar shield surprise scrum sprung "
    "window pocket lane gap traffic trenches bodies bench cheerleaders crowd fans"
)
_VERBS = (
    "battle whirl arrive happen remain discuss enter approach surprise manage help argue talk limp walk attack "
    "close open bump "
    "collide crash bang direct guide lift raise lower pause assist "
    "change replace switch swap join organize huddle record learn coach practice earn agree look turn stumble order "
    "separate extend create pick pound gash misjudge hug press charge remember continue"
)
_OTHERS = (
    "when while whenever blindsided way seam danced thought forgot knew know knows problem trouble stands told "
    "tell tells "
    "leave leaves leaving "
    "became become "
    "meant built understood "
    "fastest yellow red blue white black green slow fast entire whole "
    "different several many few certain possible main real true "
    "thing mistake fault case piece track name mask cage "
    "since apart anywhere once twice ever normally mostly hopefully "
    "already yet until wherever either every each"
)


def _words(verbs: str, others: str) -> frozenset[str]:
    return frozenset((*others.split(), *(form for verb in verbs.split() if verb not in FORMS
        for form in regular_forms(verb))))


IDLE = _words(_IDLE_VERBS, f"{_IDLE_ADVERBS} {_IDLE_OTHERS}")
"""Every form of the idle ones."""
WORDS = IDLE | _words(_VERBS, _OTHERS)
"""Every form of all of them."""
