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
    "sit sits sitting stood sat began begin begins begun felt feel feels heard rose shook wore led sent send "
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
    "elig outta gonna kinda sorta designed eligible upstairs forever index card obvious intentionally "
    "directional mortar shield surprise scrum sprung "
    "window pocket lane gap traffic trenches bodies bench cheerleaders crowd fans"
)
_VERBS = (
    "battle whirl arrive happen remain discuss enter approach surprise manage help argue talk limp walk attack "
    "close open bump "
    "collide crash bang direct guide lift raise lower pause assist "
    "change replace switch swap join organize huddle record learn coach practice earn agree look turn stumble order "
    "airmail snare rewind nudge grind hammer thump whack crunch pummel crumple crush corral herd snuff stonewall "
    "stymie bottle engulf swallow flatten level plaster clobber bulldoze trample trundle lumber juke jitter feint "
    "dash zoom squirt squeak scrape swipe jar dislodge jostle jolt rattle tug wrangle wrestle grapple cling clutch "
    "cradle launch loft fling chuck flip unload deliver thread squeeze rifle laser skid carom ricochet "
    "redirect angle shade slice knife slash slither loop release stem plant vault flop collect pluck reel spear "
    "stab disrupt contest shadow lag blanket mug jam reroute bracket spy seal crack chip fold arc insert flow fill "
    "plug clog build shed disengage swim club pinch peel bail invert disguise show bluff threaten harass flush "
    "converge swarm rally meet greet cap thud saddle horse ankle shoestring hike exchange alert trade align "
    "compress overload unbalance communicate gesture protest taunt slam flex bow salute embarrass punish torch "
    "roast toast scorch carve dice methodical march salt ice milk bleed chew drain waste conserve preserve debate "
    "confer examine inspect warn restrain escort tend treat hobble exit relieve spell cramp hydrate heal suffer "
    "injure hurt wince grimace favor shake adjust tighten tie retie fix dry towel warm loosen appear seem prove "
    "grow act sound smell taste linger stall dawdle freeze start commence resume proceed conclude accomplish "
    "achieve seek hope expect intend wish opt select bear tote lug cart transport obtain acquire seize capture grip "
    "grasp clasp clench shove thrust propel project cast leak ooze trickle spurt explode erupt hustle scamper bolt "
    "bound stomp tramp plod amble stroll saunter roam meander orchestrate execute perform enact employ utilize "
    "exploit abuse expose reveal display demonstrate exhibit present offer provide supply furnish allow "
    "permit enable absorb endure survive withstand resist weather outlast outmuscle overpower outjump outleap "
    "outrace outduel outsmart bait lure tempt sucker deceive deke mislead holler chirp jaw bark scold lecture "
    "praise credit blame thank congratulate applaud tally notch register average chart note tape pan focus "
    "separate extend create pick pound gash misjudge hug press charge remember continue"
)
_OTHERS = (
    "monster trickery less gimmick razzle dazzle wrinkle retro vintage classic textbook handsome nifty neat smooth "
    "crisp tidy ragged awkward clumsy careless reckless wild insane nuts bonkers unreal stellar superb mediocre "
    "lousy dreadful nasty vicious brutal savage fierce violent sturdy rugged gritty scrappy feisty plucky gutsy "
    "bold daring risky wise savvy heady veteran rookie youngster underclassman backup starter reserve replacement "
    "emergency position natural midair airborne overhead sidearm overhand backhand offhand crossbody offplatform "
    "jumpball alleyoop pileup logjam dogpile fracas scuffle skirmish scrap tussle melee pandemonium chaos confusion "
    "disarray miscommunication mixup mistiming breakdown bust blown assignment responsibility leverage pursuit "
    "discipline technique fundamentals motor energy confidence swagger attitude mentality headlong feetfirst "
    "lengthwise crosswise downhill uphill horizontal vertical diagonal perimeter interior exterior flank void "
    "vacancy cushion separation crease creases chute funnel corridor hardly scarcely practically virtually "
    "essentially precisely merely purely solely mainly largely partly partially somewhat fairly extremely "
    "ridiculously insanely lefty righty lefthanded righthanded southpaw nosetackle ballcarriers skill bigs hogs "
    "frontline backline secondary corps unit squad pack gimme clincher backbreaker killer spark boost "
    "break turning sequence drought slump snowy swampy soggy greasy damp drizzle downpour gust gusty breeze breezy "
    "glare dusk floodlights shin calf thigh hamstring quad groin hip waist stomach ribs spine neck throat chin "
    "mouth ear eye forehead elbow forearm wrist knuckle thumb palm fist heel sole whoever whomever whichever "
    "whatever midstride midway halfway partway beneath alongside amid amidst amongst trainers paramedics "
    "stretcher concussion cramps opponent opponents foe foes rival rivals hosts fullspeed flatfooted wideopen "
    "unblocked uncovered unaccounted undercover "
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
