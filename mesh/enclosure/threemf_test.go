package enclosure

import (
	"fmt"
	"strings"
	"testing"

	"github.com/go-gl/mathgl/mgl64"

	"foldfit/mesh"
)

// Build items and components place copies; the transform's rows are the images of the axes and of the origin.
func Test3MFPlacing(t *testing.T) {
	o := object3MFOf(1, tetra(30, 20, 10))
	pair := `<object id="2"><components><component objectid="1"/><component objectid="1" transform="1 0 0 0 1 0 0 0 1 100 0 0"/></components></object>`
	cases := []struct {
		name, resources, items string
		volume                 float64
		shells                 int
		hi                     mgl64.Vec3
	}{
		{"moved", o, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 5 6 7"/>`, 1000, 1, mgl64.Vec3{35, 26, 17}},
		{"x to y", o, `<item objectid="1" transform="0 1 0 -1 0 0 0 0 1 0 0 0"/>`, 1000, 1, mgl64.Vec3{0, 30, 10}},
		{"mirrored", o, `<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>`, 1000, 1, mgl64.Vec3{0, 20, 10}},
		{"scaled", o, `<item objectid="1" transform="2 0 0 0 3 0 0 0 4 0 0 0"/>`, 24000, 1, mgl64.Vec3{60, 60, 40}},
		{"two objects", o + object3MFOf(7, box(50, 0, 0, 60, 10, 10)), `<item objectid="1"/><item objectid="7"></item>`, 2000, 2, mgl64.Vec3{60, 20, 10}},
		{"components", o + pair, `<item objectid="2" transform="2 0 0 0 2 0 0 0 2 0 0 0"/>`, 16000, 2, mgl64.Vec3{260, 40, 20}},
		{"only the build counts", o + object3MFOf(7, box(50, 0, 0, 60, 10, 10)), `<item objectid="1"/>`, 1000, 1, mgl64.Vec3{30, 20, 10}},
	}
	for _, c := range cases {
		m, h := read(t, "a.3mf", threeMF(model3MF("millimeter", c.resources, c.items)), 0)
		if !near(volume(m.Points, m.Triangles)/c.volume, 1) || h.Shells != c.shells || !h.Closed || h.Inverted > 0 || len(h.Notes) > 0 {
			t.Errorf("%s: volume %g, %s, %q", c.name, volume(m.Points, m.Triangles), h.Line(), h.Notes)
		}
		if h.Box[1].Sub(c.hi).Len() > 1e-9 {
			t.Errorf("%s: box %v", c.name, h.Box)
		}
	}
}

func Test3MFUnits(t *testing.T) {
	for word, mm := range units3MF {
		m, h := read(t, "a.3mf", threeMF(model3MF(word, object3MFOf(1, tetra(30, 20, 10)), `<item objectid="1"/>`)), 0)
		if !near(volume(m.Points, m.Triangles)/(1000*mm*mm*mm), 1) || h.UnitFrom != "file" || h.Unit != unitName(mm) {
			t.Errorf("%s: volume %g, %s", word, volume(m.Points, m.Triangles), h.Unit)
		}
	}
	plain := strings.Replace(model3MF("x", object3MFOf(1, tetra(30, 20, 10)), `<item objectid="1"/>`), ` unit="x"`, "", 1)
	if _, h := read(t, "a.3mf", threeMF(plain), 0); h.Unit != "mm" || h.UnitFrom != "file" {
		t.Errorf("no unit means millimeter: %s", h.Unit)
	}
}

// Prefixed names, support objects, meshes in other parts.
func Test3MFDialects(t *testing.T) {
	model := model3MF("millimeter", object3MFOf(1, tetra(30, 20, 10)), `<item objectid="1"/>`)
	prefixed := strings.NewReplacer("</", "</c:", "<?", "<?", "<!", "<!", "<", "<c:", "xmlns=", "xmlns:c=").Replace(model)
	if m, _ := read(t, "a.3mf", threeMF(prefixed), 0); !near(volume(m.Points, m.Triangles), 1000) {
		t.Errorf("prefixed: %g", volume(m.Points, m.Triangles))
	}
	foreign := strings.Replace(model, "</triangles>", `</triangles><s:triangle v1="9" v2="9" v3="9"/><![CDATA[ <triangle> ]]>`, 1)
	if m, _ := read(t, "a.3mf", threeMF(foreign), 0); len(m.Triangles) != 4 {
		t.Errorf("foreign elements: %d triangles", len(m.Triangles))
	}
	support := strings.Replace(object3MFOf(2, box(0, 0, 0, 1, 1, 1)), `"model"`, `"support"`, 1)
	_, h := read(t, "a.3mf", threeMF(model3MF("millimeter", object3MFOf(1, tetra(30, 20, 10))+support, `<item objectid="2"/><item objectid="1"/>`)), 0)
	if h.Triangles != 4 || len(h.Notes) != 1 || !strings.Contains(h.Notes[0], "1 object that support") {
		t.Errorf("support: %d triangles, %q", h.Triangles, h.Notes)
	}
	top := model3MF("millimeter", `<object id="5"><components><component objectid="1" p:path="/3D/Objects/B.model"/></components></object>`, `<item objectid="5"/>`)
	if m, _ := read(t, "a.3mf", zipped("_rels/.rels", rels, "3D/a.model", top, "3D/objects/b.model", model), 0); !near(volume(m.Points, m.Triangles), 1000) {
		t.Errorf("other part: %g", volume(m.Points, m.Triangles))
	}
	if m, _ := read(t, "a.3mf", zipped("3D/3dmodel.model", model), 0); !near(volume(m.Points, m.Triangles), 1000) {
		t.Errorf("no relationships: %g", volume(m.Points, m.Triangles))
	}
}

func Test3MFErrors(t *testing.T) {
	good := model3MF("millimeter", object3MFOf(1, tetra(30, 20, 10)), `<item objectid="1"/>`)
	for _, k := range []struct{ from, to, word string }{
		{`"millimeter"`, `"cubit"`, `"cubit"`},
		{`<item objectid="1"/>`, ``, "no triangles"},
		{`<item objectid="1"/>`, `<item objectid="2"/>`, `object "2"`},
		{`<item objectid="1"/>`, `<item objectid="1" transform="1 2 3"/>`, "twelve"},
		{`<item objectid="1"/>`, `<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 inf"/>`, "twelve"},
		{`<item objectid="1"/>`, `<item objectid="1" p:path="/x"/>`, "no part x"},
		{`v1="0"`, `v1="4"`, "there are 4"},
		{`v1="0"`, `v1="-1"`, `"-1"`},
		{`v1="0"`, ``, "lacks a corner"},
		{`x="30"`, `x="3O"`, `"3O"`},
		{`x="30"`, ``, "2 coordinates"},
		{`x="30"`, `x="nan"`, `"nan"`},
		{`x="30"`, `x=30`, "not quoted"},
		{`x="30"`, `x`, "without a value"},
		{`</resources>`, `<object id="1"/></resources>`, "two objects"},
		{`<resources>`, `<resources><vertex x="0" y="0" z="0"/>`, "outside an object"},
		{`</build>`, ``, "ends what has not begun"},
		{`</model>`, ``, "cut short"},
		{`</build></model>`, `</build><!--`, "cut short"},
		{`<resources>`, `<!DOCTYPE a [<!ENTITY b "c">]><resources>`, "document type"},
		{`<resources>`, strings.Repeat("<a>", 100) + `<resources>`, "within each other"},
		{`<resources>`, `<a b="` + strings.Repeat(">", 70_000) + `"/><resources>`, "65536 bytes"},
		{`<model `, `<model requiredextensions="b" xmlns:b="http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02" `, "beamlattice"},
		{`<model `, `<house `, "not with a model"},
	} {
		bad := strings.Replace(good, k.from, k.to, 1)
		if bad == good {
			t.Fatalf("%q is not in the text", k.from)
		}
		wrong(t, k.to[:min(len(k.to), 60)], "a.3mf", threeMF(bad), k.word)
	}
	file := threeMF(good)
	wrong(t, "cut short", "a.3mf", file[:len(file)-9], "cannot be unpacked")
	wrong(t, "an archive of something else", "a.zip", zipped("a.txt", "hello"), "no 3MF file")
	wrong(t, "a part that is missing", "a.3mf", zipped("_rels/.rels", rels), "no part 3d/a.model")
	wrong(t, "UTF-16", "a.3mf", threeMF("\xff\xfe<\x00m\x00"), "part")
	cube := strings.Replace(good, `"millimeter"`, `"inch"`, 1)
	top := model3MF("millimeter", "", `<item objectid="1" p:path="/3D/b.model"/>`)
	wrong(t, "two units", "a.3mf", zipped("_rels/.rels", rels, "3D/a.model", top, "3D/b.model", cube), "inch")
}

// Small files that unpack to very much, or ask for very many copies, are refused.
func Test3MFBombs(t *testing.T) {
	cycle := `<object id="1"><components><component objectid="1"/></components></object>`
	wrong(t, "an object in itself", "a.3mf", threeMF(model3MF("inch", cycle, `<item objectid="1"/>`)), "in itself")
	for name, o := range map[string]string{"of a cube": object3MFOf(0, box(0, 0, 0, 1, 1, 1)), "of nothing": `<object id="0"/>`} {
		for i := 1; i < 50; i++ {
			o += fmt.Sprintf(`<object id="%d"><components><component objectid="%d"/><component objectid="%d"/></components></object>`, i, i-1, i-1)
		}
		wrong(t, "2^49 copies "+name, "a.3mf", threeMF(model3MF("inch", o, `<item objectid="49"/>`)), "copies")
	}
	many := strings.Repeat(`<object/>`, mostCopies+1)
	wrong(t, "many objects", "a.3mf", threeMF(model3MF("inch", many, "")), "two objects")
	wrong(t, "many items", "a.3mf", threeMF(model3MF("inch", "", strings.Repeat(`<item objectid="1"/>`, mostCopies+1))), "copies")
}

func Fuzz3MF(f *testing.F) {
	o := object3MFOf(1, tetra(30, 20, 10))
	f.Add(model3MF("inch", o, `<item objectid="1"/>`))
	f.Add(model3MF("micron", o+`<object id="2" type="other"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 100 0 0"/></components></object>`,
		`<item objectid="2"/><item objectid="1" p:path="/3D/a.model"/>`))
	f.Add("<!---->")
	f.Fuzz(func(t *testing.T, model string) {
		r, err := read3MF(threeMF(model))
		var m mesh.Mesh
		var h Health
		if err == nil {
			m, h, err = r.finish("m", 0)
		}
		promises(t, m, h, err)
	})
}

// Whatever the archive, it is read or refused.
func Fuzz3MFArchive(f *testing.F) {
	f.Add(threeMF(model3MF("inch", object3MFOf(1, tetra(30, 20, 10)), `<item objectid="1"/>`)))
	f.Fuzz(func(t *testing.T, src []byte) {
		r, err := read3MF(src)
		if err == nil && len(r.tris) == 0 {
			t.Error("no triangles and no error")
		}
	})
}
