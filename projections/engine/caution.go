package engine

import "countback/events"

// Caution is one line of the card that is read before flame or weld.
type Caution struct {
	ID     string // as stored when it is confirmed
	Text   string
	Why    string
	Source string
}

const practice = "common practice"

var cautions = [...]Caution{
	{"battery", "Both battery cables off and isolated, negative first; the work clamp near the weld; modules 300 mm away or removed, and no cable along them", "induced spikes", practice},
	{"fuel", "Fuel drained, lines capped, rail off or covered; oil and coolant wiped; rags away; extinguisher ready, and a fire watch for 30 minutes after", "fire", practice},
	{"solvent", "No chlorinated cleaner on the part or in the air; never brake cleaner before welding", "arc and hot metal make phosgene of it: deaths and lasting damage are reported", practice},
	{"zinc", "Plating ground off, room ventilated, head out of the plume", "zinc burns to fume; the illness starts hours later; 5 mg/m3 is the limit", practice},
	{"eyes", "Shade, and a face shield over glasses; a full shield when hard pieces are chipped", "flying pieces", practice},
	{"aluminium", "Aluminium is not soaked with heat: temperature stick or gun", "the heat treatment is lost, and the soft zone does not come back", practice},
	{"steam", "Coolant out of the jackets, closed cavities vented", "steam", practice},
	{"openings", "Openings covered: ports, valley, plug holes", "chips and spatter inside are a loss in a cavity", practice},
	{"alloy", "Magnesium or an unknown alloy: no spark, no torch", "fire", practice},
}

// Cautions is the card before flame or weld. Every line has to be confirmed by
// its ID before a hot method may be asked for (rule R23).
func Cautions() []Caution { return append([]Caution(nil), cautions[:]...) }

// CautionIDs lists the ids of all cautions, for recording them as confirmed.
func CautionIDs() []string {
	ids := make([]string, len(cautions))
	for i := range cautions {
		ids[i] = cautions[i].ID
	}
	return ids
}

// unconfirmed is the first caution that was not confirmed for a case.
func (c *Case) unconfirmed() (Caution, bool) {
	for i := range cautions {
		if c.HotWork == 0 || !contains(c.Cautions, cautions[i].ID) {
			return cautions[i], true
		}
	}
	return Caution{}, false
}

// hotConfirmed says that every caution stands confirmed for a case.
func (s *State) hotConfirmed(code events.Code) bool {
	c, ok := s.Case(code)
	if !ok {
		return false
	}
	_, open := c.unconfirmed()
	return !open
}
