package fastener

// lookMm is the smallest difference that the window speaks of: half of the
// last digit shown.
const lookMm = 0.05

// Window is Rules.Window with the usual rules.
func Window(hole Hole, spec Spec) Verdict { return usual.Window(hole, spec) }

// Window says what would happen if a fastener of this kind went into the hole.
// The part that enters, e = length - grip (of a stud: the run-in), is held
// against a lower limit, factor x diameter by the material of the thread, and
// against an upper one: in a blind hole the full thread less the runout, in a
// through hole the room behind it. Above the upper limit it is refused, below
// the lower one it is warned of (common practice). What is not known leaves
// the verdict Unknown, unless what is known already decides it.
func (r Rules) Window(hole Hole, spec Spec) Verdict {
	v := Verdict{Spec: spec, Hole: hole}
	if f := formRules[spec.Form].family; f != outside {
		v.Outcome = NotScrewed
		return v
	}
	switch start(spec.Thread, hole.Thread) {
	case startNo:
		v.Outcome = NoStart
		return v
	case startUnknown:
		v.Lacks |= LackThread
	}
	r.limits(&v)
	v.enter()
	outcome := Fits
	for _, found := range [...]Outcome{v.above(r), v.nut(), v.below()} {
		outcome = worse(outcome, found)
	}
	if outcome == Fits && v.Lacks != 0 {
		outcome = Unknown
	}
	v.Outcome = outcome
	return v
}

// AlsoStart is the verdict on each of the kinds that would start in the hole
// though another belongs there: too long, by how much; too short, with how
// much thread left. The order is that of the kinds; those that are
// interchangeable with the right one are left out.
func (r Rules) AlsoStart(hole Hole, right Spec, kinds []Spec) []Verdict {
	var list []Verdict
	for _, k := range kinds {
		if formRules[k.Form].family != outside || Interchangeable(right, k).Yes() {
			continue
		}
		if v := r.Window(hole, k); v.Outcome != NoStart {
			list = append(list, v)
		}
	}
	return list
}

// limits computes the least that should and the most that may enter.
func (r Rules) limits(v *Verdict) {
	t := v.Hole.Thread
	if !t.Known() {
		t = v.Spec.Thread
	}
	if k, ok := r.factor(v.Hole.ThreadIn); ok {
		v.factor = k
		v.WantsMm = Mm(k * t.DiameterMm)
	} else {
		v.Lacks |= LackMaterial
	}
	if v.Hole.through() {
		return
	}
	if depth, ok := v.Hole.DepthMm.Mm(); ok {
		v.MayMm = Mm(max(0, depth-r.RunoutPitches*t.PitchMm))
	} else {
		v.Lacks |= LackDepth
	}
}

// enter computes how much of the fastener enters the hole, and of a stud what
// stands out of it.
func (v *Verdict) enter() {
	length, known := v.Spec.Length().Mm()
	if !known {
		v.Lacks |= LackLength
	}
	if v.Spec.Form != Stud {
		grip, ok := v.Hole.GripMm.Mm()
		if !ok {
			v.Lacks |= LackGrip
		}
		if ok && known {
			v.EntersMm = Mm(length - grip)
		}
		return
	}
	v.EntersMm = v.Hole.RunInMm
	run, ok := v.Hole.RunInMm.Mm()
	if !ok {
		v.Lacks |= LackRunIn
	}
	if ok && known {
		v.ProudMm = Mm(length - run)
	}
}

// above holds what enters against the upper limit.
func (v *Verdict) above(r Rules) Outcome {
	enters, ok := v.EntersMm.Mm()
	if !ok {
		if v.Hole.through() && !v.Hole.FreeBehindMm.known {
			v.Lacks |= LackRoom
		}
		return Fits
	}
	if enters <= 0 {
		v.ByMm = max(0, -enters)
		return NoReach
	}
	if v.Hole.through() {
		return v.behind(enters)
	}
	if may, ok := v.MayMm.Mm(); ok && enters > may+lookMm {
		v.ByMm = enters - may
		return Bottoms
	}
	return Fits
}

// behind holds what comes out of a through hole against the room there. The
// length of the thread may be unknown: then all that enters might come out.
func (v *Verdict) behind(enters float64) Outcome {
	free, ok := v.Hole.FreeBehindMm.Mm()
	if !ok {
		v.Lacks |= LackRoom
		return Fits
	}
	depth, ok := v.Hole.DepthMm.Mm()
	if !ok {
		if enters > free+lookMm {
			v.Lacks |= LackDepth
		}
		return Fits
	}
	v.MayMm = Mm(depth + free)
	if enters > depth+free+lookMm {
		v.ByMm = enters - depth - free
		return Strikes
	}
	return Fits
}

// nut holds what a stud leaves standing against the stack and its nut.
func (v *Verdict) nut() Outcome {
	if v.Spec.Form != Stud {
		return Fits
	}
	grip, okGrip := v.Hole.GripMm.Mm()
	height, okNut := v.Hole.NutHeightMm.Mm()
	if !okGrip {
		v.Lacks |= LackGrip
	}
	if !okNut {
		v.Lacks |= LackNutHeight
	}
	if okGrip && okNut {
		v.NeedsMm = Mm(grip + height)
	}
	proud, ok := v.ProudMm.Mm()
	switch {
	case !ok || !okGrip:
		return Fits
	case proud <= grip:
		v.ShortMm = grip - proud
		return NutOff
	case okNut && proud < grip+height-lookMm:
		v.ShortMm = grip + height - proud
		return NutShort
	}
	return Fits
}

// below holds the thread that carries against the lower limit: no more than
// an insert or the wall of a through hole has.
func (v *Verdict) below() Outcome {
	carries, ok := v.EntersMm.Mm()
	wants, known := v.WantsMm.Mm()
	if !ok || !known {
		return Fits
	}
	if insert, ok := v.Hole.InsertDepthMm.Mm(); ok {
		carries = min(carries, insert)
	}
	if depth, ok := v.Hole.DepthMm.Mm(); ok && v.Hole.through() {
		carries = min(carries, depth)
	}
	v.CarriesMm = Mm(max(0, carries))
	if carries < wants-lookMm {
		return Short
	}
	return Fits
}
