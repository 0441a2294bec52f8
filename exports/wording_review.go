package exports

// reviewWords are the review page's own words, by what its script calls them.
var reviewWords = map[string]string{
	"why": "Why", "before": "The first mark is still to come.", "nothing": "There is no picture of this posture.",
	"care": "Take care", "work": "What works", "long": "What is drawn long", "short": "What is near its shortest",
	"untold": "What cannot be told", "pulls": pullsTitle, "doubts": "Doubts",
	"play": "Play", "stop": "Pause", "previous": "Previous phase", "next": "Next phase", "time": "Time in the recording",
	"findings": "Findings of the phase", "views": "Side that the figure is seen from", "phases": "Phases", "score": "The score: click a moment to go there",
	"recording": "The recording", "missing": "The recording is not beside this page; everything else works without it.",
}

// reviewNoScript is shown where scripts are off.
const reviewNoScript = "This page needs scripts to move through time. The class notes hold the same findings without."

// reviewKeys tells the keys; ready to write into the page.
const reviewKeys = "Keys: <kbd>[</kbd> and <kbd>]</kbd> for the phase before and after, <kbd>←</kbd> and <kbd>→</kbd> for a second, <kbd>Home</kbd>, <kbd>End</kbd>, <kbd>Space</kbd> to play."
