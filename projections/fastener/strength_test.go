package fastener

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// ISO 898-1:2013 Table 3, as reproduced for 8.8, 10.9 and 12.9 in two places
// and for 9.8 in one.
func TestPropertyClasses(t *testing.T) {
	for _, row := range []struct {
		text                   string
		ultimate, yield, proof float64
	}{
		{"M16x2.0x60 8.8", 800, 640, 580},
		{"M18x2.5x60 8.8", 830, 660, 600},
		{"M16x2.0x60 9.8", 900, 720, 650},
		{"M10x1.5x60 10.9", 1040, 940, 830},
		{"M20x2.5x60 10.9", 1040, 940, 830},
		{"M10x1.5x60 12.9", 1220, 1100, 970},
	} {
		st, ok := spec(t, row.text).Strength()
		require.True(t, ok)
		require.Equal(t, Strength{row.proof, row.yield, row.ultimate}, st, row.text)
		yield, ok := spec(t, row.text).YieldMPa()
		require.True(t, ok)
		require.Equal(t, row.yield, yield)
	}
}

// Proof and least ultimate loads in newtons, coarse threads: ISO 898-1:2013
// Tables 5 and 4, in four agreeing reproductions. The printed loads follow no
// single rounding rule: they lie within 0.6 % of the printed area times the
// stress, and within 0.62 % of the exact one (M6 8.8 is printed 11 600).
func TestLoadsCoarse(t *testing.T) {
	for size, row := range map[string]struct{ proof, ultimate [3]float64 }{
		"M5":  {[3]float64{8230, 11800, 13800}, [3]float64{11350, 14800, 17300}},
		"M6":  {[3]float64{11600, 16700, 19500}, [3]float64{16100, 20900, 24500}},
		"M7":  {[3]float64{16800, 24000, 28000}, [3]float64{23100, 30100, 35300}},
		"M8":  {[3]float64{21200, 30400, 35500}, [3]float64{29200, 38100, 44600}},
		"M10": {[3]float64{33700, 48100, 56300}, [3]float64{46400, 60300, 70800}},
		"M12": {[3]float64{48900, 70000, 81800}, [3]float64{67400, 87700, 103000}},
		"M14": {[3]float64{66700, 95500, 112000}, [3]float64{92000, 120000, 140000}},
		"M16": {[3]float64{91000, 130000, 152000}, [3]float64{125000, 163000, 192000}},
	} {
		for i, class := range []string{"8.8", "10.9", "12.9"} {
			s := spec(t, size+"x50 "+class)
			requireLoad(t, row.proof[i], s.ProofLoadN, s)
			requireLoad(t, row.ultimate[i], s.UltimateLoadN, s)
		}
	}
}

func requireLoad(t *testing.T, want float64, load func() (float64, bool), s Spec) {
	t.Helper()
	got, ok := load()
	require.True(t, ok, s.String())
	require.InEpsilon(t, want, got, 0.0062, s.String())
}

// Proof loads in newtons, fine threads: ISO 898-1:2013 Table 7, from memory.
func TestProofLoadsFine(t *testing.T) {
	for size, row := range map[string][3]float64{
		"M8x1":     {22700, 32500, 38000},
		"M10x1.25": {35500, 50800, 59400},
		"M10x1":    {37400, 53500, 62700},
		"M12x1.25": {53400, 76400, 89300},
		"M12x1.5":  {51100, 73100, 85500},
		"M14x1.5":  {72500, 104000, 121000},
		"M16x1.5":  {96900, 139000, 162000},
	} {
		for i, class := range []string{"8.8", "10.9", "12.9"} {
			s := spec(t, size+"x60 "+class)
			requireLoad(t, row[i], s.ProofLoadN, s)
		}
	}
}

