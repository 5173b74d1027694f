package share

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"countback/events"
	"countback/projections/ledger"
)

const (
	bagA, bagB, drawer   = ledger.AccountID(1), ledger.AccountID(2), ledger.AccountID(3)
	m8, m8better, m8long = Class(1), Class(2), Class(3)
)

func good(c Class, at ledger.AccountID, qty int32) Supply {
	return Supply{Class: c, Place: at, Qty: qty, Usable: true}
}

func lot(s Supply, l events.Lot) Supply {
	s.Lot = l
	return s
}

func TestAmong(t *testing.T) {
	only, any := []Class{m8}, []Class{m8, m8better}
	for _, c := range []struct {
		name     string
		needs    []Need
		supplies []Supply
		want     []Share
		either   []Either
	}{
		{"own bag first", []Need{{Step: 1, Accept: only, Qty: 2, Own: bagB}},
			[]Supply{good(m8, bagA, 2), good(m8, bagB, 2)},
			[]Share{{From: []Take{{1, 2}}}}, nil},
		{"what came out goes back before a better class from elsewhere", []Need{{Step: 1, Accept: any, Qty: 1, Own: bagB}},
			[]Supply{good(m8, bagA, 1), good(m8better, bagB, 1)},
			[]Share{{From: []Take{{1, 1}}}}, nil},
		{"the first takes another so that the second has some", []Need{{Step: 1, Accept: any, Qty: 2, Own: bagA}, {Step: 2, Accept: only, Qty: 2}},
			[]Supply{good(m8, bagA, 2), good(m8better, drawer, 2)},
			[]Share{{From: []Take{{1, 2}}}, {From: []Take{{0, 2}}}}, nil},
		{"an earlier step is never robbed, in whatever order they are asked", []Need{{Step: 2, Accept: only, Qty: 2, Own: bagA}, {Step: 1, Accept: only, Qty: 2}},
			[]Supply{good(m8, bagA, 3)},
			[]Share{{From: []Take{{0, 1}}, Missing: 1, Robs: []int32{1}}, {From: []Take{{0, 2}}}}, []Either{{1, 2}}},
		{"released, it is served last", []Need{{Step: 1, Accept: only, Qty: 2, Released: true}, {Step: 2, Accept: only, Qty: 2}},
			[]Supply{good(m8, bagA, 3)},
			[]Share{{From: []Take{{0, 1}}, Missing: 1, Robs: []int32{2}}, {From: []Take{{0, 2}}}}, []Either{{2, 1}}},
		{"condemned is none", []Need{{Step: 1, Accept: only, Qty: 1}},
			[]Supply{{Class: m8, Place: bagA, Qty: 4}},
			[]Share{{Missing: 1}}, nil},
		{"nobody to rob", []Need{{Step: 1, Accept: []Class{m8long}, Qty: 1}, {Step: 2, Accept: only, Qty: 1}},
			[]Supply{good(m8, bagA, 4)},
			[]Share{{Missing: 1}, {From: []Take{{0, 1}}}}, nil},
		{"too few even for one is not either/or", []Need{{Step: 1, Accept: only, Qty: 1}, {Step: 2, Accept: only, Qty: 3}},
			[]Supply{good(m8, bagA, 2)},
			[]Share{{From: []Take{{0, 1}}}, {From: []Take{{0, 1}}, Missing: 2, Robs: []int32{1}}}, nil},
		{"a set from one lot", []Need{{Step: 1, Accept: only, Qty: 3, Set: 7}, {Step: 2, Accept: only, Qty: 2}},
			[]Supply{lot(good(m8, bagA, 2), "L1"), lot(good(m8, bagB, 3), "L2"), good(m8, drawer, 9)},
			[]Share{{From: []Take{{1, 3}}}, {From: []Take{{0, 2}}}}, nil},
		{"a set over two sizes, with the lot that serves the next step too",
			[]Need{{Step: 1, Accept: only, Qty: 1, Set: 7}, {Step: 1, Accept: []Class{m8long}, Qty: 1, Set: 7}, {Step: 2, Accept: only, Qty: 1, Own: bagA}},
			[]Supply{lot(good(m8, bagA, 1), "L1"), lot(good(m8long, bagA, 1), "L1"), lot(good(m8, bagB, 1), "L2"), lot(good(m8long, bagB, 1), "L2")},
			[]Share{{From: []Take{{2, 1}}}, {From: []Take{{3, 1}}}, {From: []Take{{0, 1}}}}, nil},
		{"nothing of a known lot", []Need{{Step: 1, Accept: only, Qty: 1, Set: 7}},
			[]Supply{good(m8, bagA, 1)},
			[]Share{{Missing: 1}}, nil},
		{"no pieces needed, none there", []Need{{Step: 1, Accept: only, Qty: -1}, {Step: 2, Accept: only}},
			[]Supply{good(m8, bagA, -3), good(m8, bagA, 0)},
			[]Share{{}, {}}, nil},
		{"a class named twice", []Need{{Step: 1, Accept: []Class{m8, m8}, Qty: 2}},
			[]Supply{good(m8, bagA, 1)},
			[]Share{{From: []Take{{0, 1}}, Missing: 1}}, nil},
	} {
		got := Among(c.needs, c.supplies)
		require.Equal(t, c.want, got.Shares, c.name)
		require.Equal(t, c.either, got.Either(), c.name)
		require.True(t, got.Exact, c.name)
		require.Equal(t, got.Shares, Among(c.needs, c.supplies).Shares, c.name)
	}
	require.Empty(t, Among(nil, nil).Shares)
}

