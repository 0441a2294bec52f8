package exports

import (
	"cmp"
	"slices"
	"strings"

	"tautline/analysis/body"
)

// speaker knows what the muscles and the groups of one model are called in one
// voice.
type speaker struct {
	model  *body.Model
	voice  Voice
	latin  bool              // technical voice: muscles in Latin
	single []string          // of each muscle: what it is called alone, without its side
	region []int             // of each muscle: its index in regions, or -1
	whole  map[sided]float64 // cross-section of each region on each side, m2
}

// sided is a region on one side.
type sided struct {
	region int
	side   body.Side
}

func newSpeaker(m *body.Model, v Voice) *speaker {
	sp := &speaker{model: m, voice: v, single: make([]string, len(m.Muscles)), region: make([]int, len(m.Muscles)), whole: map[sided]float64{}}
	for i := range m.Muscles {
		mu := &m.Muscles[i]
		key := body.Bare(mu.Key)
		sp.single[i] = cmp.Or(alone[key], plainNoun(mu))
		sp.region[i] = -1
		if r, ok := regionOf[key]; ok {
			sp.region[i] = r
			sp.whole[sided{r, mu.Side}] += mu.PCSA
		}
	}
	return sp
}

// regionOf finds a muscle's region by its key without side.
var regionOf = func() map[string]int {
	of := map[string]int{}
	for i, r := range regions {
		for _, key := range r.muscles {
			of[key] = i
		}
	}
	return of
}()

// subject names a functional group: in plain voice by the muscles that the
// finding rests on, in technical voice by what the group does, or where names are
// Latin and few by the muscles too.
func (sp *speaker) subject(movement body.MovementID, toward bool, muscles []body.MuscleID) subject {
	mv := &sp.model.Movements[movement]
	if sp.voice == Technical && sp.latin {
		s := subject{side: sp.side(mv, muscles)}
		s.nouns, s.parents = sp.latinNouns(muscles)
		s.plural = len(s.nouns) > 1
		if said := list(s.nouns); said != "" && len(s.nouns) <= spokenAtOnce && width(said) <= latinAtOnce {
			return s
		}
	}
	if sp.voice == Technical {
		s := subject{nouns: []string{groupName(mv, toward)}, plural: true}
		if mv.Side != body.Middle { // else the name says it: "left side benders"
			s.side = side(mv.Side.String())
		}
		return s
	}
	s := subject{side: sp.side(mv, muscles)}
	s.nouns, s.parents = sp.nouns(muscles)
	if len(s.nouns) == 0 || len(s.nouns) > spokenAtOnce {
		// Too many to name: say what they are together, or what they do.
		group, does := mv.AgentsPlain, mv.Plain
		if !toward {
			group, does = mv.AgainstPlain, mv.PlainAway
		}
		noun := cmp.Or(group, "muscles for "+does)
		if s.side != nowhere { // the side is said once, at the end
			noun = strings.TrimPrefix(noun, string(s.side)+" ")
		}
		// Two parts in one name are two names, so that neither is said twice.
		if s.nouns, s.parents = []string{noun}, nil; !strings.HasPrefix(noun, "muscles ") {
			s.nouns = strings.SplitN(noun, " and ", 2)
		}
	}
	s.plural = len(s.nouns) > 1 || strings.Contains(s.nouns[0], " and ") || plural(s.nouns[0])
	return s
}

// side tells on which side a group is. Movements of the trunk and the neck have
// no side of their own; their muscles may all lie on one.
func (sp *speaker) side(mv *body.Movement, muscles []body.MuscleID) side {
	if mv.Side != body.Middle {
		return side(mv.Side.String())
	}
	found := nowhere
	for i, id := range muscles {
		s := side(sp.model.Muscles[id].Side.String())
		if i > 0 && s != found {
			return nowhere
		}
		found = s
	}
	return found
}

// spokenAtOnce is how many parts of the body one sentence is about; of more it
// says what they do together.
const spokenAtOnce = 2

// latinAtOnce is how many characters of Latin one sentence is about; of more it
// says what they do together.
const latinAtOnce = 42

// nouns names muscles in everyday words without their side. Muscles that make up
// at least half of a region, by cross-section, go by its name: the analysis
// calls a group long by the same half. Fewer keep their own names, for the
// region's would claim too much; the second result is then the region.
func (sp *speaker) nouns(muscles []body.MuscleID) (nouns, parents []string) {
	held := map[sided]float64{}
	for _, id := range muscles {
		held[sp.at(id)] += sp.model.Muscles[id].PCSA
	}
	for _, id := range muscles {
		noun, parent := sp.noun(id, held), ""
		if r := sp.region[id]; r >= 0 {
			parent = regions[r].noun
		}
		if !slices.Contains(nouns, noun) {
			nouns, parents = append(nouns, noun), append(parents, parent)
		}
	}
	return nouns, parents
}

// noun names one muscle among others whose cross-sections are held, by region.
func (sp *speaker) noun(id body.MuscleID, held map[sided]float64) string {
	at := sp.at(id)
	if whole := sp.whole[at]; at.region >= 0 && whole > 0 && held[at] >= whole/2 {
		return regions[at.region].noun
	}
	return sp.single[id]
}

func (sp *speaker) at(id body.MuscleID) sided {
	return sided{sp.region[id], sp.model.Muscles[id].Side}
}

// plainNoun is a muscle's plain name without its side.
func plainNoun(mu *body.Muscle) string {
	name := mu.Plain
	if name == "" {
		name = mu.Name
	}
	return bareName(name, mu.Side)
}

// bareName takes the side off the front of a name.
func bareName(name string, s body.Side) string {
	return strings.TrimPrefix(name, s.String()+" ")
}

// spokenName turns a name of the tables, "gastrocnemius, medial head", into the
// way it is said: "medial head of the gastrocnemius".
func spokenName(name string) string {
	whole, part, ok := strings.Cut(name, ", ")
	if !ok || strings.Contains(part, ",") {
		return name
	}
	return part + " of the " + whole
}

// groupName is the technical name of a functional group.
func groupName(mv *body.Movement, toward bool) string {
	if toward {
		return mv.Agents
	}
	return mv.Against
}