// Proof and ultimate loads in pounds-force by grade 2, 5 and 8: printed stress
// area times the stresses of SAE J429 Table 1 (55/85/120 and 74/120/150 ksi).
func TestLoadsInch(t *testing.T) {
	const newtonPerLbf = 4.4482216152605 // NIST SP 811
	for size, row := range map[string]struct{ proof, ultimate [3]float64 }{
		"1/4-20":  {[3]float64{1749, 2703, 3816}, [3]float64{2353, 3816, 4770}},
		"1/4-28":  {[3]float64{2002, 3094, 4368}, [3]float64{2694, 4368, 5460}},
		"5/16-18": {[3]float64{2882, 4454, 6288}, [3]float64{3878, 6288, 7860}},
		"5/16-24": {[3]float64{3190, 4930, 6960}, [3]float64{4292, 6960, 8700}},
		"3/8-16":  {[3]float64{4262, 6588, 9300}, [3]float64{5735, 9300, 11625}},
		"3/8-24":  {[3]float64{4829, 7463, 10536}, [3]float64{6497, 10536, 13170}},
		"7/16-14": {[3]float64{5846, 9036, 12756}, [3]float64{7866, 12756, 15945}},
		"7/16-20": {[3]float64{6528, 10090, 14244}, [3]float64{8784, 14244, 17805}},
		"1/2-13":  {[3]float64{7804, 12062, 17028}, [3]float64{10501, 17028, 21285}},
		"1/2-20":  {[3]float64{8794, 13591, 19188}, [3]float64{11833, 19188, 23985}},
		"9/16-12": {[3]float64{10010, 15470, 21840}, [3]float64{13468, 21840, 27300}},
		"9/16-18": {[3]float64{11165, 17255, 24360}, [3]float64{15022, 24360, 30450}},
		"5/8-11":  {[3]float64{12430, 19210, 27120}, [3]float64{16724, 27120, 33900}},
		"5/8-18":  {[3]float64{14080, 21760, 30720}, [3]float64{18944, 30720, 38400}},
	} {
		for i, grade := range []string{"grade 2", "grade 5", "grade 8"} {
			s := spec(t, size+"x2 "+grade)
			requireLoad(t, row.proof[i]*newtonPerLbf, s.ProofLoadN, s)
			requireLoad(t, row.ultimate[i]*newtonPerLbf, s.UltimateLoadN, s)
		}
	}
}

// NSTM chapter 075 (S9086-CJ-STM-010), preface: a 1/4-20 UNC 3A grade 8 bolt
// has 0.0318 square inch and a proof load capacity of 3,816 pounds.
func TestLoadNavyExample(t *testing.T) {
	load, ok := spec(t, "1/4-20 UNC 3A grade 8").ProofLoadN()
	require.True(t, ok)
	require.InDelta(t, 3816, load/4.4482216152605, 8)
}

// SAE J429 Table 1, proof, yield and tensile in psi, as reproduced in two
// places; grade 2 holds up to 3/4 and to bolts 6 inches and shorter.
func TestGrades(t *testing.T) {
	for _, row := range []struct {
		text                string
		proof, yield, ultim float64
	}{
		{"1/2-13x2 grade 1", 33, 36, 60},
		{"3/4-10x6 grade 2", 55, 57, 74},
		{"7/8-9x6 grade 2", 33, 36, 60},
		{"1/2-13x6-1/2 grade 2", 33, 36, 60},
		{"1-8x4 grade 5", 85, 92, 120},
		{"1-1/8-7x4 grade 5", 74, 81, 105},
		{"1-1/2-6x4 grade 8", 120, 130, 150},
	} {
		st, ok := spec(t, row.text).Strength()
		require.True(t, ok, row.text)
		require.InEpsilon(t, row.proof*6.894757, st.ProofMPa, 1e-9, row.text)
		require.InEpsilon(t, row.yield*6.894757, st.YieldMPa, 1e-9, row.text)
		require.InEpsilon(t, row.ultim*6.894757, st.UltimateMPa, 1e-9, row.text)
	}
}

func TestStrengthUnknown(t *testing.T) {
	for _, row := range []struct{ text, why string }{
		{"M8x1.25x30", "no class"},
		{"M8x1.25 10 nut", "a nut"},
		{"M8x1.25x30 copper", "a material without a standard"},
		{"M20x2.5x60 9.8", "9.8 ends at 16 mm"},
		{"#10-32x1 grade 8", "J429 begins at 1/4"},
		{"2-4.5x6 grade 5", "J429 ends at 1-1/2"},
		{"R1/4 8.8 plug", "a pipe thread"},
		{"seal ring 24x30", "no thread"},
	} {
		_, ok := spec(t, row.text).Strength()
		require.False(t, ok, row.why)
		_, ok = spec(t, row.text).ProofLoadN()
		require.False(t, ok, row.why)
		_, ok = spec(t, row.text).YieldMPa()
		require.False(t, ok, row.why)
	}
	// Stainless classes have no proof stress, ISO 3506-1 (from memory).
	s := spec(t, "M6x1.0x12 A2-70 flange")
	_, ok := s.ProofLoadN()
	require.False(t, ok)
	load, ok := s.UltimateLoadN()
	require.True(t, ok)
	require.InDelta(t, 700*20.1234, load, 1)
}

// A stud breaks at its thinner end.
func TestStudIsAsStrongAsItsThinnerEnd(t *testing.T) {
	stud, _ := spec(t, "M10x1.5/M8x1.25x60 8.8 stud").ProofLoadN()
	turned, _ := spec(t, "M8x1.25/M10x1.5x60 8.8 stud").ProofLoadN()
	thin, _ := spec(t, "M8x1.25x60 8.8 stud").ProofLoadN()
	require.Equal(t, thin, stud)
	require.Equal(t, thin, turned)
}
