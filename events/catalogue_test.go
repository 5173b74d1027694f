package events

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every type of this package that is an event is in the catalogue, once.
func TestEveryEventIsInTheCatalogue(t *testing.T) {
	inCatalogue := map[string]int{}
	for i := range catalogue {
		inCatalogue[catalogue[i].typ.Name()]++
	}
	found := eventTypes(t)
	require.Contains(t, found, "Unknown")
	for _, name := range found {
		want := 1
		if name == "Unknown" {
			want = 0
		}
		require.Equal(t, want, inCatalogue[name], "type %s has the method event but is %d times in the catalogue", name, inCatalogue[name])
	}
	require.Len(t, catalogue, len(found)-1)
}

// EventTypes reads the source for receivers of the method event.
func eventTypes(t *testing.T) (names []string) {
	files, err := os.ReadDir(".")
	require.NoError(t, err)
	for _, f := range files {
		if !strings.HasSuffix(f.Name(), ".go") || strings.HasSuffix(f.Name(), "_test.go") {
			continue
		}
		tree, err := parser.ParseFile(token.NewFileSet(), f.Name(), nil, 0)
		require.NoError(t, err)
		for _, d := range tree.Decls {
			if m, ok := d.(*ast.FuncDecl); ok && m.Recv != nil && m.Name.Name == "event" {
				id, ok := m.Recv.List[0].Type.(*ast.Ident)
				if ok && m.Type.Params.NumFields() == 0 {
					names = append(names, id.Name)
				}
			}
		}
	}
	return names
}

func TestCatalogueLookups(t *testing.T) {
	kebab := regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)
	names := Names()
	require.Len(t, names, len(catalogue))
	for i, name := range names {
		require.Regexp(t, kebab, name)
		zero, ok := Zero(name)
		require.True(t, ok)
		require.Equal(t, catalogue[i].zero, zero)
		require.Equal(t, name, NameOf(zero))
		require.Equal(t, catalogue[i].class, ClassOf(zero))
	}
	_, ok := Zero("lamp-lit")
	require.False(t, ok)
	require.Equal(t, "lamp-lit", NameOf(Unknown{Kind: "lamp-lit"}))
	require.Equal(t, State, ClassOf(Unknown{Kind: "counted"}))
	require.Empty(t, NameOf(nil))
	require.Equal(t, Observation, ClassOf(Counted{}))
	require.Equal(t, Transfer, ClassOf(PiecesMoved{}))
	require.Equal(t, Both, ClassOf(PiecesOut{}))
	require.Equal(t, State, ClassOf(MarkMade{}))
}

// Only a kind with pieces in it can change the book: one with lines moves or
// sets them, whatever else is called State.
func TestKindsWithLinesChangeTheBook(t *testing.T) {
	// These name pieces that nobody moved: what was found wanting, what was
	// counted at a gate, in which words a dispute ended, what a decision needs and what is still to come.
	still := map[string]bool{"second-checked": true, "condition-changed": true, "disagreement-settled": true, "finding-decided": true,
		"ordered": true}
	for i := range catalogue {
		e := &catalogue[i]
		for _, f := range byName[e.name].shape.fields {
			if f.typ == reflect.TypeFor[[]Line]() && !still[e.name] {
				require.NotEqual(t, State, e.class, "event %s has %s", e.name, f.name)
			}
		}
	}
}

// A field that the codec cannot store stops the program at its start.
func TestShapesThatCannotBeStored(t *testing.T) {
	text := reflect.TypeFor[string]()
	hidden := reflect.StructOf([]reflect.StructField{{Name: "a", PkgPath: "events", Type: text, Tag: `json:"a"`}})
	twice := reflect.StructOf([]reflect.StructField{
		{Name: "A", Type: text, Tag: `json:"a"`}, {Name: "B", Type: text, Tag: `json:"a"`},
	})
	for name, tt := range map[string]struct {
		typ  reflect.Type
		want string
	}{
		"no tag": {reflect.TypeFor[struct{ A string }](), "no stored name"},
		"dash": {reflect.TypeFor[struct {
			A string `json:"-"`
		}](), "no stored name"},
		"hidden": {hidden, "no stored name"},
		"twice":  {twice, "no stored name"},
		"map": {reflect.TypeFor[struct {
			A map[string]int `json:"a"`
		}](), "no stored form"},
		"pointer": {reflect.TypeFor[struct {
			A *int `json:"a"`
		}](), "no stored form"},
		"unnamed event": {reflect.TypeFor[struct {
			A Event `json:"-"`
		}](), "no stored name"},
		"group, omitempty": {reflect.TypeFor[struct {
			A FactID `json:"a,omitempty"`
		}](), "needs omitzero"},
		"list of events": {reflect.TypeFor[struct {
			A []Corrected `json:"a"`
		}](), "events within a list"},
	} {
		t.Run(name, func(t *testing.T) {
			defer func() { require.Contains(t, recover(), tt.want) }()
			groupOf(tt.typ)
			t.Fatal("it has a shape")
		})
	}
	require.PanicsWithValue(t, "event counted events.BagOpened: twice in the catalogue", func() {
		index([]entry{kind[Counted]("counted", State), kind[BagOpened]("counted", State)})
	})
}
