package plan

import "countback/projections/fastener"

// Geometry is the hole as the length window sees it, as the plan knows it. The
// thread is that of the hole, or else of what belongs in it.
func (s *Seat) Geometry() fastener.Hole {
	h := fastener.Hole{
		ThreadIn: s.ThreadIn, GripMm: s.Grip, DepthMm: s.Depth,
		Through: s.Through, FreeBehindMm: s.FreeBehind,
	}
	if m, ok := s.Turned(); ok {
		h.Thread = m.Spec.Thread
		h.RunInMm = m.RunIn
	}
	for i := range s.Members {
		if s.Members[i].Role == RoleNut {
			h.NutHeightMm = s.Members[i].Height
		}
	}
	if spec, err := fastener.Parse(s.Thread); s.Thread != "" && err == nil {
		h.Thread = spec.Thread
	}
	return h
}

// Turned is the member that is turned into the host: the stud, or else the
// bolt. A hole for loans has none.
func (s *Seat) Turned() (Member, bool) {
	for _, role := range [...]Role{RoleStud, RoleBolt} {
		for i := range s.Members {
			if s.Members[i].Role == role {
				return s.Members[i], true
			}
		}
	}
	return Member{}, false
}

// Window is what becomes of the hole's own fastener in it; ok is false where
// nothing is turned into it.
func (s *Seat) Window() (v fastener.Verdict, ok bool) {
	m, ok := s.Turned()
	if !ok {
		return v, false
	}
	return fastener.Window(s.Geometry(), m.Spec), true
}