// made is a small case.
func made(r *rand.Rand, sets bool) (needs []Need, supplies []Supply) {
	for range 1 + r.IntN(4) {
		n := Need{Step: r.Int32N(4), Qty: r.Int32N(3), Own: ledger.AccountID(r.IntN(3)), Released: r.IntN(8) == 0}
		for c := range Class(3) {
			if r.IntN(2) == 0 {
				n.Accept = slices.Insert(n.Accept, r.IntN(len(n.Accept)+1), c)
			}
		}
		if sets && r.IntN(2) == 0 {
			n.Set = 1 + r.Int32N(2)
		}
		needs = append(needs, n)
	}
	for range 1 + r.IntN(4) {
		supplies = append(supplies, Supply{Class: Class(r.IntN(3)), Place: ledger.AccountID(1 + r.IntN(2)),
			Lot: []events.Lot{"", "L1", "L2"}[r.IntN(3)], Qty: r.Int32N(3), Usable: r.IntN(6) > 0})
	}
	return needs, supplies
}

// every goes through every sharing that keeps the rules: for each need how
// many are missing, and the price.
func every(needs []Need, supplies []Supply, do func(missing []int32, price int)) {
	free := make([]int32, len(supplies))
	for i, s := range supplies {
		if s.Usable {
			free[i] = s.Qty
		}
	}
	missing, lots := make([]int32, len(needs)), map[int32]events.Lot{}
	for i, n := range needs {
		missing[i] = n.Qty
	}
	var give func(n, s, price int)
	give = func(n, s, price int) {
		if n == len(needs) {
			do(missing, price)
			return
		}
		if s == len(supplies) {
			give(n+1, 0, price)
			return
		}
		give(n, s+1, price)
		need, supply := &needs[n], &supplies[s]
		rank := slices.Index(need.Accept, supply.Class)
		had, bound := lots[need.Set]
		if rank < 0 || need.Set != 0 && (supply.Lot == "" || bound && had != supply.Lot) {
			return
		}
		if supply.Place != need.Own {
			rank += len(need.Accept)
		}
		for q := int32(1); q <= min(free[s], missing[n]); q++ {
			free[s] -= q
			missing[n] -= q
			if need.Set != 0 {
				lots[need.Set] = supply.Lot
			}
			give(n, s+1, price+int(q)*rank)
			free[s] += q
			missing[n] += q
		}
		if !bound {
			delete(lots, need.Set)
		}
	}
	give(0, 0, 0)
}

// inOrder are the needs as they are to be served.
func inOrder(needs []Need) []int {
	var order []int
	for _, released := range []bool{false, true} {
		for step := range int32(4) {
			for i, n := range needs {
				if n.Step == step && n.Released == released {
					order = append(order, i)
				}
			}
		}
	}
	return order
}

