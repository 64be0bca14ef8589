"""The game itself: rulebooks, situations, plays, the down-and-distance tracker and the notation of plays."""
