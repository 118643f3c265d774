package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
)

// Format names the form of the JSON results.
const Format = "foldfit-check/1"

// document is the form of the JSON results: every key is always there, null or [] where there is nothing. Lengths mm,
// angles degrees, full double precision, signed angles + toward top.
type document struct {
	Format     string          `json:"format"`
	Foldfit    string          `json:"foldfit"` // version
	Design     string          `json:"design"`
	Verdict    Verdict         `json:"verdict"`
	Foldable   bool            `json:"foldable"`
	Posture    posture         `json:"posture"`
	Place      *[16]num        `json:"place"` // row-major, board to housing frame
	Datum      [2]num          `json:"datum"` // where drawings measure from, flat coordinates
	NotChecked []uncheckedJSON `json:"not_checked"`
	Flats      []flatJSON      `json:"flats"`
	Hinges     []hingeJSON     `json:"hinges"`
	Bends      []bendJSON      `json:"bends"`
	Loops      []loopJSON      `json:"loops"`
	Bodies     []bodyJSON      `json:"bodies"`
	Components []componentJSON `json:"components"`
	Gaps       []gapJSON       `json:"gaps"`
	Targets    []targetJSON    `json:"targets"`
	Motion     *motionJSON     `json:"motion"`
	Findings   []findingJSON   `json:"findings"`
	Postures   []postureJSON   `json:"postures"` // all that were checked
	Notes      []string        `json:"notes"`
}

type uncheckedJSON struct {
	What string   `json:"what"`
	On   []string `json:"on"`
	Why  string   `json:"why"`
}

type flatJSON struct {
	Name      string   `json:"name"`
	Sections  []string `json:"sections"`
	Area      num      `json:"area"`
	Inside    [2]num   `json:"inside"`
	Parent    *string  `json:"parent"`
	Bend      *string  `json:"bend"`
	Side      *string  `json:"side"`
	Bodies    []string `json:"bodies"`
	Transform [16]num  `json:"transform"` // row-major, flat to board coordinates
}

type bendJSON struct {
	Name         string      `json:"name"`
	Hinge        string      `json:"hinge"`
	Near         []string    `json:"near"`
	Far          []string    `json:"far"`
	Lines        [][2][2]num `json:"lines"`
	Origin       [2]num      `json:"origin"`
	Direction    [2]num      `json:"direction"`
	Width        num         `json:"width"`
	Height       num         `json:"height"`
	Faces        [2]num      `json:"faces"`
	Area         num         `json:"area"`
	Thickness    num         `json:"thickness"`
	Ratio        num         `json:"ratio"`         // as copper_strain that of the free shape where the flex is left to take it
	InsideRadius num         `json:"inside_radius"` // as drawn
	CopperStrain *num        `json:"copper_strain"`
}

type loopJSON struct {
	Bend   string `json:"bend"`
	Flat   string `json:"flat"`
	Off    num    `json:"off"`
	Turn   num    `json:"turn"`
	Along  num    `json:"along"`
	Across num    `json:"across"`
	Tilt   num    `json:"tilt"`
	Twist  num    `json:"twist"`
	Limit  struct {
		Gap   num `json:"gap"`
		Angle num `json:"angle"`
	} `json:"limit"`
}

type bodyJSON struct {
	Name   string  `json:"name"`
	Kind   string  `json:"kind"`
	Flat   *string `json:"flat"`
	Bend   *string `json:"bend"`
	Area   num     `json:"area"`
	Volume num     `json:"volume"`
	Faces  [2]num  `json:"faces"`
}

type componentJSON struct {
	Name      string  `json:"name"`
	Flat      *string `json:"flat"`
	Bend      *string `json:"bend"`
	Transform [16]num `json:"transform"` // row-major, flat to board coordinates
}

type gapJSON struct {
	Between  [2]string  `json:"between"`
	Kind     string     `json:"kind"`
	Gap      num        `json:"gap"`
	GapLow   num        `json:"gap_low"`
	GapFlat  *num       `json:"gap_flat"`
	Required num        `json:"required"`
	Judged   bool       `json:"judged"`
	At       [2][3]num  `json:"at"`
	Posture  string     `json:"posture"`
	Seat     *string    `json:"seat"`     // the seat at which it was measured, across the board
	Step     *int       `json:"step"`     // of the motion, from 1; null at rest
	Progress *num       `json:"progress"` // in that step, 0 to 1
	Worth    *worthJSON `json:"worth"`    // null where it cannot be told
}

type findingJSON struct {
	Rule       string          `json:"rule"`
	Severity   string          `json:"severity"`
	On         []string        `json:"on"`
	Posture    string          `json:"posture"`
	At         *[2]num         `json:"at"`
	File       string          `json:"file"`
	Line       int             `json:"line"`
	Column     int             `json:"column"`
	Value      *num            `json:"value"`
	Limit      *num            `json:"limit"`
	Margin     *num            `json:"margin"` // below zero: what is missing to the limit
	Unit       string          `json:"unit"`
	Message    string          `json:"message"`
	Hint       string          `json:"hint"`
	Source     string          `json:"source"`
	Concession *concessionJSON `json:"concession"` // set where one accepts the finding
}

type concessionJSON struct {
	DownTo  *num   `json:"down_to"`
	Because string `json:"because"`
	By      string `json:"by"`
}

type postureJSON struct {
	Name   string  `json:"name"`
	Angles posture `json:"angles"`
}

// JSON writes the results of a check for programs: one key or one list item a line, keys in a fixed order. A number that
// is not finite is an error, since none of the results may be.
func JSON(w io.Writer, r Run) error { return writeObject(w, r.document()) }

// writeObject writes a struct as a JSON object, one key or one list item a line.
func writeObject(w io.Writer, object any) error {
	var out bytes.Buffer
	doc := reflect.ValueOf(object)
	out.WriteString("{")
	for i := range doc.NumField() {
		if i > 0 {
			out.WriteString(",")
		}
		key := doc.Type().Field(i).Tag.Get("json")
		fmt.Fprintf(&out, "\n%q: ", key)
		if err := writeValue(&out, doc.Field(i)); err != nil {
			return fmt.Errorf("%s: %w", key, err)
		}
	}
	out.WriteString("\n}\n")
	_, err := w.Write(out.Bytes())
	return err
}

// writeValue writes v, a list with one item a line.
func writeValue(out *bytes.Buffer, v reflect.Value) error {
	if v.Kind() != reflect.Slice || v.Len() == 0 {
		return encode(out, v.Interface())
	}
	for i := range v.Len() {
		out.WriteString([]string{",\n  ", "[\n  "}[btoi(i == 0)])
		if err := encode(out, v.Index(i).Interface()); err != nil {
			return err
		}
	}
	out.WriteString("\n]")
	return nil
}

func btoi(b bool) int {
	if b {
		return 1
	}
	return 0
}

// encode writes one value on one line, nil lists as [].
func encode(out *bytes.Buffer, v any) error {
	enc := json.NewEncoder(out)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	out.Truncate(out.Len() - 1) // the encoder's line break
	return nil
}
