package designfile

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"
)

// compiled returns the schema, compiled by an independent validator that also checks it against the draft.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("format.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("format.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// plainValue turns a node into what a JSON reader would make of it. Numbers that only YAML has stay texts, since the
// schema sees values, not their spelling.
func plainValue(n *yaml.Node) any {
	switch n.Kind {
	case yaml.AliasNode:
		return plainValue(n.Alias)
	case yaml.SequenceNode:
		list := make([]any, len(n.Content))
		for i, c := range n.Content {
			list[i] = plainValue(c)
		}
		return list
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			m[n.Content[i].Value] = plainValue(n.Content[i+1])
		}
		return m
	}
	is, on := isBool(n)
	switch {
	case isNull(n):
		return nil
	case is:
		return on
	case isPlain(n) && decimal(n.Value) == n.Value:
		if v, err := strconv.ParseFloat(n.Value, 64); err == nil {
			return json.Number(strconv.FormatFloat(v, 'g', -1, 64))
		}
	}
	return n.Value
}

// readForm reads nodes by their form alone, without looking names up or building loops: what a schema can judge.
func readForm(root *yaml.Node) *reader {
	r := &reader{file: "x.yaml", plain: lengths[0]}
	r.plain, _ = unitsOf(root)
	var f file
	r.read(root, format, reflect.ValueOf(&f).Elem())
	return r
}

func loaded(t testing.TB, src []byte) *yaml.Node {
	t.Helper()
	root, p := load("x.yaml", src)
	if p != nil {
		t.Fatalf("%+v", p)
	}
	return root
}