// TestAgainstEverySharing compares with trying everything.
func TestAgainstEverySharing(t *testing.T) {
	for seed := range uint64(4000) {
		needs, supplies := made(rand.New(rand.NewPCG(seed, 0)), seed%4 == 0)
		order := inOrder(needs)
		var best []int32
		bestPrice := 0
		every(needs, supplies, func(missing []int32, price int) {
			c := 0
			if best != nil {
				for _, i := range order {
					if c = int(missing[i] - best[i]); c != 0 {
						break
					}
				}
			}
			if best == nil || c < 0 || c == 0 && price < bestPrice {
				best, bestPrice = slices.Clone(missing), price
			}
		})
		got := Among(needs, supplies)
		require.True(t, got.Exact)
		price := 0
		for i, s := range got.Shares {
			require.Equal(t, best[i], s.Missing, "seed %d need %d", seed, i)
			sum := s.Missing
			for _, k := range s.From {
				sum += k.Qty
				price += int(k.Qty) * slices.Index(needs[i].Accept, supplies[k.Supply].Class)
				if supplies[k.Supply].Place != needs[i].Own {
					price += int(k.Qty) * len(needs[i].Accept)
				}
			}
			require.Equal(t, needs[i].Qty, sum, "seed %d need %d", seed, i)
		}
		require.Equal(t, bestPrice, price, "seed %d", seed)
		keepsRules(t, needs, supplies, got)
	}
}

// keepsRules adds up what is given.
func keepsRules(t *testing.T, needs []Need, supplies []Supply, got *Sharing) {
	given, lots := make([]int32, len(supplies)), map[int32]events.Lot{}
	for i, s := range got.Shares {
		for _, k := range s.From {
			supply := supplies[k.Supply]
			given[k.Supply] += k.Qty
			require.Positive(t, k.Qty)
			require.True(t, supply.Usable)
			require.Contains(t, needs[i].Accept, supply.Class)
			if set := needs[i].Set; set != 0 {
				require.NotEmpty(t, supply.Lot)
				if l, ok := lots[set]; ok {
					require.Equal(t, l, supply.Lot)
				}
				lots[set] = supply.Lot
			}
		}
	}
	for i, q := range given {
		require.LessOrEqual(t, q, max(0, supplies[i].Qty))
	}
}

// TestWhoWouldBeRobbed compares with every sharing that gives one piece more to
// a need and one less to another, and all to a step and none to another.
func TestWhoWouldBeRobbed(t *testing.T) {
	for seed := range uint64(1500) {
		needs, supplies := made(rand.New(rand.NewPCG(seed, 1)), false)
		got := Among(needs, supplies)
		robs, either := make([]map[int32]bool, len(needs)), map[Either]bool{}
		for i := range robs {
			robs[i] = map[int32]bool{}
		}
		every(needs, supplies, func(missing []int32, _ int) {
			for i := range needs {
				for j := range needs {
					if needs[i].Step != needs[j].Step && oneFor(missing, got.Shares, i, j) {
						robs[i][needs[j].Step] = true
					}
					if p := (Either{needs[j].Step, needs[i].Step}); allFor(needs, missing, got.Shares, p) {
						either[p] = true
					}
				}
			}
		})
		for i, s := range got.Shares {
			for _, step := range s.Robs {
				require.True(t, robs[i][step], "seed %d need %d", seed, i)
			}
			require.Len(t, s.Robs, len(robs[i]), "seed %d need %d", seed, i)
		}
		for _, p := range got.Either() {
			require.True(t, either[p], "seed %d %v", seed, p)
		}
		require.Len(t, got.Either(), len(either), "seed %d", seed)
	}
}

func oneFor(missing []int32, s []Share, i, j int) bool {
	for k := range missing {
		want := s[k].Missing
		switch k {
		case i:
			want--
		case j:
			want++
		}
		if missing[k] != want {
			return false
		}
	}
	return true
}

func allFor(needs []Need, missing []int32, s []Share, p Either) bool {
	short := false
	for k, n := range needs {
		switch n.Step {
		case p.First:
			if s[k].Missing > 0 {
				return false
			}
		case p.Then:
			short = short || s[k].Missing > 0
			if missing[k] > 0 {
				return false
			}
		default:
			if missing[k] != s[k].Missing {
				return false
			}
		}
	}
	return short && p.First != p.Then
}

// TestManySets says that it has not tried everything, and keeps the rules.
func TestManySets(t *testing.T) {
	var needs []Need
	var supplies []Supply
	for i := range int32(9) {
		needs = append(needs, Need{Step: i, Accept: []Class{m8}, Qty: 2, Set: i + 1})
	}
	for _, l := range []events.Lot{"L1", "L2", "L3"} {
		supplies = append(supplies, lot(good(m8, bagA, 7), l))
	}
	got := Among(needs, supplies)
	require.False(t, got.Exact)
	keepsRules(t, needs, supplies, got)
	for i, s := range got.Shares {
		require.Zero(t, s.Missing, i)
	}
}