func TestSchemaTakesGoodFiles(t *testing.T) {
	s := compiled(t)
	for _, name := range files(t, "good") {
		if err := s.Validate(plainValue(loaded(t, read(t, name)))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Schema and reader answer alike for every nasty file that a schema can judge.
func TestSchemaAndNastyFiles(t *testing.T) {
	s := compiled(t)
	for _, name := range files(t, "nasty") {
		root, p := load(name, read(t, name))
		if p != nil {
			continue // no YAML, hence nothing a schema could look at
		}
		text := string(read(t, name))
		if strings.Contains(text, "given twice") || strings.Contains(text, "carries the tag") || strings.Contains(text, "merge keys") || strings.Contains(name, "alias") {
			continue // lost, or grown beyond measure, before a schema sees it
		}
		agree(t, s, name, root)
	}
}

// agree checks that the validator takes a tree if and only if the reader finds nothing wrong with its form.
func agree(t testing.TB, s *jsonschema.Schema, name string, root *yaml.Node) {
	t.Helper()
	r, err := readForm(root), s.Validate(plainValue(root))
	if (len(r.problems) == 0) == (err == nil) {
		return
	}
	out, _ := yaml.Marshal(root)
	t.Errorf("%s: the schema says %v, the reader %s\n%s", name, err, tell(r.problems), out)
}

// What keys require of each other, and ranges with units: reader and schema give the expected answer.
func TestSchemaAgreesOnRules(t *testing.T) {
	s := compiled(t)
	hinge := func(keys string) string { return "hinges: {a: {" + keys + "}}" }
	part := func(keys string) string { return "components: {a: {at: [0, 0], " + keys + "}}" }
	stack := func(keys string) string { return "stackups: {f: {" + keys + "}}" }
	layers := func(keys string) string { return "stackups: {f: {layers: [{" + keys + "}]}}" }
	pair := func(keys string) string { return "clearance: {pairs: [{between: [a, b], " + keys + "}]}" }
	piece := func(keys string) string { return "enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], " + keys + "}}" }
	seat := func(keys string) string { return "seats: {a: {area: {rect: [0, 0, 1, 1]}, " + keys + "}}" }
	deal := func(keys string) string { return "concessions: [{" + keys + "}]" }
	for _, c := range []struct {
		good bool
		src  string
	}{
		{true, hinge("line: [[0, 0], [1, 1]], angle: 5, radius: 1")},
		{true, hinge("tangent: [[0, 0], [1, 1]], into: [5, 5], angle: 5, radius: 1")},
		{false, hinge("tangent: [[0, 0], [1, 1]], angle: 5, radius: 1")},
		{false, hinge("line: [[0, 0], [1, 1]], into: [5, 5], angle: 5, radius: 1")},
		{false, hinge("line: [[0, 0], [1, 1]], tangent: [[0, 0], [1, 1]], into: [5, 5], angle: 5, radius: 1")},
		{false, hinge("angle: 5, radius: 1")},
		{false, hinge("line: [[0, 0], [1, 1]], radius: 1")},
		{false, hinge("line: [[0, 0], [1, 1]], angle: 5")},
		{true, hinge("line: [[0, 0], [1, 1]], angle: -5, radius: 1")},
		{true, hinge("line: [[0, 0], [1, 1]], angle: 0, radius: 0, toward: top")},
		{false, hinge("line: [[0, 0], [1, 1]], angle: -5, radius: 1, toward: top")},
		{false, hinge("line: [[0, 0], [1, 1]], angle: -5 deg, radius: 1, toward: bottom")},
		{true, hinge("line: [[0, 0], [1, 1]], angle: 5 deg, radius: 0 mm, toward: bottom")},
		{false, hinge("line: [[0, 0], [1, 1]], angle: 5, radius: -1 mm")},
		{false, hinge("line: [[0, 0], [1, 1]], angle: 361, radius: 1")},
		{true, part("size: [1, 1, 1]")},
		{true, part("size: [1, 1]")},
		{true, part("size: [1, 1], height: 3")},
		{true, part("size: [1, 1], height: unknown")},
		{true, part("size: [1, 1, unknown]")},
		{true, part("diameter: 1")},
		{true, part("diameter: 1, height: 0.5 in")},
		{false, part("size: [1, 1, 1], height: 3")},
		{false, part("size: [unknown, 1, 1]")},
		{false, part("size: [1, 1, 0]")},
		{false, part("size: [1, 1, 0.0 mm]")},
		{false, part("size: [1, 1, -1 mm]")},
		{false, part("boxes: [[0, 0, 0, 1, 1, 1]], height: 3")},
		{false, part("boxes: [], height: 3")},
		{false, part("size: [1, 1], diameter: 3")},
		{false, part("height: 3")},
		{true, layers("material: copper-ra, thickness: 0.5 oz, coverage: 0.5")},
		{true, layers("material: copper-ed, thickness: 0.5 oz")},
		{true, layers("material: fr4, thickness: 0.5")},
		{true, layers("stackup: f")},
		{true, layers("stackup: f, without: [a, b]")},
		{true, layers("of: f, keep: [1, core, '2', -1]")},
		{true, stack("of: f, keep: [1], copper-layers: 1, rigid: false")},
		{true, stack("plies: [f, f], gap: 50 um, lengths: progressive")},
		{true, stack("plies: [f, f], gap: 0, lengths: equal")},
		{true, stack("layers: [{of: f, keep: [1]}], rigid: true, lip: 0.5")},
		{true, stack("thickness: 1, rigid: true, lip: 20 mil")},
		{false, layers("of: f")},
		{false, layers("keep: [1]")},
		{false, layers("of: f, keep: [1.5]")},
		{false, layers("of: f, keep: [true]")},
		{false, layers("of: f, keep: [[1]]")},
		{false, layers("of: f, keep: 1")},
		{false, layers("of: f, keep: [1], without: [a]")},
		{false, layers("of: f, keep: [1], stackup: f")},
		{false, stack("of: f")},
		{false, stack("of: f, keep: []")},
		{false, stack("of: f, keep: [1], rigid: true")},
		{false, stack("of: f, keep: [1], thickness: 1")},
		{false, stack("of: f, keep: [1], gap: 1")},
		{false, stack("plies: [f]")},
		{false, stack("plies: f")},
		{false, stack("plies: [f, f], rigid: true")},
		{false, stack("plies: [f, f], gap: -1 um")},
		{false, stack("plies: [f, f], lengths: bookbinder")},
		{false, stack("plies: [f, f], keep: [1]")},
		{false, stack("thickness: 1, gap: 1")},
		{false, stack("thickness: 1, lengths: equal")},
		{false, stack("thickness: 1, lip: 0.5")},
		{false, stack("thickness: 1, rigid: false, lip: 0.5")},
		{false, layers("material: fr4, thickness: 0.5 oz")},
		{false, layers("material: fr4, thickness: 0.5, coverage: 1")},
		{false, layers("material: copper-ra, thickness: 0.5 oz, coverage: 1.01")},
		{false, layers("material: copper-ra")},
		{false, layers("stackup: f, thickness: 1")},
		{false, layers("stackup: f, without: []")},
		{false, layers("material: fr4, thickness: 0.5, without: [a]")},
		{false, layers("material: fr4, stackup: f, thickness: 0.5")},
		{false, layers("")},
		{false, "stackups: {}"},
		{false, "stackups: {f: {}}"},
		{false, "stackups: {f: {thickness: 1, layers: [{stackup: f}]}}"},
		{false, "stackups: {f: {thickness: 1, copper-layers: 1.5}}"},
		{false, "stackups: {f: {thickness: 1, rigid: 1}}"},
		{true, pair("gap: 0.1")},
		{true, pair("gap: 0.1 mm")},
		{true, pair("gap: 0, because: tape")},
		{true, pair("gap: -1 mil, because: foam")},
		{false, pair("gap: 0")},
		{false, pair("gap: 0.0 mm")},
		{false, pair("gap: -1 mil")},
		{false, pair("because: tape")},
		{false, "clearance: {pairs: [{between: [a], gap: 1}]}"},
		{false, "clearance: {pairs: [{between: [a, 'wall:b'], gap: 1}]}"},
		{true, "enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]]}}"},
		{true, "enclosure: {a: {mesh: a.stl, units: m, chord: 0}}"},
		{false, "enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], units: m}}"},
		{false, "enclosure: {a: {box: [[0, 0, 0], [1, 1, 1]], chord: 1}}"},
		{false, "enclosure: {a: {}}"},
		{false, "enclosure: {a b: {box: [[0, 0, 0], [1, 1, 1]]}}"},
		{true, piece("on: a")},
		{true, piece("follows: {hinge: a}, grows: 0.1")},
		{true, piece("follows: {hinge: a, share: 0}")},
		{true, piece("follows: {hinge: a, share: 1}, grows: 0")},
		{false, piece("on: a, follows: {hinge: a}")},
		{false, piece("follows: a")},
		{false, piece("follows: {}")},
		{false, piece("follows: {share: 1}")},
		{false, piece("follows: {hinge: a, share: 1.01}")},
		{false, piece("follows: {hinge: a, share: -0.5}")},
		{false, piece("grows: -1 um")},
		{true, "postures: {}"},
		{true, "postures: {a: {}}"},
		{true, "postures: {a: {h: 5, i: -360 deg}, b: {h: 360}}"},
		{false, "postures: {a: 5}"},
		{false, "postures: {a: [5]}"},
		{false, "postures: {a: {h: 361}}"},
		{false, "postures: {a: {h: 5 mm}}"},
		{false, "postures: {a: {h: top}}"},
		{false, "postures: {a: {h i: 5}}"},
		{false, "postures: {folded: {h: 5}}"},
		{false, "postures: {flat: {}}"},
		{true, "postures: {Flat: {}}"},
		{true, seat("on: m, side: top, against: t")},
		{true, seat("on: 'section:m', against: 'enclosure:t', bond: 0, squeeze: 1 mil")},
		{true, seat("on: 'flex:m.2', side: bottom, against: t")},
		{false, seat("on: m, side: left, against: t")},
		{false, seat("on: 'm*', side: top, against: t")},
		{false, seat("on: 'bend:m', side: top, against: t")},
		{false, seat("on: 'enclosure:m', side: top, against: t")},
		{false, seat("on: m, side: top, against: 'section:t'")},
		{false, seat("on: m, side: top, against: '*'")},
		{false, seat("on: m, side: top, against: t, bond: -0.1 mm")},
		{false, seat("on: m, side: top, against: t, squeeze: -0.1")},
		{false, seat("side: top, against: t")},
		{false, seat("on: m, side: top")},
		{false, "seats: {a: {on: m, side: top, against: t}}"},
		{true, "limits: {}"},
		{true, "limits: {profile: strict, file: a.yaml, bend-ratio: 10, inside-corner: 0}"},
		{true, "limits: {inside-corner: 30 mil}"},
		{false, "limits: {profile: lax}"},
		{false, "limits: {file: ''}"},
		{false, "limits: {bend-ratio: 0}"},
		{false, "limits: {bend-ratio: 5 mm}"},
		{false, "limits: {inside-corner: -1}"},
		{false, "limits: {bend-on-rigid: 1}"},
		{true, "concessions: []"},
		{true, deal("rule: bend-ratio, because: a, by: b")},
		{true, deal("rule: bend-ratio, down-to: 8, because: a, by: b")},
		{true, deal("rule: clearance, on: [a, 'b*', 'component:c', 'bend:d.2', 'stackup:e', 'flat:f'], down-to: -0.1 mm, because: a, by: 5")},
		{true, deal("rule: bend-free-end, down-to: 5 deg, because: a, by: b")},
		{true, deal("rule: loop-open, down-to: 5 deg, because: a, by: b")},
		{true, deal("rule: loop-open, down-to: 0.005 in, because: a, by: b")},
		{true, deal("rule: stiffener-face, down-to: 5 mm2, because: a, by: b")},
		{false, deal("rule: bend-ratio, down-to: 8 mm, because: a, by: b")},
		{false, deal("rule: bend-ratio, down-to: 8 deg, because: a, by: b")},
		{false, deal("rule: bend-free-end, down-to: 5 mil, because: a, by: b")},
		{false, deal("rule: clearance, down-to: 5 deg, because: a, by: b")},
		{false, deal("rule: clearance, down-to: 5 mm2, because: a, by: b")},
		{false, deal("rule: clearance, down-to: low, because: a, by: b")},
		{false, deal("rule: bend-overlap, because: a, by: b")},
		{false, deal("rule: concession-unused, because: a, by: b")},
		{false, deal("rule: bend-rato, because: a, by: b")},
		{false, deal("rule: 5, because: a, by: b")},
		{false, deal("rule: clearance, on: [], because: a, by: b")},
		{false, deal("rule: clearance, on: a, because: a, by: b")},
		{false, deal("rule: clearance, on: ['wall:a'], because: a, by: b")},
		{false, deal("rule: clearance, because: a")},
		{false, deal("rule: clearance, by: b")},
		{false, deal("rule: clearance, because: '', by: b")},
		{false, deal("rule: clearance, because: a, by: ' '")},
		{false, deal("because: a, by: b")},
		{false, "concessions: {rule: clearance, because: a, by: b}"},
		{false, pair("gap: 0, because: ''")},
		{true, "outline: {circle: [0, 0], diameter: 5}"},
		{true, "outline: {rect: [0, 0, 1, 1], corner: 0.1}"},
		{true, "outline: [[0, 0], [1, 0, 0], {arc: [1, 1, 0.1], via: [2, 0]}]"},
		{false, "outline: {circle: [0, 0]}"},
		{false, "outline: {circle: [0, 0], diameter: 5, corner: 1}"},
		{false, "outline: {rect: [0, 0, 1, 1], diameter: 5}"},
		{false, "outline: {rect: [0, 0, 1]}"},
		{false, "outline: [[0, 0], [1, 0, -0.1], [1, 1]]"},
		{false, "outline: [[0, 0], {arc: [1, 1]}]"},
		{false, "outline: [[0, 0], {arc: [1, 1], via: [2, 0, 1]}]"},
		{false, "outline: [[0, 0]]"},
		{false, "outline: 5"},
		{true, "base: a"},
		{true, "base: {at: [0, 1 mm]}"},
		{false, "base: {}"},
		{false, "base: 5"},
		{false, "base: [0, 1]"},
		{true, "title: {number: 5, revision: 1.5, name: x}"},
		{false, "title: {number: true}"},
		{false, "foldfit: 2"},
		{false, "foldfit: 1.5"},
		{false, "units: cm"},
		{false, "loop: {gap: 1, angle: 361}"},
		{false, "flex: 5"},
		{false, "grain: x"},
	} {
		root := loaded(t, []byte(c.src))
		for _, needed := range []string{"foldfit: 1", "outline: {rect: [0, 0, 1, 1]}", "stackups: {f: {thickness: 1}}"} {
			if key, _, _ := strings.Cut(needed, ":"); key != root.Content[0].Value {
				root.Content = append(root.Content, loaded(t, []byte(needed)).Content...)
			}
		}
		err := s.Validate(plainValue(root))
		if r := readForm(root); (len(r.problems) == 0) != c.good || (err == nil) != c.good {
			t.Errorf("%s: good %v, the schema says %v, the reader %s", c.src, c.good, err, tell(r.problems))
		}
	}
}

// Files that are changed at random: a value replaced, taken out, given another key or doubled. Reader and schema, made
// from the same description, must give the same answer on all of them.
func TestSchemaAgreesOnChangedFiles(t *testing.T) {
	s := compiled(t)
	good := string(read(t, "good/full.yaml"))
	pool := loaded(t, []byte(`[0, 1, -1, 2.5, 5, 0.5, 400, 1e300, abc, top, bottom, unknown, mm, install, 5 mm, -5 mm, 0 mm, 0.0 mm, 90 deg, -90 deg, 18 um, 0.5 oz, 0 oz, 2 GPa, 1 g/cm3,
  400 mg, true, false, null, "", "5", a.b, "*", "section:main", "hinge:neck", a.stl, [], {}, [1], [1, 2], [1, 2, 3], [1, 2, -3], [1, 2, unknown], [1, 2, 3, 4], [[1, 2], [3, 4]],
  [[1, 2, 3], [4, 5, 6]], [a, b], {rect: [0, 0, 1, 1]}, {circle: [0, 0], diameter: 1}, {at: [1, 2]}, {arc: [1, 2], via: [3, 4]}, [[1, 2, 3, 4, 5, 6]], copper-ra, fr4, {modulus: 5},
  clearance, bend-free-end, bend-overlap, 5 mm2, {hinge: neck}, {hinge: neck, share: 2}, "stiffener:pad", "flat:a", {neck: 90}, {}, "  ", [neck, hip], [film, 2], progressive, [{move: [0, 0, 1]}, {}], board, {tilt: 1}, {turn: 1}, [[1, 0, 0], [0, 1, 0]], tray]`)).Content
	keys := strings.Fields("line tangent into angle toward radius size boxes diameter height at on mesh box units chord gap because between layers thickness rigid of keep plies gap lengths lip material stackup without coverage role rect circle corner plies board colour area grows follows hinge share on against bond squeeze side folded flat profile file bend-ratio inside-corner rule down-to by bend to move path into add remove facing turn-axis turn across along tilt")
	rnd := rand.New(rand.NewPCG(1, 2))
	refused := 0
	n := 1500
	if testing.Short() {
		n = 200
	}
	for i := range n {
		root := loaded(t, []byte(good))
		for range 1 + rnd.IntN(2) {
			change(rnd, root, pool, keys)
		}
		if repeats(root) {
			continue
		}
		agree(t, s, "change "+strconv.Itoa(i), root)
		if len(readForm(root).problems) > 0 {
			refused++
		}
	}
	if refused < n/10 || refused > n*99/100 {
		t.Errorf("%d of %d changed files are refused: the changes say little", refused, n)
	}
}

// change makes one random change somewhere below n.
func change(rnd *rand.Rand, n *yaml.Node, pool []*yaml.Node, keys []string) {
	if len(n.Content) == 0 {
		return
	}
	step := 1
	if n.Kind == yaml.MappingNode {
		step = 2
	}
	i := rnd.IntN(len(n.Content)/step) * step
	if child := n.Content[i+step-1]; len(child.Content) > 0 && rnd.IntN(8) > 0 {
		change(rnd, child, pool, keys)
		return
	}
	switch k := rnd.IntN(8); {
	case k == 0:
		n.Content = append(n.Content[:i:i], n.Content[i+step:]...)
	case k == 1 && step == 2:
		n.Content[i] = &yaml.Node{Kind: yaml.ScalarNode, Value: keys[rnd.IntN(len(keys))]}
	case k == 1:
		n.Content = append(n.Content, n.Content[i])
	case k == 2 && step == 2:
		n.Content = append(n.Content, &yaml.Node{Kind: yaml.ScalarNode, Value: keys[rnd.IntN(len(keys))]}, pool[rnd.IntN(len(pool))])
	default:
		n.Content[i+step-1] = pool[rnd.IntN(len(pool))]
	}
}

// repeats reports whether a map below n has a key twice, which no JSON value can show.
func repeats(n *yaml.Node) bool {
	seen := map[string]bool{}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			if seen[c.Value] {
				return true
			}
			seen[c.Value] = true
		}
		if repeats(c) {
			return true
		}
	}
	return false
}

// Every key of the format is described, and later keys are in no schema.
func TestSchemaListsEveryKey(t *testing.T) {
	text := string(Schema())
	var walk func(f *form)
	seen := map[*form]bool{}
	walk = func(f *form) {
		if f == nil || seen[f] {
			return
		}
		seen[f] = true
		for _, d := range f.fields {
			if f.kind == anObject && d.key != "" && !d.later && !strings.Contains(text, `"`+d.key+`": {`) {
				t.Errorf("the schema lacks %s", d.key)
			}
			if d.later && d.doc == "" {
				t.Errorf("%s does not say what it is for", d.key)
			}
			walk(d.form)
		}
		walk(f.item)
		walk(f.last)
	}
	walk(format)
	for _, later := range []string{"tails", "holes", "keepouts"} {
		if strings.Contains(text, `"`+later+`"`) {
			t.Errorf("the schema has %s", later)
		}
	}
	if !bytes.Equal(Schema(), Schema()) {
		t.Error("two schemas differ")
	}
}
